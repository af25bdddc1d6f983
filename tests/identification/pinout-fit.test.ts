import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ALTERNATIVE_SHARES,
  type Arrangement,
  arrangementOfPart,
  arrangementsOf,
  BACKGROUND,
  CLASS_PINOUTS,
  PINOUT_CLASSES,
  SURROUNDINGS,
  type Surrounding,
} from '../../src/classes/class-pinouts.ts';
import type { CluePin, NetClues } from '../../src/classes/net-clues.ts';
import { numberingsOf } from '../../src/classes/numberings.ts';
import { classFitOf, fitOf } from '../../src/classes/pinout-fit.ts';
import { pinSchema } from '../../src/model/net.ts';

/** Pins that hang on one thing each, numbered from 1; undefined where no net was seen. */
function clues(
  on: readonly (Surrounding | undefined)[],
  more: Partial<NetClues> & { readonly volts?: readonly (number | undefined)[] } = {},
): NetClues {
  const { volts = [], ...rest } = more;
  const pins = on.flatMap((one, at): CluePin[] =>
    one ? [{ label: String(at + 1), net: `n${at}`, may: [one], volts: volts[at] }] : [],
  );
  return { pins, terminals: on.length, package: 'SOT-23-5', seenBy: 'numbered', met: () => [], ...rest };
}

const REGULATOR: readonly Surrounding[] = ['rail', 'ground', 'signal', 'capacitor', 'rail'];

describe('the data', () => {
  test('every role and the background are distributions; every arrangement has roles', () => {
    expect(BACKGROUND.reduce((a, b) => a + b)).toBeCloseTo(1, 12);
    for (const { any, orders, is } of CLASS_PINOUTS) {
      expect(
        any.reduce((sum, { share }) => sum + share, 0),
        is,
      ).toBeCloseTo(1, 12);
      for (const { role } of any)
        expect(
          role.on.reduce((a, b) => a + b),
          role.id,
        ).toBeCloseTo(1, 12);
      expect(
        orders.reduce((sum, { share }) => sum + share, 0),
        is,
      ).toBeLessThanOrEqual(1);
    }
    expect(PINOUT_CLASSES.length).toBeGreaterThan(50);
  });

  test('an arrangement counts for its number of pins and package, one pin more for an exposed pad', () => {
    const names = (pins: number, body?: string) =>
      arrangementsOf('FlashMemory', pins, body).map(({ is }) => is);
    expect(names(8, 'SOIC-8')).toEqual(['serial memory']);
    expect(names(9, 'WSON-8')).toEqual(['serial memory']);
    expect(names(14, 'LGA-14')).toEqual([]);
    // A kind without arrangements of its own has those of the kind above.
    expect(arrangementsOf('Gyroscope', 14, 'LGA-14').map(({ is }) => is)).toEqual(['motion sensor']);
    expect(arrangementsOf('Resistor', 2, '0402')).toEqual([]);
  });
});

describe('numberings', () => {
  /** Pads of a package on a drawing: number and place, counted counter-clockwise from the left end of the lower side. */
  function drawing(sides: readonly number[]): readonly (readonly [x: number, y: number])[] {
    const place = (side: number, at: number, of: number): readonly [number, number] => {
      const along = at - (of - 1) / 2;
      if (sides.length === 2) return side === 0 ? [along, -10] : [-along, 10];
      return (
        [
          [along, -10],
          [10, along],
          [-along, 10],
          [-10, -along],
        ] as const
      )[side];
    };
    return sides.flatMap((of, side) => Array.from({ length: of }, (_, at) => place(side, at, of)));
  }
  const turn = ([x, y]: readonly [number, number], quarters: number): readonly [number, number] =>
    quarters === 0 ? [x, y] : turn([-y, x], quarters - 1);
  const flip = ([x, y]: readonly [number, number]): readonly [number, number] => [-x, y];

  /**
   * What a reader calls 1, 2, 3 … in the maker's numbers, when the package lies turned and perhaps upside down and he counts as if
   * it did not; undefined where the pads then do not lie where they should.
   */
  function misread(sides: readonly number[], quarters: number, mirrored: boolean): string | undefined {
    const pads = drawing(sides);
    const lying = pads.map((pad) => turn(mirrored ? flip(pad) : pad, quarters));
    const numbers = pads.map(([x, y]) =>
      lying.findIndex(([a, b]) => Math.abs(a - x) < 1e-9 && Math.abs(b - y) < 1e-9),
    );
    return numbers.includes(-1) ? undefined : numbers.map((at) => at + 1).join(' ');
  }

  test.each([
    ['SOT-23', [2, 1]],
    ['SOT-23-5', [3, 2]],
    ['SOT-23-6', [3, 3]],
    ['SOIC-8', [4, 4]],
    ['QFN-16', [4, 4, 4, 4]],
    ['LQFP-48', [12, 12, 12, 12]],
  ])(
    'of %s are those of the drawing turned and flipped (geometry; JEDEC counting, common practice)',
    (body, sides) => {
      const count = sides.reduce((a, b) => a + b);
      const labels = Array.from({ length: count }, (_, at) => String(at + 1));
      // Two and one, three and two leads: pads of the short side do not meet those of the long one, so spread them alike.
      const expected = new Set<string>();
      for (const quarters of [0, 1, 2, 3])
        for (const mirrored of [false, true]) {
          const read = misread(sides, quarters, mirrored);
          if (read !== undefined) expected.add(read);
        }
      const found = numberingsOf(labels, body, 'numbered');
      const drawn = found
        .filter(({ kind }) => kind !== 'reversed')
        .map(({ to }) => labels.map((one) => to.get(one)).join(' '));
      expect(new Set(drawn)).toEqual(expected);
      expect(found.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
      expect(found[0].kind).toBe('as-is');
    },
  );

  test('a grid is turned and mirrored by rows and columns; names stand for themselves', () => {
    const found = numberingsOf(['A1', 'A2', 'B1', 'B2', 'SDA'], undefined, 'x-ray');
    const read = found.map(({ to }) => ['A1', 'A2', 'B1', 'B2', 'SDA'].map((one) => to.get(one)).join(' '));
    // The eight symmetries of a square.
    expect(new Set(read).size).toBe(8);
    for (const one of read) expect(one.endsWith(' SDA')).toBe(true);
    expect(found.find(({ kind }) => kind === 'as-is')?.share).toBeCloseTo(
      ALTERNATIVE_SHARES['x-ray']['as-is'] / (1 - ALTERNATIVE_SHARES['x-ray'].reversed),
      12,
    );
  });
});

describe('the fit', () => {
  const small: Arrangement = arrangementsOf('LinearRegulator', 5, 'SOT-23-5')[0];
  const surrounding = fc.constantFrom(...SURROUNDINGS);

  test('is the sum over orders, numberings and "some other order" (brute force, no pair of supplies compared)', () => {
    const plain = { ...small, pair: undefined };
    const at = (one: Surrounding) => SURROUNDINGS.indexOf(one);
    fc.assert(
      fc.property(
        fc.array(fc.option(surrounding, { nil: undefined }), { minLength: 5, maxLength: 5 }),
        (on) => {
          // Pins of SOT-23-5 as they are, and seen from the other side: 3 2 1 below, 5 4 above.
          const ways = [
            { share: 0.9 / 0.93, to: [1, 2, 3, 4, 5] },
            { share: 0.03 / 0.93, to: [3, 2, 1, 5, 4] },
          ];
          let sum = 0;
          for (const { share, roles } of plain.orders)
            for (const way of ways) {
              const product = on.reduce((p, one, i) => {
                if (!one) return p;
                const role = roles.get(String(way.to[i]));
                return p * ((role?.on[at(one)] ?? 0) / BACKGROUND[at(one)]) ** 0.7;
              }, 1);
              sum += share * way.share * product;
            }
          const mixed = on.reduce((p, one) => {
            if (!one) return p;
            const mass = plain.any.reduce((m, { role, share }) => m + share * role.on[at(one)], 0);
            return p * (mass / BACKGROUND[at(one)]) ** 0.7;
          }, 1);
          sum += (1 - plain.orders.reduce((s, { share }) => s + share, 0)) * mixed;
          expect(fitOf(clues(on), plain).log).toBeCloseTo(Math.log(sum), 9);
        },
      ),
      { numRuns: 300 },
    );
  });

  test('of a reading upside down is worse by the price of turning at most, and says so', () => {
    const upright: readonly Surrounding[] = [
      'feedback',
      'feedback',
      'divider',
      'ground',
      'divider',
      'feedback',
      'feedback',
      'rail',
    ];
    const turned = [...upright.slice(4), ...upright.slice(0, 4)];
    const [pair] = arrangementsOf('OperationalAmplifier', 8, 'SOIC-8');
    const body = { package: 'SOIC-8' };
    const [good, bad] = [fitOf(clues(upright, body), pair), fitOf(clues(turned, body), pair)];
    expect(bad.log).toBeLessThan(good.log);
    expect(good.log - bad.log).toBeLessThan(Math.log(0.9 / 0.05) + 0.1);
    expect(bad.says()).toContain('its numbers turned');
    expect(good.says()).not.toContain('turned');
  });

  test('a pin more that fits whichever way the package lies never lowers a class', () => {
    const fitting = CLASS_PINOUTS.filter(({ pair }) => !pair).flatMap((arrangement) => {
      const all = [
        ...arrangement.any.map(({ role }) => role),
        ...arrangement.orders.flatMap(({ roles }) => [...roles.values()]),
      ];
      return SURROUNDINGS.filter((_, at) => all.every(({ on }) => on[at] >= BACKGROUND[at])).map((one) => ({
        arrangement,
        one,
      }));
    });
    expect(fitting.length).toBeGreaterThan(5);
    fc.assert(
      fc.property(
        fc.constantFrom(...fitting),
        fc.array(surrounding, { maxLength: 6 }),
        ({ arrangement, one }, some) => {
          // As many pins as such a part has, all others not seen yet.
          const [total] = arrangement.pins;
          const others = some.slice(0, total - 1);
          const unseen = (count: number) => Array.from({ length: count }, () => undefined);
          const before = clues([...others, ...unseen(total - others.length)]);
          const after = clues([...others, one, ...unseen(total - others.length - 1)]);
          expect(fitOf(after, arrangement).log).toBeGreaterThanOrEqual(fitOf(before, arrangement).log - 1e-9);
        },
      ),
      { numRuns: 500 },
    );
  });

  test('a pin more in its own place never lowers a class, in whatever order the pins of a regulator come to light', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([0, 1, 2, 3, 4], { minLength: 5 }), (order) => {
        const plain = { ...small, pair: undefined };
        let before = Number.NEGATIVE_INFINITY;
        for (let known = 0; known <= 5; known++) {
          const seen = new Set(order.slice(0, known));
          const { log } = fitOf(clues(REGULATOR.map((one, at) => (seen.has(at) ? one : undefined))), plain);
          expect(log).toBeGreaterThanOrEqual(before - 1e-9);
          before = log;
        }
      }),
    );
  });

  test('voltages tell a regulator from a load switch of the same pins', () => {
    const of = (term: string, volts: readonly (number | undefined)[]) =>
      classFitOf(clues(REGULATOR, { volts }), term)?.log ?? 0;
    const down = [5, 0, undefined, undefined, 3.3];
    const same = [3.3, 0, undefined, undefined, 3.3];
    expect(of('LinearRegulator', down)).toBeGreaterThan(of('LoadSwitch', down) + 0.5);
    expect(of('LoadSwitch', same)).toBeGreaterThan(of('LinearRegulator', same) + 0.5);
  });

  test('says which pins fit, which do not, and what for', () => {
    const [arrangement] = arrangementsOf('LinearRegulator', 5, 'SOT-23-5');
    expect(fitOf(clues(['rail', 'ground', undefined, 'capacitor', 'rail']), arrangement).says()).toBe(
      'pins 1, 2, 4 and 5 fit a linear regulator: input supply, ground, bypass capacitor or open, output supply',
    );
    expect(fitOf(clues(['rail', 'ground', 'spi', undefined, 'rail']), arrangement).says()).toContain(
      '; not pin 3 (SPI)',
    );
  });
});

describe('a pinout of the catalogue', () => {
  const pinout = [
    ...['supply-input', 'ground', 'data', 'data', 'interrupt', 'not-connected', 'bypass', 'enable'].map(
      (one, at) => pinSchema.parse({ number: at + 1, function: one }),
    ),
  ];
  const own = arrangementOfPart('X', pinout, 8);
  const fitting: readonly Surrounding[] = [
    'rail',
    'ground',
    'i2c',
    'i2c',
    'signal',
    'unconnected',
    'capacitor',
    'pull-up',
  ];

  test('weighs for the part when the pins fit, turned too, and against it when they do not', () => {
    const body = { package: 'DFN-8' };
    const upright = fitOf(clues(fitting, body), own).log;
    const turned = fitOf(clues([...fitting.slice(4), ...fitting.slice(0, 4)], body), own).log;
    const wrong = fitOf(
      clues(['spi', 'battery', 'ground', 'crystal', 'load', 'rail', 'usb', 'ground'], body),
      own,
    ).log;
    expect(upright).toBeGreaterThan(turned);
    expect(turned).toBeGreaterThan(1);
    expect(wrong).toBeLessThan(-1);
  });

  test('pins known by name alone count by name; pins that nobody told apart count as any of the part', () => {
    const named = arrangementOfPart(
      'Y',
      [pinSchema.parse({ name: 'VDD', function: 'supply-input' })],
      undefined,
    );
    const pin = (label: string | undefined, may: Surrounding) => ({
      label,
      net: 'n',
      may: [may],
      volts: undefined,
    });
    const of = (one: CluePin) => fitOf({ ...clues([]), terminals: 4, pins: [one] }, named).log;
    expect(of(pin('VDD', 'rail'))).toBeGreaterThan(0.5);
    expect(of(pin('VDD', 'spi'))).toBeLessThan(0);
    expect(of(pin(undefined, 'rail'))).toBeGreaterThan(0.5);
  });
});

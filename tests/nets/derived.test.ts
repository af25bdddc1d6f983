import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { COLLECTIONS } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { type DerivedNets, derivedNets } from '../../src/nets/nets.ts';
import { generateBoardCatalogue, generateBoards } from '../bench/generate-boards.ts';
import { liveOf } from '../state/archive-of.ts';

// What follows from nets, against other ways to find it: every simple path tried, and the circuit as it was drawn.

const by = { actor: 'test', reason: 'nets' };

function derivedOf(dossier: Dossier, catalogue?: ReturnType<typeof generateBoardCatalogue>): DerivedNets {
  const records = catalogue
    ? COLLECTIONS.flatMap((collection) =>
        catalogue[collection].map(
          (record) => ({ ...by, kind: 'record-put', payload: { collection, record } }) as const,
        ),
      )
    : [];
  const state = liveOf([...records, { ...by, kind: 'dossier-put', payload: dossier }]).state(
    'desk',
    '2026-06-01T00:00:00Z',
  );
  const [row] = state.specimenRows();
  return derivedNets(state.peek(row), (part) => state.part(part));
}

/** A specimen of components with what they plainly are, and nets of a kind. */
function bench(
  components: readonly (readonly [id: string, appears: string])[],
  nets: readonly (readonly [kind: 'signal' | 'power' | 'ground', ...pins: string[]])[],
): Dossier {
  return dossierSchema.parse({
    caseback: 'dossier/1',
    device: { id: 'd', name: 'D', maker: 'm', released: '2020', bodySite: 'wrist' },
    specimen: { id: 'a' },
    teardown: { on: '2021', by: 'test' },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: components.map(([id, appears]) => ({ id, board: 'main', appears })),
    nets: nets.map(([kind, ...pins], i) => ({ id: `n${i}`, kind, pins })),
  });
}

test('a trace beside the nets that show it changes nothing, and lines that they do not show are added', () => {
  const drawn = bench(
    [
      ['U1', 'Microcontroller'],
      ['U2', 'FlashMemory'],
      ['U3', 'LinearRegulator'],
      ['R1', 'Resistor'],
    ],
    [
      ['signal', 'U1.MOSI', 'U2.MOSI'],
      ['signal', 'U1.MISO', 'R1.1'],
      ['signal', 'R1.2', 'U2.MISO'],
      ['power', 'U3.OUT', 'U1.VDD', 'U2.VCC'],
      ['ground', 'U1.GND', 'U2.GND', 'U3.GND'],
    ],
  );
  const trace = (a: string, b: string, rest: object) => ({
    between: [a, b] as [string, string],
    medium: 'trace' as const,
    basis: [],
    ...rest,
  });
  const told = (dossier: Dossier) => {
    const { feeds, paths, buses } = derivedOf(dossier);
    return { feeds, paths, buses };
  };
  const alone = told(drawn);
  expect(alone.paths.map(({ lines }) => lines)).toContain(2);
  const same = [
    trace('U1', 'U2', { lines: 2 }),
    trace('U1', 'R1', {}),
    trace('R1', 'U2', {}),
    trace('U3', 'U1', { bus: 'power' }),
  ];
  expect(told({ ...drawn, connections: same })).toEqual(alone);
  const more = told({ ...drawn, connections: [trace('U1', 'U2', { lines: 4 })] });
  expect(more.paths.reduce((sum, { lines }) => sum + lines, 0)).toBe(4);
});

describe('signal paths of random circuits', () => {
  const CHIPS = ['Accelerometer', 'Memory', 'Comparator'] as const;
  const circuit = fc
    .record({
      chips: fc.array(fc.constantFrom(...CHIPS), { minLength: 2, maxLength: 4 }),
      passives: fc.array(fc.constantFrom('Resistor', 'Capacitor', 'FerriteBead'), { maxLength: 4 }),
      nets: fc.integer({ min: 2, max: 6 }),
      picks: fc.array(fc.nat(), { minLength: 40, maxLength: 40 }),
      ground: fc.boolean(),
    })
    .map(({ chips, passives, nets, picks, ground }) => {
      let at = 0;
      const pick = () => picks[at++ % picks.length] % nets;
      const ids: (readonly [string, string])[] = [
        ...chips.map((kind, i) => [`U${i + 1}`, kind] as const),
        ...passives.map((kind, i) => [`R${i + 1}`, kind] as const),
      ];
      const on = Array.from({ length: nets }, () => [] as string[]);
      for (const [id] of ids) {
        // Each pin on a net of its own choice; a passive may sit with both on one.
        for (let pin = 1; pin <= 2; pin++) on[pick()].push(`${id}.${pin}`);
      }
      const kinds = on.map((_, i) => (ground && i === 0 ? ('ground' as const) : ('signal' as const)));
      return { ids, on, kinds };
    });

  /** All ways from net to net through two-ended parts, no part twice, by trying every one. */
  function joinedByHand(
    on: readonly (readonly string[])[],
    kinds: readonly string[],
    ids: readonly (readonly [string, string])[],
  ) {
    const netsOf = (id: string) =>
      on.flatMap((pins, i) => (pins.some((pin) => pin.startsWith(`${id}.`)) ? [i] : []));
    const chips = ids.map(([id]) => id).filter((id) => id.startsWith('U'));
    const passes = ids
      .map(([id]) => id)
      .filter(
        (id) =>
          id.startsWith('R') && netsOf(id).length === 2 && netsOf(id).every((net) => kinds[net] === 'signal'),
      )
      // A part between two pins of one chip sets its gain.
      .filter((id) => !chips.some((chip) => netsOf(id).every((net) => netsOf(chip).includes(net))));
    const lines = new Map<number, Set<number>>();
    const walk = (net: number, used: readonly string[], seen: Set<number>) => {
      seen.add(net);
      for (const part of passes) {
        const [a, b] = netsOf(part);
        if (used.includes(part) || (a !== net && b !== net)) continue;
        walk(a === net ? b : a, [...used, part], seen);
      }
      return seen;
    };
    on.forEach((_, net) => {
      if (kinds[net] === 'signal') lines.set(net, walk(net, [], new Set()));
    });
    const found = new Set<string>();
    for (const reached of lines.values()) {
      const met = chips.filter((chip) => netsOf(chip).some((own) => reached.has(own)));
      // A line without a leader joins up to four chips with each other.
      if (met.length > 4) continue;
      for (const a of met) for (const b of met) if (a < b) found.add(`${a} ${b}`);
    }
    return [...found].sort();
  }

  test('are those found by trying every way', () => {
    fc.assert(
      fc.property(circuit, ({ ids, on, kinds }) => {
        const nets = on.flatMap((pins, i) =>
          pins.length > 0 ? [[kinds[i], ...new Set(pins)] as const] : [],
        );
        const { paths } = derivedOf(bench(ids, nets));
        expect([...new Set(paths.map(({ ends }) => ends.join(' ')))].sort()).toEqual(
          joinedByHand(on, kinds, ids),
        );
      }),
      { numRuns: 200 },
    );
  });
});

/** Ends of paths with bus, lines and what they pass. */
const pathsOf = (dossier: Dossier) =>
  derivedOf(dossier)
    .paths.map(
      ({ ends, bus, lines, through }) => `${ends.join('-')} ${bus ?? '?'} ${lines} ${through.join(' ')}`,
    )
    .sort();

describe('lines of a path', () => {
  const pair = (...second: readonly (readonly ['signal', ...string[]])[]) =>
    bench(
      [
        ['U1', 'Microcontroller'],
        ['U2', 'Accelerometer'],
        ['R5', 'Resistor'],
        ['R6', 'Resistor'],
      ],
      [['signal', 'U1.SCL', 'R5.1'], ['signal', 'R5.2', 'U2.SCL'], ...second],
    );

  test('what each passes is named', () => {
    const { paths } = derivedOf(pair(['signal', 'U1.SDA', 'R6.1'], ['signal', 'R6.2', 'U2.SDA']));
    expect(paths).toMatchObject([
      {
        lines: 2,
        through: ['R5', 'R6'],
        ways: [
          { lines: 1, through: ['R5'] },
          { lines: 1, through: ['R6'] },
        ],
      },
    ]);
  });

  test('a direct one passes nothing', () => {
    const { paths } = derivedOf(pair(['signal', 'U1.SDA', 'U2.SDA']));
    expect(paths).toMatchObject([
      {
        lines: 2,
        through: ['R5'],
        ways: [
          { lines: 1, through: [] },
          { lines: 1, through: ['R5'] },
        ],
      },
    ]);
  });
});

// Pin names and circuits of a radio's antenna as common practice has them, no source.
describe('the line of an antenna', () => {
  const radio = (
    parts: readonly (readonly [string, string])[],
    ...nets: readonly (readonly ['signal', ...string[]])[]
  ) => pathsOf(bench([['U1', 'BluetoothRadio'], ['AE1', 'ChipAntenna'], ...parts], nets));

  test.each([
    ['RX', 'Coil'],
    ['RXD', 'Coil'],
    ['TX', 'PrintedAntenna'],
    ['SDA', 'Electrode'],
  ])('a pin called %s at a %s is none of a bus', (pin, what) => {
    const drawn = bench(
      [
        ['U1', 'NearFieldRadio'],
        ['AE1', what],
        ['R1', 'Resistor'],
      ],
      [
        ['signal', `U1.${pin}`, 'R1.1'],
        ['signal', 'R1.2', 'AE1.1'],
      ],
    );
    expect(pathsOf(drawn)).toEqual(['AE1-U1 ? 1 R1']);
  });

  test('a balun passes both lines of a balanced radio', () => {
    expect(
      radio(
        [
          ['T1', 'Balun'],
          ['L1', 'Inductor'],
        ],
        ['signal', 'U1.RFP', 'T1.3'],
        ['signal', 'U1.RFN', 'T1.4'],
        ['signal', 'T1.1', 'L1.1'],
        ['signal', 'L1.2', 'AE1.1'],
      ),
    ).toEqual(['AE1-U1 ? 1 T1 L1']);
  });

  test('the port of a diplexer that is called so, or that alone leads to the antenna, passes to the others', () => {
    for (const [low, high, common] of [
      ['LOW', 'HIGH', 'ANT'],
      ['1', '2', '3'],
    ])
      expect(
        radio(
          [
            ['U2', 'SatelliteReceiver'],
            ['FL1', 'Filter'],
            ['C1', 'Capacitor'],
          ],
          ['signal', 'U1.RF', `FL1.${low}`],
          ['signal', 'U2.RF_IN', `FL1.${high}`],
          ['signal', `FL1.${common}`, 'C1.1'],
          ['signal', 'C1.2', 'AE1.1'],
        ),
      ).toEqual(['AE1-U1 ? 1 FL1 C1', 'AE1-U2 ? 1 FL1 C1']);
  });
});

describe('the supply of a core', () => {
  // A pin on a rail of another chip draws from it, though others hold their core with a capacitor alone (common practice, no source).
  const core = (what: string, pin: string) =>
    derivedOf(
      bench(
        [
          ['U1', what],
          ['U2', 'BuckConverter'],
          ['L1', 'Inductor'],
          ['C1', 'Capacitor'],
        ],
        [
          ['power', 'U2.VIN'],
          ['power', 'U1.VDD'],
          ['signal', 'U2.SW', 'L1.1'],
          ['power', 'L1.2', 'U2.FB', 'C1.1', `U1.${pin}`],
        ],
      ),
    ).feeds.map(({ source, load }) => `${source} ${load}`);

  test.each([
    ['ApplicationProcessor', 'VCORE'],
    ['ApplicationProcessor', 'VGPU'],
    ['Microcontroller', 'VCORE'],
    ['Microcontroller', 'CORE_VDD'],
    ['BluetoothRadio', 'VPA'],
    ['RandomAccessMemory', 'VDDQ1'],
    ['ProgrammableLogic', 'PLLVCC'],
  ])('%s draws at %s from the converter whose rail it is on', (what, pin) => {
    expect(core(what, pin)).toContain('U2 U1');
  });

  test.each(['VSYNC', 'VALID', 'VMON', 'VCTRL', 'VBAT_SENSE', 'VCORE_EN'])('none draws at %s', (pin) => {
    expect(core('Microcontroller', pin)).not.toContain('U2 U1');
  });
});

describe('feeding on generated boards', () => {
  const catalogue = generateBoardCatalogue();

  test.each([1, 2, 3, 4, 5, 6])(
    'seed %i: every supply pin is fed by what was drawn to make its rail',
    (seed) => {
      const dossier = generateBoards({ components: 60 + 60 * seed, seed });
      const { feeds } = derivedOf(dossier, catalogue);
      const nameOf = new Map<string, string>();
      for (const { id, pinout = [] } of dossier.components)
        for (const { number, name } of pinout) nameOf.set(`${id}.${number}`, name ?? number ?? '');
      const kindOf = new Map(
        dossier.identifications.map(({ component, candidates }) => [
          component,
          catalogue.parts.find(({ maker, number }) => `${maker}/${number}` === candidates[0].part)
            ?.categories[0],
        ]),
      );
      const MAKES: Readonly<Record<string, readonly string[]>> = {
        LinearRegulator: ['OUT'],
        LoadSwitch: ['OUT'],
        Charger: ['SYS', 'BAT'],
        BoostConverter: ['OUT', 'VOUT'],
      };
      // Nets of one label are one rail: the generator joins them through mated connectors.
      const rails = Map.groupBy(
        (dossier.nets ?? []).filter(({ kind }) => kind === 'power'),
        ({ label }) => label,
      );
      const inductors = new Map<string, readonly string[]>();
      for (const { id } of dossier.components)
        if (/(?:^|:)L\d/u.test(id))
          inductors.set(
            id,
            (dossier.nets ?? [])
              .filter(({ pins }) => pins.some((pin) => pin.startsWith(`${id}.`)))
              .map((net) => net.id),
          );
      let checked = 0;
      for (const [, nets] of rails) {
        const pins = nets.flatMap((net) => net.pins);
        const sources = new Set(
          pins.flatMap((pin) => {
            const component = pin.slice(0, pin.indexOf('.'));
            const kind = kindOf.get(component) ?? '';
            if (MAKES[kind]?.includes(nameOf.get(pin) ?? '')) return [component];
            // Behind an inductor whose other end is the switch node of a step-down.
            const ends = inductors.get(component);
            if (!ends) return [];
            const node = (dossier.nets ?? []).find(
              ({ id }) => ends.includes(id) && !nets.some((net) => net.id === id),
            );
            return (node?.pins ?? []).flatMap((one) => {
              const other = one.slice(0, one.indexOf('.'));
              return kindOf.get(other) === 'BuckConverter' && nameOf.get(one) === 'SW' ? [other] : [];
            });
          }),
        );
        const loads = pins.filter(
          (pin) =>
            /^V(?:DD|IN|CC)/u.test(nameOf.get(pin) ?? '') && kindOf.has(pin.slice(0, pin.indexOf('.'))),
        );
        for (const pin of loads) {
          const load = pin.slice(0, pin.indexOf('.'));
          for (const source of sources) {
            if (source === load) continue;
            checked++;
            expect(
              feeds.some((feed) => feed.source === source && feed.load === load),
              `${source} feeds ${load} at ${pin}`,
            ).toBe(true);
          }
        }
      }
      expect(checked).toBeGreaterThan(10);
    },
  );

  test('edges grow with the pins: a rail of hundreds of pins makes no pairs', () => {
    const ratios = [100, 1000, 3000].map((components) => {
      const dossier = generateBoards({ components, seed: 9 });
      const pins = (dossier.nets ?? []).reduce((sum, net) => sum + net.pins.length, 0);
      const { sharedNets, feeds, paths, buses } = derivedOf(dossier, catalogue);
      return (sharedNets.length + feeds.length + paths.length + buses.length) / pins;
    });
    expect(Math.max(...ratios)).toBeLessThan(1);
    const rail = Array.from({ length: 200 }, (_, i) => `C${i + 1}.1`);
    const { sharedNets, feeds } = derivedOf(
      bench(
        [...rail.map((pin) => [pin.slice(0, -2), 'Capacitor'] as const), ['U1', 'LinearRegulator']],
        [['power', 'U1.5', ...rail]],
      ),
    );
    expect([sharedNets.length, feeds.length]).toEqual([0, 0]);
    const wide = derivedOf(
      bench(
        rail.map((pin) => [pin.slice(0, -2), 'Accelerometer'] as const),
        [['signal', ...rail]],
      ),
    );
    expect(wide.sharedNets.length).toBeLessThanOrEqual(24 * 200);
  });
});

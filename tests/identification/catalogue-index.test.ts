import fc from 'fast-check';
import { distance } from 'fastest-levenshtein';
import { describe, expect, test } from 'vitest';
import { alignmentOf } from '../../src/identification/alignment.ts';
import { CatalogueIndex, type IndexedPart, isRead } from '../../src/identification/catalogue-index.ts';
import { fixedOf } from '../../src/identification/catalogue-trie.ts';
import { ALPHABET, parseConfusion, STANDARD_CONFUSION } from '../../src/identification/confusion.ts';
import { lineOrdersOf } from '../../src/identification/line-orders.ts';
import { alignedRow, BAND, CHANCE, prepare, type Reading } from '../../src/identification/marking-model.ts';
import { parseTemplate } from '../../src/identification/template.ts';
import { type MarkingText, parseMarking } from '../../src/model/marking.ts';

const PARTS = [
  { id: 'a/QWR4T10', number: 'QWR4T10', markings: ['QWR4T10\n{lot:3}{date:YWW}'] },
  { id: 'a/QWR4T18', number: 'QWR4T18', markings: ['QWR4T18\n{lot:3}{date:YWW}'] },
  { id: 'b/OS7', number: 'OS7', markings: ['OS7*'] },
  { id: 'c/ZB20', number: 'ZB20', markings: [] },
];
const index = new CatalogueIndex(PARTS, STANDARD_CONFUSION);
const best = (written: string) => index.search(parseMarking(written)).map(({ part }) => part);

describe('search', () => {
  test('a clean reading finds its part first', () => {
    expect(best('QWR4T10\nK7A352')[0]).toBe('a/QWR4T10');
  });
  test('a reader who stopped after the first line still finds it', () => {
    expect(best('QWR4T10')[0]).toBe('a/QWR4T10');
  });
  test('characters that eyes confuse cost little: 0/O, 8/B', () => {
    expect(best('QWR4TIO')[0]).toBe('a/QWR4T10');
    expect(best('QWR4T1B')[0]).toBe('a/QWR4T18');
  });
  test('an unread last digit leaves both parts, equally likely', () => {
    const [first, second] = index.search(parseMarking('QWR4T1?'));
    expect([first.part, second.part].sort()).toEqual(['a/QWR4T10', 'a/QWR4T18']);
    expect(first.logRatio).toBeCloseTo(second.logRatio, 9);
  });
  test('a doubtful digit favours the likelier reading', () => {
    expect(best('QWR4T1[80]')[0]).toBe('a/QWR4T18');
  });
  test('an open marking takes anything after it; a part without markings is found by its number', () => {
    expect(best('OS7XY99')[0]).toBe('b/OS7');
    expect(best('ZB20')[0]).toBe('c/ZB20');
  });
  test('what looks like nothing known finds nothing', () => {
    expect(best('WWWHHHKKK')).toEqual([]);
    expect(best('')).toEqual([]);
  });
});

test('probabilities of all readings of a true character sum to 1', () => {
  const size = ALPHABET.length;
  for (let truth = 0; truth < size; truth++) {
    const row = STANDARD_CONFUSION.read.slice(truth * size, (truth + 1) * size);
    expect(row.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  }
});

/** The last row of the alignment with one text alone: no trie, no bound. */
function alignedEnds(reading: Reading, symbols: readonly number[]): readonly number[] {
  return alignedRow(reading, String.fromCharCode(...symbols));
}

test('with equal costs the alignment is the edit distance of a reference library', () => {
  // A table without named confusions, and overlooked = imagined · 1/41 = wrong reading: each edit costs about the same;
  // nothing is doubled or transposed, which the distance does not know.
  const rate = 1e-6;
  const flat = parseConfusion(
    `{confusions: [], otherwise: ${rate * 40}, overlooked: ${rate}, imagined: ${rate * ALPHABET.length}, doubled: 1e-30, transposed: 1e-30}`,
  );
  const text = fc.stringMatching(/^[A-H0-4]{1,5}$/u);
  fc.assert(
    fc.property(text, text, (truth, read) => {
      const reading = prepare(parseMarking(read), flat);
      const aligned = alignedEnds(reading, parseTemplate(truth).symbols);
      // A character read adds the ratio to chance; an edit costs the rate.
      const chance = [...read].reduce((sum, one) => sum + Math.log(CHANCE[ALPHABET.indexOf(one)]), 0);
      const cost = -chance - aligned[reading.length];
      expect(Math.round(cost / -Math.log(rate))).toBe(distance(truth, read));
    }),
    { numRuns: 300 },
  );
});

test('row by row the alignment is that of the whole table, with slips, unread characters and fields', () => {
  const read = fc
    .array(fc.constantFrom('A', 'B', '8', '8', '0', '1', '?', '[8B]', '\n'), { minLength: 1, maxLength: 9 })
    .map((all) => parseMarking(all.join('')));
  const known = fc
    .array(fc.constantFrom('A', 'B', '8', '0', '1', '{lot:1}', '{lot:2}', '{date:YWW}', '\n'), {
      minLength: 1,
      maxLength: 7,
    })
    .map((all) => parseTemplate(all.join('')).symbols);
  fc.assert(
    fc.property(read, known, (marking, symbols) => {
      const row = alignedEnds(prepare(marking, STANDARD_CONFUSION), symbols);
      if (Math.abs(row.length - 1 - symbols.length) > BAND - 2) return;
      const { logRatio } = alignmentOf(marking, String.fromCharCode(...symbols), false, STANDARD_CONFUSION);
      expect(row.at(-1)).toBeCloseTo(logRatio, 9);
    }),
    { numRuns: 500 },
  );
});

describe('how markings are written down', () => {
  const QL = [
    { id: 'm/QWR4410', number: 'QWR4410', markings: ['QWR4410\n{lot:4}'] },
    { id: 'm/QWR4410B', number: 'QWR4410B', markings: ['QWR4410B\n{lot:2}'] },
    ...Array.from({ length: 60 }, (_, i) => ({
      id: `m/ZK${2210 + 37 * i}`,
      number: `ZK${2210 + 37 * i}`,
      markings: [`ZK${2210 + 37 * i}\n{lot:3}`],
    })),
  ];
  const known = new CatalogueIndex(QL, STANDARD_CONFUSION);
  /** By how much the right part goes before a part that nobody has catalogued, all parts alike: natural logarithm. */
  const weightFor = (written: string, id: string) => {
    const { parts, ratios, uncatalogued } = known.weigh(parseMarking(written), -10) ?? {
      parts: [],
      ratios: [],
      uncatalogued: { strange: 0, ratios: [] },
    };
    const at = parts.findIndex((part) => QL[part].id === id);
    const sum = uncatalogued.ratios.reduce((all, one) => all + Math.exp(one), 0);
    return (ratios[at] ?? -99) - Math.log(Math.exp(uncatalogued.strange) * QL.length + sum);
  };
  test.each([
    ['lines in the other order', 'K7A\nZK2247'],
    ['a logo in letters above', 'KX\nZK2247\nK7A'],
    ['a country below', 'ZK2247\nK7A\nKR'],
    ['a lot of one character more', 'ZK2247\nK7A9'],
    ['one of one character fewer', 'ZK2247\nK7'],
    ['a lot not read', 'ZK2247\n???'],
    ['one not read of which nobody saw the length', 'ZK2247\n?'],
    ['lines run together', 'ZK2247K7A'],
  ])('a code read without error is no coincidence: %s', (_, written) => {
    expect(weightFor(written, 'm/ZK2247')).toBeGreaterThan(0);
  });
  test('what was not read becomes no part of a code that was', () => {
    const [first, second] = known.search(parseMarking('QWR4410\n???'));
    expect(first.part).toBe('m/QWR4410');
    expect(first.logRatio - second.logRatio).toBeGreaterThan(Math.log(10));
  });
  test.each([
    ['doubled', 'ZK22447'],
    ['skipped', 'ZK227'],
    ['transposed', 'ZK2427'],
  ])('a character %s leaves the part first', (_, written) => {
    expect(known.search(parseMarking(`${written}\nK7A`))[0]?.part).toBe('m/ZK2247');
  });
  test('two transposed cost less than one skipped and one imagined', () => {
    const table = STANDARD_CONFUSION;
    const turned = alignmentOf(parseMarking('ZK2427'), symbolsOf('ZK2247'), false, table);
    expect(turned.slips.get('transposed')).toBe(1);
    expect(turned.slips.get('overlooked')).toBeUndefined();
  });
  const symbolsOf = (written: string) => String.fromCharCode(...parseTemplate(written).symbols);
});

/** Log-ratios by number of the part. */
function ratiosOf(described: readonly IndexedPart[], marking: string, floor: number) {
  const weighed = new CatalogueIndex(described, STANDARD_CONFUSION).weigh(parseMarking(marking), floor);
  return weighed && new Map(weighed.parts.map((part, i) => [part, weighed.ratios[i]]));
}

test('the trie finds what comparing with every template finds', () => {
  const word = fc.stringMatching(/^[A-D0-3]{3,6}$/u);
  fc.assert(
    fc.property(fc.uniqueArray(word, { minLength: 1, maxLength: 12 }), word, (numbers, read) => {
      const parts = numbers.map((number) => ({ id: `m/${number}`, number, markings: [number] }));
      const together = new CatalogueIndex(parts, STANDARD_CONFUSION).search(parseMarking(read));
      const apart = new Map(
        parts
          .flatMap((part) => new CatalogueIndex([part], STANDARD_CONFUSION).search(parseMarking(read)))
          .map(({ part, logRatio }) => [part, logRatio]),
      );
      // Two ways of adding up agree but for the last bits, so those within a billionth tie, and stand by id.
      const floor = Math.max(...apart.values()) - Math.log(10_000);
      for (const [part, logRatio] of apart) {
        const isFound = together.some((one) => one.part === part);
        if (Math.abs(logRatio - floor) > 1e-9) expect([part, isFound]).toEqual([part, logRatio > floor]);
      }
      together.forEach(({ part, logRatio }, i) => {
        expect(logRatio).toBeCloseTo(apart.get(part) ?? Number.NaN, 9);
        const ratios = ratiosOf(parts, read, 0);
        expect(ratios?.get(parts.findIndex(({ id }) => id === part))).toBeCloseTo(logRatio, 9);
        const next = together[i + 1] ?? { part: '\uffff', logRatio };
        if (Math.abs(logRatio - next.logRatio) <= 1e-9) expect(part < next.part).toBe(true);
        else expect(logRatio).toBeGreaterThan(next.logRatio);
      });
      expect(new Set(together.map(({ part }) => part)).size).toBe(together.length);
    }),
    { numRuns: 200 },
  );
});

test('of many parts that fit, the first few are those that a longer list begins with', () => {
  const parts = Array.from({ length: 400 }, (_, i) => {
    const number = `QWR${String(i * 7).padStart(4, '0')}`;
    return { id: `m/${number}`, number, markings: [`${number}\n{lot:2}`] };
  });
  const many = new CatalogueIndex(parts, STANDARD_CONFUSION);
  for (const read of ['QWR??4?', 'QWR2[71]0?', 'QWR????', '?WR1?07\nK7']) {
    const all = many.search(parseMarking(read), 400);
    expect(all.length).toBeGreaterThan(20);
    for (const limit of [1, 5, 20])
      expect(many.search(parseMarking(read), limit)).toEqual(all.slice(0, limit));
  }
});

describe('against a plain loop over all parts', () => {
  const field = fc.constantFrom(
    '{lot:2}',
    '{code:1}',
    '{date:YWW}',
    '{date:YYMM}',
    '\n',
    '\n{lot:3}',
    '*',
    'A1',
    '-',
  );
  const word = fc.stringMatching(/^[AB0-28O]{1,5}$/u);
  const written = fc
    .tuple(word, fc.array(field, { maxLength: 3 }))
    .map(([stem, rest]) => stem + rest.join(''));
  const part = fc.record({ number: word, markings: fc.array(written, { maxLength: 2 }) });
  const character = fc.constantFrom('A', 'B', '0', '1', '2', '8', 'O', 'K', '7', '-', '?', '?', '[8B]', '\n');
  const read = fc.array(character, { minLength: 1, maxLength: 10 }).map((all) => all.join(''));

  /** The best log-ratio of each part, from its texts one by one and each way to take the lines. */
  function plainly(parts: readonly IndexedPart[], marking: string): readonly number[] {
    const ways = lineOrdersOf(parseMarking(marking)).map(({ marking: taken, log }) =>
      ofOneOrder(parts, taken).map((value) => value + log),
    );
    return parts.map((_, at) => Math.max(...ways.map((values) => values[at])));
  }

  function ofOneOrder(parts: readonly IndexedPart[], taken: MarkingText): readonly number[] {
    const reading = prepare(taken, STANDARD_CONFUSION);
    return parts.map(({ number, markings }) => {
      // What parts without known markings carry, as the index says of itself; the alignment is another.
      const [, digits] = /^[A-Z]{1,4}(\d\w{2,})$/u.exec(number) ?? [];
      const short = digits ?? number;
      const known: (readonly [string, number])[] =
        markings.length === 0
          ? [
              [number, 0.25],
              [`${number}*`, 0.44],
              [short, 0.12],
              [`${short}*`, 0.19],
            ]
          : markings.map((one) => [one, 1]);
      const values = known.flatMap(([one, share]) => {
        const { symbols, lineEnds, open } = parseTemplate(one);
        const whole = alignedEnds(reading, symbols);
        const early = lineEnds.map((end) => alignedEnds(reading, symbols.slice(0, end))[reading.length]);
        const last = (row: readonly number[]) => (open ? Math.max(...row) : row[reading.length]);
        const late = lineEnds
          .map((end) => symbols.slice(end + 1))
          .filter((rest) => fixedOf(String.fromCharCode(...rest)) >= 3)
          .map((rest) => last(alignedEnds(reading, rest)));
        return [
          last(whole),
          ...late.map((value) => value + Math.log(0.03)),
          ...early.map((value) => value + Math.log(0.1)),
        ].map((value) => value + Math.log(share));
      });
      return Math.max(...values);
    });
  }

  test('the search gives the same parts with the same weights, for any fields, doubts and unread characters', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 40 }), read, (described, marking) => {
        const parts = described.map((one, i) => ({ id: `m/${i}`, ...one }));
        const plain = plainly(parts, marking);
        const best = Math.max(...plain);
        const found = new CatalogueIndex(parts, STANDARD_CONFUSION).search(parseMarking(marking), 5);
        const worth = plain
          .filter((one) => one > 1e-6 && one >= best - Math.log(10_000))
          .sort((a, b) => b - a);
        expect(found).toHaveLength(isRead(parseMarking(marking)) ? Math.min(5, worth.length) : 0);
        found.forEach(({ part: id, logRatio }, i) => {
          expect(logRatio).toBeCloseTo(worth[i], 9);
          expect(logRatio).toBeCloseTo(plain[Number(id.slice(2))], 9);
        });
      }),
      { numRuns: 500 },
    );
  });

  test('so do the ratios for all parts above a floor', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 40 }), read, (described, marking) => {
        const parts = described.map((one, i) => ({ id: `m/${i}`, ...one }));
        const plain = plainly(parts, marking);
        const floor = Math.max(-6, Math.max(...plain) - Math.log(1e6));
        const ratios = ratiosOf(parts, marking, -6);
        if (!ratios) return;
        plain.forEach((value, i) => {
          // At the very floor rounding decides.
          if (Math.abs(value - floor) > 1e-9) expect(ratios.has(i)).toBe(value > floor);
          if (ratios.has(i)) expect(ratios.get(i)).toBeCloseTo(value, 9);
        });
      }),
      { numRuns: 500 },
    );
  });
});

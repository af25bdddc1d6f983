import fc from 'fast-check';
import { distance } from 'fastest-levenshtein';
import { describe, expect, test } from 'vitest';
import { CatalogueIndex } from '../../src/identify/catalogueIndex.ts';
import { ALPHABET, parseConfusion, STANDARD_CONFUSION } from '../../src/identify/confusion.ts';
import { CHANCE, firstRow, nextRow, prepare } from '../../src/identify/markingModel.ts';
import { parseTemplate } from '../../src/identify/template.ts';
import { parseMarking } from '../../src/model/marking.ts';

const PARTS = [
  { id: 'a/QN4410', number: 'QN4410', markings: ['QN4410\n{lot:3}{date:YWW}'] },
  { id: 'a/QN4418', number: 'QN4418', markings: ['QN4418\n{lot:3}{date:YWW}'] },
  { id: 'b/OS7', number: 'OS7', markings: ['OS7*'] },
  { id: 'c/ZB20', number: 'ZB20', markings: [] },
];
const index = new CatalogueIndex(PARTS, STANDARD_CONFUSION);
const best = (written: string) => index.search(parseMarking(written)).map(({ part }) => part);

describe('search', () => {
  test('a clean reading finds its part first', () => {
    expect(best('QN4410\nK7A352')[0]).toBe('a/QN4410');
  });
  test('a reader who stopped after the first line still finds it', () => {
    expect(best('QN4410')[0]).toBe('a/QN4410');
  });
  test('characters that eyes confuse cost little: 0/O, 8/B', () => {
    expect(best('QN44IO')[0]).toBe('a/QN4410');
    expect(best('QN441B')[0]).toBe('a/QN4418');
  });
  test('an unread last digit leaves both parts, equally likely', () => {
    const [first, second] = index.search(parseMarking('QN441?'));
    expect([first.part, second.part].sort()).toEqual(['a/QN4410', 'a/QN4418']);
    expect(first.logRatio).toBeCloseTo(second.logRatio, 9);
  });
  test('a doubtful digit leans to the likelier reading', () => {
    expect(best('QN441[80]')[0]).toBe('a/QN4418');
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
    const row = STANDARD_CONFUSION.logRead.slice(truth * size, (truth + 1) * size);
    expect(row.reduce((sum, log) => sum + Math.exp(log), 0)).toBeCloseTo(1, 12);
  }
});

test('with equal costs the alignment is the edit distance of a reference library', () => {
  // A table without named confusions, and overlooked = imagined · 1/41 = wrong reading: each edit costs about the same.
  const rate = 1e-6;
  const flat = parseConfusion(
    `{confusions: [], otherwise: ${rate * 40}, overlooked: ${rate}, imagined: ${rate * ALPHABET.length}}`,
  );
  const text = fc.stringMatching(/^[A-H0-4]{1,5}$/u);
  fc.assert(
    fc.property(text, text, (truth, read) => {
      const reading = prepare(parseMarking(read), flat);
      let row = new Float64Array(reading.length + 1);
      firstRow(reading, row);
      parseTemplate(truth).symbols.forEach((symbol, i) => {
        const after = new Float64Array(reading.length + 1).fill(Number.NEGATIVE_INFINITY);
        nextRow(reading, symbol, i + 1, 9, row, 0, after, 0);
        row = after;
      });
      // A character read adds the ratio to chance; an edit costs the rate.
      const chance = [...read].reduce((sum, one) => sum + Math.log(CHANCE[ALPHABET.indexOf(one)]), 0);
      const cost = -chance - row[reading.length];
      expect(Math.round(cost / -Math.log(rate))).toBe(distance(truth, read));
    }),
    { numRuns: 300 },
  );
});

test('the trie finds what comparing with every template finds', () => {
  const word = fc.stringMatching(/^[A-D0-3]{3,6}$/u);
  fc.assert(
    fc.property(fc.uniqueArray(word, { minLength: 1, maxLength: 12 }), word, (numbers, read) => {
      const parts = numbers.map((number) => ({ id: `m/${number}`, number, markings: [number] }));
      const together = new CatalogueIndex(parts, STANDARD_CONFUSION).search(parseMarking(read));
      const apart = parts
        .flatMap((part) => new CatalogueIndex([part], STANDARD_CONFUSION).search(parseMarking(read)))
        .sort((a, b) => b.logRatio - a.logRatio || (a.part < b.part ? -1 : 1));
      const worth = apart.filter(({ logRatio }) => logRatio >= apart[0].logRatio - Math.log(10_000));
      expect(together.map(({ part }) => part)).toEqual(worth.map(({ part }) => part));
      together.forEach(({ part, logRatio }, i) => {
        expect(logRatio).toBeCloseTo(worth[i].logRatio, 9);
        const ratios = new CatalogueIndex(parts, STANDARD_CONFUSION).ratios(parseMarking(read), 0);
        expect(ratios?.get(parts.findIndex(({ id }) => id === part))).toBeCloseTo(logRatio, 9);
      });
    }),
    { numRuns: 200 },
  );
});

test('of many parts that fit, the first few are those that a longer list begins with', () => {
  const parts = Array.from({ length: 400 }, (_, i) => {
    const number = `QN${String(i * 7).padStart(4, '0')}`;
    return { id: `m/${number}`, number, markings: [`${number}\n{lot:2}`] };
  });
  const many = new CatalogueIndex(parts, STANDARD_CONFUSION);
  for (const read of ['QN??4?', 'QN2[71]0?', 'QN????', '?N1?07\nK7']) {
    const all = many.search(parseMarking(read), 400);
    expect(all.length).toBeGreaterThan(20);
    for (const limit of [1, 5, 20])
      expect(many.search(parseMarking(read), limit)).toEqual(all.slice(0, limit));
  }
});

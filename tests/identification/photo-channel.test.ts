import { describe, expect, test } from 'vitest';
import { CatalogueIndex } from '../../src/identification/catalogue-index.ts';
import { ALPHABET, placeOf, STANDARD_CONFUSION } from '../../src/identification/confusion.ts';
import { PhotoChannel, type PhotoLines, recordedText } from '../../src/identification/photo-channel.ts';
import {
  type PhotoConfusion,
  photoConfusionOf,
  readPhotoConfusionCounts,
} from '../../src/identification/photo-confusion.ts';
import { BREAK } from '../../src/identification/template.ts';
import { parseMarking } from '../../src/model/marking.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { testSeed } from '../random.ts';

const confusion = photoConfusionOf(readPhotoConfusionCounts());

const linesOf = (text: string, confidence = 98.5): PhotoLines =>
  text.split('\n').map((line) => [...line].map((one) => ({ text: one, confidence })));
const symbolsOf = (text: string) => [...text].map((one) => (one === '\n' ? BREAK : placeOf(one)));

/** Every way in which a text may have become what was read, one after the other, each a product; no logarithms and no table of sums. */
function enumerated(
  truth: string,
  read: readonly { readonly text: string; readonly confidence: number }[],
  { inserted, dropped, lineLost, lineInserted, logInserted, logRead, bandOf }: PhotoConfusion,
): number {
  let total = 0;
  const follow = (i: number, j: number, probability: number) => {
    if (j < read.length) {
      const { text, confidence } = read[j];
      const as =
        text === '\n' ? lineInserted : (1 - lineInserted) * Math.exp(logInserted(text, bandOf(confidence)));
      follow(i, j + 1, probability * inserted * as);
    }
    const on = probability * (1 - inserted);
    if (i === truth.length) {
      if (j === read.length) total += on;
      return;
    }
    const lost = truth[i] === '\n' ? lineLost : dropped[placeOf(truth[i])];
    follow(i + 1, j, on * lost);
    if (j === read.length) return;
    const { text, confidence } = read[j];
    if ((truth[i] === '\n') !== (text === '\n')) return;
    const as = text === '\n' ? 1 : Math.exp(logRead(placeOf(truth[i]), text, bandOf(confidence)));
    follow(i + 1, j + 1, on * (1 - lost) * as);
  };
  follow(0, 0, 1);
  return total;
}

describe('a crop as a noisy channel', () => {
  test('has the likelihood that all alignments, enumerated one by one, sum to', () => {
    const random = seededRandom(testSeed());
    for (let round = 0; round < 40; round++) agrees(random);
  });

  function agrees(random: Random) {
    const some = (most: number) =>
      Array.from({ length: random.integer(0, most) }, () => random.pick([...'0O8B1\n'])).join('');
    const clean = (text: string) => text.replace(/\n+/gu, '\n').replace(/^\n|\n$/gu, '');
    const truth = clean(some(5));
    const lines = linesOf(clean(some(5)) || 'A').map((line) =>
      line.map(({ text }) => ({ text, confidence: random.integer(40, 99) })),
    );
    const flat = lines.flatMap((line, at) => (at === 0 ? line : [{ text: '\n', confidence: 100 }, ...line]));
    const found = new PhotoChannel(lines, confusion).logLikelihood(symbolsOf(truth));
    expect(found).toBeCloseTo(Math.log(enumerated(truth, flat, confusion)), 9);
  }

  test('has probabilities that sum to 1 over all that one character may be read as', () => {
    for (const truth of ALPHABET) {
      let sum = 0;
      for (const read of ALPHABET)
        for (const confidence of [50, 92, 96, 99])
          sum += Math.exp(confusion.logRead(placeOf(truth), read, confusion.bandOf(confidence)));
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  test('prefers the text that was read to one that differs in a character that is never confused', () => {
    const channel = new PhotoChannel(linesOf('QWR4'), confusion);
    expect(channel.logRatio(symbolsOf('QWR4'))).toBeGreaterThan(channel.logRatio(symbolsOf('QWM4')) + 3);
  });

  test('says less the less sure the program was', () => {
    const told = (confidence: number) => {
      const channel = new PhotoChannel(linesOf('QWR4', confidence), confusion);
      return channel.logRatio(symbolsOf('QWR4')) - channel.logRatio(symbolsOf('QWM4'));
    };
    expect(told(60)).toBeLessThan(told(98.5));
  });

  test('suggests what is likely, doubts kept, and nothing where too little is legible', () => {
    expect(new PhotoChannel(linesOf('QWRT'), confusion).suggestion()).toEqual(parseMarking('QWRT'));
    expect(new PhotoChannel(linesOf('Q'), confusion).suggestion()).toBeUndefined();
    expect(new PhotoChannel([], confusion).suggestion()).toBeUndefined();
    expect(new PhotoChannel(linesOf('.-', 60), confusion).suggestion()).toBeUndefined();
  });
});

function finished<T>(steps: Generator<void, T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value as T;
  }
}

describe('a crop beside the catalogue', () => {
  const index = new CatalogueIndex(
    ['QWR4T', 'QWM4T', 'ZZ81{lot:2}', 'KLP9', 'KLP7', 'HD35X'].map((marking, at) => ({
      id: `m/${at}`,
      number: `N${at}`,
      markings: [marking],
    })),
    STANDARD_CONFUSION,
  );
  const floor = Math.log(1e-4);

  test('a reading fits the part that carries it best', () => {
    const weighed = finished(index.weighPhoto(new PhotoChannel(linesOf('QWR4T'), confusion), floor));
    const best = weighed?.parts[weighed.ratios.indexOf(Math.max(...weighed.ratios))];
    expect(best).toBe(0);
  });

  test('a photo that repeats what was recorded says next to nothing more', () => {
    const marking = parseMarking('QWR4T');
    const recorded = index.weigh(marking, floor);
    const both =
      recorded &&
      finished(
        index.weighWithPhoto(
          recorded,
          marking,
          STANDARD_CONFUSION,
          new PhotoChannel(linesOf('QWR4T'), confusion),
        ),
      );
    const at = recorded?.parts.indexOf(0) ?? -1;
    expect(Math.abs((both?.ratios[at] ?? 9) - (recorded?.ratios[at] ?? 0))).toBeLessThan(1);
  });

  test('a photo tells apart what the recorded marking leaves open', () => {
    const marking = parseMarking('KLP?');
    const recorded = index.weigh(marking, floor);
    const both =
      recorded &&
      finished(
        index.weighWithPhoto(
          recorded,
          marking,
          STANDARD_CONFUSION,
          new PhotoChannel(linesOf('KLP9'), confusion),
        ),
      );
    const of = (part: number, ratios: readonly number[] = []) => ratios[recorded?.parts.indexOf(part) ?? -1];
    expect(of(3, recorded?.ratios)).toBeCloseTo(of(4, recorded?.ratios), 9);
    expect(of(3, both?.ratios)).toBeGreaterThan(of(4, both?.ratios) + 3);
  });

  test('a recorded character in doubt is weighed as eyes confuse it', () => {
    const [soft] = recordedText(parseMarking('8'), STANDARD_CONFUSION);
    expect((soft as Float64Array)[placeOf('8')]).toBeGreaterThan((soft as Float64Array)[placeOf('B')]);
    expect((soft as Float64Array)[placeOf('B')]).toBeGreaterThan((soft as Float64Array)[placeOf('T')]);
  });
});

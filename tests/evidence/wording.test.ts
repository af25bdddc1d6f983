import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { proposedWording, wordingOf } from '../../src/evidence/wording.ts';
import { likelihoodPhrase } from '../../src/statistics/likelihood-words.ts';

// Mastrandrea et al., Guidance Note for Lead Authors of the IPCC Fifth Assessment Report on Consistent Treatment of
// Uncertainties, 2010, table 1; the three terms below the line are those that the report adds (values from memory of
// the note, in percent).
const TABLE_1 = [
  ['virtually certain', 99, 100],
  ['very likely', 90, 100],
  ['likely', 66, 100],
  ['about as likely as not', 33, 66],
  ['unlikely', 0, 33],
  ['very unlikely', 0, 10],
  ['exceptionally unlikely', 0, 1],
  // ---
  ['extremely likely', 95, 100],
  ['more likely than not', 50, 100],
  ['extremely unlikely', 0, 5],
] as const;

describe('words of the calibrated scale', () => {
  test.each(TABLE_1)('%s: %i to %i %%', (phrase, low, high) => {
    const sentences = [
      `It is ${phrase} that both are the same part.`,
      `${phrase[0].toUpperCase()}${phrase.slice(1)}, it is the same.`,
      `The same part, ${phrase.toUpperCase()}.`,
      `The same part (${phrase}).`,
      `It is ${phrase.replaceAll(' ', '\n  ')} the same.`,
    ];
    for (const sentence of sentences)
      expect(wordingOf(sentence)).toMatchObject({
        words: phrase,
        low: low / 100,
        high: high / 100,
        by: 'scale',
      });
  });

  test('the longest phrase present is meant, wherever it is', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([...TABLE_1], { minLength: 1 }), (some) => {
        const sentence = `It is ${some.map(([phrase]) => phrase).join(', or ')}.`;
        const longest = Math.max(...some.map(([phrase]) => phrase.length));
        expect(wordingOf(sentence).words?.length).toBe(longest);
      }),
    );
  });

  test('a word inside another is not that word', () => {
    expect(wordingOf('That is unlikely.').words).toBe('unlikely');
    expect(wordingOf('The likelihood was not worked out.').words).toBeNull();
    expect(wordingOf('It has an unlikely-looking shield.').by).toBe('flat');
    expect(wordingOf('It is as likely as not the same.')).toMatchObject({ low: 0.33, high: 0.66 });
  });
});

describe('other words', () => {
  test.each([
    ['It is certainly the same.', 'certainly', 0.99, 1],
    ['It is probably the same.', 'probably', 0.66, 1],
    ['The trace suggests a bus.', 'suggests', 0.5, 1],
    ['It may be the same.', 'may', 0.1, 0.66],
    ['Perhaps it is the same.', 'perhaps', 0.1, 0.66],
    ['It hardly matters.', 'hardly', 0, 0.1],
  ])('%s', (sentence, words, low, high) => {
    expect(wordingOf(sentence)).toMatchObject({ words, low, high, by: 'usage' });
  });

  test('words of the scale come before everyday words', () => {
    expect(wordingOf('It may be so, but is very unlikely.').words).toBe('very unlikely');
  });

  test('a sentence with neither states a fact: 95 % and more', () => {
    expect(wordingOf('Both are the same part.')).toEqual({
      words: null,
      low: 0.95,
      high: 1,
      by: 'flat',
    });
  });

  test('the month of May is no doubt', () => {
    expect(wordingOf('Since May 2019 the shell is the antenna.').by).toBe('flat');
  });
});

test('what is proposed for a probability would be read as holding it', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (probability) => {
      const proposal = proposedWording(probability);
      const phrase = /"([^"]+)"/u.exec(proposal)?.[1] ?? '';
      const { low, high, by } = wordingOf(`It is ${phrase} so.`);
      expect(by).toBe('scale');
      expect(probability).toBeGreaterThanOrEqual(low);
      expect(probability).toBeLessThanOrEqual(high);
      if (probability < 0.95) expect(phrase).toBe(likelihoodPhrase(probability));
      else expect(proposal).toMatch(/^state it/u);
    }),
  );
});

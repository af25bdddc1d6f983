import type { ReadSymbol, ReadText } from '../../src/photo-reading/read-text.ts';

/** A true character and what was read of it; without one of the two where it was dropped, or nothing stood there. Ends of lines are `\n`. */
export interface AlignedCharacter {
  readonly truth: string | undefined;
  readonly read: ReadSymbol | undefined;
}

/**
 * What was read beside what is true, by the fewest edits (Levenshtein 1966); an end of a line stands for nothing else. Of equal ways the
 * first in the order right or confused, dropped, inserted.
 */
export function alignedCharacters(truth: readonly string[], read: ReadText): readonly AlignedCharacter[] {
  const written = [...truth.join('\n')];
  const END: ReadSymbol = { text: '\n', confidence: 100 };
  const seen = read.flatMap((line, at) => (at === 0 ? line : [END, ...line]));
  const width = seen.length + 1;
  const cost = new Float64Array((written.length + 1) * width);
  const both = (i: number, j: number) => {
    const [a, b] = [written[i - 1], seen[j - 1].text];
    return a === b ? 0 : a === '\n' || b === '\n' ? 3 : 1;
  };
  for (let i = 0; i <= written.length; i++)
    for (let j = 0; j <= seen.length; j++) {
      if (i === 0 || j === 0) cost[i * width + j] = i + j;
      else
        cost[i * width + j] = Math.min(
          cost[(i - 1) * width + j - 1] + both(i, j),
          cost[(i - 1) * width + j] + 1,
          cost[i * width + j - 1] + 1,
        );
    }
  const found: AlignedCharacter[] = [];
  for (let [i, j] = [written.length, seen.length]; i > 0 || j > 0; ) {
    const here = cost[i * width + j];
    if (i > 0 && j > 0 && here === cost[(i - 1) * width + j - 1] + both(i, j))
      found.push({ truth: written[--i], read: seen[--j] });
    else if (i > 0 && here === cost[(i - 1) * width + j] + 1)
      found.push({ truth: written[--i], read: undefined });
    else found.push({ truth: undefined, read: seen[--j] });
  }
  return found.reverse();
}

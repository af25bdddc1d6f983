/**
 * The words that generated code reads: columns by name, and single words of their rows under names of their own.
 */
/** Names that the code may use for one word of a row: the column, words a row, and the word. */
const WORDS: Readonly<Record<string, readonly [column: string, stride: number, word: number]>> = {
  nodeKind: ['nodeRow', 4, 0],
  adjStart: ['nodeRow', 4, 1],
  nodeRecord: ['nodeRow', 4, 2],
  nodeSegment: ['nodeRow', 4, 3],
  adjCode: ['adjRow', 2, 0],
  adjNode: ['adjRow', 2, 1],
  edgeKind: ['edgeRow', 4, 0],
  edgeSource: ['edgeRow', 4, 1],
  edgeTarget: ['edgeRow', 4, 2],
  edgeRecord: ['edgeRow', 4, 3],
  runKind: ['runRow', 2, 0],
  runStart: ['runRow', 2, 1],
};
const WORD = new RegExp(`\\b(${Object.keys(WORDS).join('|')})\\[([^\\[\\]]+)\\]`, 'g');

/** Replaces `nodeKind[n]` and the like by the place in the row. Indices hold no brackets. */
export function placed(code: string): string {
  return code.replace(WORD, (_, name: string, index: string) => {
    const [column, stride, word] = WORDS[name]!;
    return `${column}[(${index}) * ${stride}${word > 0 ? ` + ${word}` : ''}]`;
  });
}

export const COLUMNS = [
  'nodeRow',
  'adjRow',
  'adjEdge',
  'edgeRow',
  'runRow',
  'segmentTable',
  'handleNode',
  'portCode',
  'portSet',
  'crossingEdge',
  'crossingSegment',
] as const;

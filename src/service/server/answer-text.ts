import { setImmediate as turn } from 'node:timers/promises';
import { CasebackError } from '../../model/problems.ts';

/** Values of an answer up to which it is written in one go. */
const SMALL = 5_000;
/** Characters of texts in an answer up to which it is written in one go. */
const SHORT = 500_000;
/** Milliseconds after which others have a turn. */
const SLICE = 20;

/**
 * The JSON text of an answer: at once where it is small, else in slices between which others have their turn, and never more
 * than so many bytes.
 * @throws CasebackError TOO_LARGE
 */
export function answerText(answer: object, mostBytes: number): string | Promise<Buffer> {
  return isSmall(answer) ? JSON.stringify(answer) : inSlices(answer, mostBytes);
}

/** Whether an answer has few values and short texts; it looks no further than it must. */
function isSmall(answer: object): boolean {
  const open: unknown[] = [answer];
  let values = 0;
  let characters = 0;
  while (open.length > 0) {
    const value = open.pop();
    if (++values > SMALL) return false;
    if (typeof value === 'string') characters += value.length;
    else if (Array.isArray(value)) {
      if (value.length > SMALL) return false;
      for (const item of value) open.push(item);
    } else if (typeof value === 'object' && value !== null) {
      for (const inner of Object.values(value)) open.push(inner);
    }
    if (characters > SHORT) return false;
  }
  return true;
}

async function inSlices(answer: object, mostBytes: number): Promise<Buffer> {
  const parts: Buffer[] = [];
  let bytes = 0;
  let part = '';
  let since = performance.now();
  const put = () => {
    const written = Buffer.from(part, 'utf8');
    parts.push(written);
    bytes += written.length;
    part = '';
    if (bytes > mostBytes)
      throw new CasebackError(
        'TOO_LARGE',
        `The answer is larger than ${mostBytes.toLocaleString('en')} bytes; ask for smaller pages or fewer fields`,
      );
  };
  for (const piece of pieces(answer)) {
    part += piece;
    if (part.length < 65_536) continue;
    put();
    if (performance.now() - since < SLICE) continue;
    await turn();
    since = performance.now();
  }
  put();
  return Buffer.concat(parts, bytes);
}

/** A JSON text in pieces, none of them long to write. */
function* pieces(value: unknown): Generator<string> {
  if (typeof value !== 'object' || value === null || isSmall(value)) {
    yield JSON.stringify(value) ?? 'null';
  } else if (Array.isArray(value)) {
    yield '[';
    for (let i = 0; i < value.length; i++) {
      if (i > 0) yield ',';
      yield* pieces(value[i]);
    }
    yield ']';
  } else {
    let separator = '{';
    for (const [name, inner] of Object.entries(value)) {
      if (inner === undefined) continue;
      yield `${separator}${JSON.stringify(name)}:`;
      separator = ',';
      yield* pieces(inner);
    }
    yield separator === '{' ? '{}' : '}';
  }
}

import { placeOf } from './confusion.ts';

/**
 * A known marking of a part: characters that are always the same, and fields that vary from unit to unit.
 *
 *     QN4410{lot:3}      three free letters or digits
 *     QN4410{date:YWW}   a date code: digits
 *     QN44*              anything may follow
 */
export interface Template {
  readonly symbols: readonly TemplateSymbol[];
  /** Numbers of symbols after which a line ends, the last line left out: a reader may stop there. */
  readonly lineEnds: readonly number[];
  /** Whether further characters may follow. */
  readonly open: boolean;
}

export type TemplateSymbol =
  | { readonly kind: 'literal'; readonly place: number }
  | { readonly kind: 'free' }
  | { readonly kind: 'digit' };

export class TemplateError extends Error {
  override readonly name = 'TemplateError';
}

/**
 * Reads a marking template. Blanks part fields to the eye and are passed over.
 * @throws TemplateError that names the field it does not know
 */
export function parseTemplate(written: string): Template {
  const symbols: TemplateSymbol[] = [];
  const lineEnds: number[] = [];
  let open = false;
  for (const [token] of written.matchAll(/\{[^}]*\}|./gsu)) {
    if (token === '\n' && symbols.length > 0) lineEnds.push(symbols.length);
    if (/^\s$/u.test(token)) continue;
    if (token === '*') open = true;
    else if (token.startsWith('{')) symbols.push(...field(token));
    else {
      const place = placeOf(token);
      if (place >= 0) symbols.push({ kind: 'literal', place });
    }
  }
  return { symbols, lineEnds: lineEnds.filter((end) => end < symbols.length), open };
}

function field(token: string): TemplateSymbol[] {
  const free = /^\{(?:lot|code):(\d{1,2})\}$/u.exec(token);
  if (free) return Array.from({ length: Number(free[1]) }, () => ({ kind: 'free' }) as const);
  const date = /^\{date:(Y{1,4}(?:WW|MM|M)?(?:DD)?)\}$/u.exec(token);
  if (date) return Array.from(date[1], () => ({ kind: 'digit' }) as const);
  throw new TemplateError(
    `"${token}" is no marking field; write {lot:3}, {code:2}, {date:YWW}, {date:YYWW}, or * for anything`,
  );
}

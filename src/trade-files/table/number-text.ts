import type { DECIMAL_SIGNS } from '../../model/list-mapping.ts';

// Numbers as people and programs of many countries write them: which sign is the decimal one is told by the number itself where it
// can be, and asked of the column where it cannot. Signs of groups and decimals: Unicode CLDR 48, "Numbers and currency",
// and ISO 80000-1, 7.3 (a small space between groups of three, comma or point on the line as the decimal sign).

/** The sign between whole numbers and fractions. */
export type DecimalSign = (typeof DECIMAL_SIGNS)[number];

/** A number with what it says of the decimal sign. */
export interface NumberText {
  /** Where the number tells: the sign that it must have been written with. */
  readonly certain?: DecimalSign;
  /** The one sign that may be either: `point` in `1.234`, `comma` in `1,234`. */
  readonly unclear?: DecimalSign;
  /** Its value under a sign. */
  value(sign: DecimalSign): number;
  readonly unit?: string;
}

const LONGEST = 40;
/** Blanks that stand between groups: no-break, narrow no-break, figure and thin space. */
const BLANKS = /[\u00a0\u202f\u2007\u2009]/gu;
const NUMBER =
  /^([+-]?)\s?((?:\d|[.,](?=\d))(?:[\d.,'’ ]*\d)?[.,]?)(e[+-]?\d{1,2})?\s*((?:[\p{L}µ"″°%]|\[)[\p{L}\d_\]]*)?$/iu;

/** The number in a cell, and the unit behind it; undefined for what is no number. */
export function numberText(cell: string): NumberText | undefined {
  if (cell.length > LONGEST) return undefined;
  const tidied = cell
    .replace(BLANKS, ' ')
    .trim()
    .replace(/^\((.*)\)$/u, '$1')
    .replace(/^−/u, '-');
  const match = NUMBER.exec(tidied);
  if (!match) return undefined;
  const [, sign = '', written = '', exponent = '', unit] = match;
  const body = ungrouped(written);
  if (body === undefined) return undefined;
  const signs = [...body.text].filter((one) => one === '.' || one === ',');
  const read = (plain: string) => Number(`${sign}${plain}${exponent}`);
  const own = unit === undefined ? {} : { unit };
  const commas = signs.filter((one) => one === ',').length;
  const points = signs.length - commas;
  if (signs.length === 0) return { value: () => read(body.text), ...own };
  const last: DecimalSign = body.text.lastIndexOf(',') > body.text.lastIndexOf('.') ? 'comma' : 'point';
  const [decimals, groups] = last === 'comma' ? [commas, points] : [points, commas];
  if (commas > 0 && points > 0) {
    // 1.234,5: the last is the decimal sign, and the other stands between groups of three.
    if (decimals !== 1 || body.isGrouped) return undefined;
    const mark = last === 'comma' ? ',' : '.';
    const [whole = '', fraction = ''] = body.text.split(mark);
    if (!isGrouped(whole)) return undefined;
    const value = read(`${whole.replaceAll(/[.,]/gu, '')}.${fraction}`);
    return { certain: last, value: () => value, ...own };
  }
  if (decimals > 1 || groups > 0) {
    // 1.234.567: between groups, so the other is the decimal sign.
    if (body.isGrouped || !isGrouped(body.text)) return undefined;
    const value = read(body.text.replaceAll(/[.,]/gu, ''));
    return { certain: last === 'comma' ? 'point' : 'comma', value: () => value, ...own };
  }
  const [whole = '', fraction = ''] = body.text.split(/[.,]/u);
  const asDecimal = read(`${whole === '' ? '0' : whole}.${fraction === '' ? '0' : fraction}`);
  const couldBeGroups =
    fraction.length === 3 && /^[1-9]\d{0,2}$/u.test(whole) && !body.isGrouped && exponent === '';
  if (!couldBeGroups) return { certain: last, value: () => asDecimal, ...own };
  const asGroups = read(`${whole}${fraction}`);
  return { unclear: last, value: (as) => (as === last ? asDecimal : asGroups), ...own };
}

/** A number without blanks and apostrophes between groups of three; undefined where they stand elsewhere. */
function ungrouped(written: string): { readonly text: string; readonly isGrouped: boolean } | undefined {
  if (!/['’ ]/u.test(written)) return { text: written, isGrouped: false };
  if (!/^\d{1,3}(?:(['’ ])\d{3})(?:\1\d{3})*(?:[.,]\d*)?$/u.test(written)) return undefined;
  return { text: written.replaceAll(/['’ ]/gu, ''), isGrouped: true };
}

function isGrouped(text: string): boolean {
  return /^[1-9]\d{0,2}(?:\.\d{3})*$|^[1-9]\d{0,2}(?:,\d{3})*$/u.test(text);
}

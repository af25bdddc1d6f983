import { significant } from '../text/rounding.ts';
import { capacitorTolerance, resistorTolerance } from './tolerance.ts';

/**
 * Values as schematics and lists write them: codes after IEC 60062 (4k7, 100n, R47), plain ones (4.7 kOhm, 100 nF), and what
 * often stands behind them: rated voltage and current, tolerance, dielectric, the frequency of a bead.
 */
export interface ComponentValue {
  /** Ohm. */
  readonly resistance?: number;
  /** F. */
  readonly capacitance?: number;
  /** H. */
  readonly inductance?: number;
  /** Hz; of a crystal, or at which the impedance of a bead holds. */
  readonly frequency?: number;
  /** V. */
  readonly ratedVoltage?: number;
  /** A. */
  readonly ratedCurrent?: number;
  /** W. */
  readonly ratedPower?: number;
  /** Per cent, to either side; of a capacitor below 10 pF what its picofarads of tolerance make. */
  readonly tolerance?: number;
  /** Class of a ceramic capacitor's dielectric after EIA-198, such as X7R. */
  readonly dielectric?: string;
}

/** What a bare number or a code without a unit stands for, where the component is known. */
export type ValueKind = 'resistance' | 'capacitance' | 'inductance' | 'frequency';

const PREFIXES: Readonly<Record<string, number>> = {
  f: -15,
  p: -12,
  n: -9,
  u: -6,
  m: -3,
  '': 0,
  k: 3,
  K: 3,
  M: 6,
  G: 9,
  T: 12,
};

const UNITS: readonly (readonly [RegExp, keyof ComponentValue])[] = [
  [/^(?:ohms?|r)$/iu, 'resistance'],
  [/^f$/iu, 'capacitance'],
  [/^h$/iu, 'inductance'],
  [/^hz$/iu, 'frequency'],
  [/^V(?:DC|AC)?$/iu, 'ratedVoltage'],
  [/^A$/u, 'ratedCurrent'],
  [/^W$/u, 'ratedPower'],
];

/** Digits, the letter for the point among or around them, then a letter of tolerance or F for farad. */
const CODE = /^(\d{0,4})([RkKMGTpnumLF])(\d{0,4})([BCDFGJKMNH])?$/u;
/** A number, a prefix, a unit. */
const PLAIN = /^(\d+(?:[.,]\d+)?|\.\d+)(?:([fpnuUmkKMGT])?([A-Za-z]+)?)?$/u;
const DIELECTRIC = /^(?:C0G|NP0|NPO|[XYZ][1-9][A-Z])$/iu;
const TOLERANCE = /^(?:±|\+-|\+\/-)?(\d+(?:[.,]\d+)?)%$/u;
const FRACTION_OF_WATT = /^1\/(\d{1,2})W$/iu;
/** Values are short; a text of another kind is not worth the look. */
const MAX_LENGTH = 80;

/**
 * Reads a value.
 * @param kind of what the component is known to be, for codes and numbers that name no unit
 * @returns undefined when nothing of it is a value
 */
export function readComponentValue(text: string, kind?: ValueKind): ComponentValue | undefined {
  if (text.length > MAX_LENGTH) return undefined;
  const value: { -readonly [K in keyof ComponentValue]: ComponentValue[K] } = {};
  for (const word of wordsOf(text)) {
    for (const [field, is] of Object.entries(wordMeans(word, kind)) as [keyof ComponentValue, never][])
      if (value[field] === undefined) value[field] = is;
  }
  return Object.keys(value).length > 0 ? value : undefined;
}

/** Resistance in a value, Ohm; a bare number and a code without a unit count as ohms. */
export function resistanceIn(text: string | undefined): number | undefined {
  return text === undefined ? undefined : readComponentValue(text, 'resistance')?.resistance;
}

/** Shares by which two spellings of one number may differ. */
const ROUNDING = 1e-6;

/**
 * Whether two components have the same value, however it is spelt; undefined where that cannot be told: one is missing, one is
 * a number and the other words, or one goes on where the other ends, as names of parts do.
 */
export function sameValue(a: string | undefined, b: string | undefined): boolean | undefined {
  if (a === undefined || b === undefined) return undefined;
  const [one, other] = [firstAmount(a), firstAmount(b)];
  if (one && other) {
    if (one.field && other.field && one.field !== other.field) return false;
    return Math.abs(one.number - other.number) <= ROUNDING * Math.max(one.number, other.number);
  }
  if (one || other) return undefined;
  const [first, second] = [plainText(a), plainText(b)];
  if (first === second) return true;
  return first.startsWith(second) || second.startsWith(first) ? undefined : false;
}

function plainText(value: string): string {
  return value.toLowerCase().replace(/[\s_-]/gu, '');
}

/** The number that a value begins with; none where a bare number is followed by words of another kind. */
function firstAmount(text: string): Amount | undefined {
  if (text.length > MAX_LENGTH) return undefined;
  const [first = '', ...more] = wordsOf(text);
  const amount = amountIn(first);
  return amount?.field === undefined && amount?.letter === '' && more.length > 0 ? undefined : amount;
}

/** Words of a value, each number with the unit that stands behind it. */
function wordsOf(text: string): readonly string[] {
  return text
    .normalize('NFKC')
    .replace(/[µμ]/gu, 'u')
    .replace(/[ΩΩ]/gu, 'Ohm')
    .replace(/(\d),(?=\d{1,2}(?!\d))/gu, '$1.')
    .replace(/(±|\+\/-|\+-)\s+/gu, '$1')
    .replace(/(\d)\s+(?=%)/gu, '$1')
    .replace(/(\d)\s+(?=[fpnumkKMGT]?(?:ohms?|[FHVAWR]|hz)\b)/giu, '$1')
    .replace(/(\d[fpnumkKMG])\s+(?=ohms?\b)/giu, '$1')
    .replace(/(?<![\d+])\/(?=\d)|\/(?!\d)|(?<=[A-Za-z%])\/(?=\d)/gu, ' ')
    .split(/[\s,;@_|]+/u)
    .filter((word) => word !== '');
}

function wordMeans(word: string, kind: ValueKind | undefined): ComponentValue {
  const watts = FRACTION_OF_WATT.exec(word);
  if (watts) return { ratedPower: 1 / Number(watts[1]) };
  const percent = TOLERANCE.exec(word);
  if (percent) return { tolerance: numberOf(percent[1]) };
  if (DIELECTRIC.test(word)) return { dielectric: word.toUpperCase().replace('NPO', 'NP0') };
  const amount = amountIn(word);
  if (!amount) return {};
  const { number, letter, tolerance } = amount;
  const field = amount.field ?? (letter === '' ? bareKind(kind) : fieldOf(letter, kind));
  if (!field) return {};
  // R stands for the point; of inductors in microhenry.
  const inMicrohenry = letter === 'R' && field === 'inductance' && amount.field === undefined;
  return {
    [field]: inMicrohenry ? Number(`${number}e-6`) : number,
    ...percentOf(tolerance, field, number),
  };
}

/** A letter of tolerance in per cent to either side; none for a letter that says something else. */
function percentOf(
  letter: string | undefined,
  field: keyof ComponentValue,
  number: number,
): Pick<ComponentValue, 'tolerance'> {
  if (letter === undefined) return {};
  const tolerance = field === 'capacitance' ? capacitorTolerance(letter, number) : resistorTolerance(letter);
  if (tolerance === undefined) return {};
  if ('percent' in tolerance) return { tolerance: tolerance.percent };
  return 'farad' in tolerance ? { tolerance: significant((100 * tolerance.farad) / number, 6) } : {};
}

/** A number of a value, and what says what it is. */
interface Amount {
  readonly number: number;
  /** Letter for the point or the prefix; empty for none. */
  readonly letter: string;
  /** By a unit that is written, or a code that only resistors have. */
  readonly field?: keyof ComponentValue;
  /** Letter of tolerance. */
  readonly tolerance?: string;
}

function amountIn(word: string): Amount | undefined {
  return codedAmount(word) ?? plainAmount(word);
}

/** `4k7`, `R47`, `47R`, `2u2`, `p33`, `1M0`, `4K7J`, `2u2F`. */
function codedAmount(word: string): Amount | undefined {
  const match = CODE.exec(word);
  if (!match) return undefined;
  const [, whole, letter, fraction, suffix] = match;
  // A letter of tolerance stands behind a digit: 128KB is no value.
  if (fraction === '' && (whole === '' || suffix !== undefined)) return undefined;
  const power = letter === 'L' ? -6 : letter === 'R' || letter === 'F' ? 0 : PREFIXES[letter];
  const number = Number(`${whole || '0'}.${fraction || '0'}e${power}`);
  const isOhm = 'RkKMGT'.includes(letter);
  // F behind a code for farads is the unit, behind one for ohms a tolerance.
  if (suffix === 'F' && !isOhm) return { number, letter, field: 'capacitance' };
  if (suffix === 'H') return isOhm ? undefined : { number, letter, field: 'inductance' };
  return {
    number,
    letter,
    ...(letter === 'L'
      ? { field: 'inductance' as const }
      : letter === 'F'
        ? { field: 'capacitance' as const }
        : {}),
    ...(suffix === undefined ? {} : { tolerance: suffix }),
  };
}

function plainAmount(word: string): Amount | undefined {
  const match = PLAIN.exec(word);
  if (!match) return undefined;
  const [, digits, written = '', unit = ''] = match;
  // U for micro stands before a unit only.
  if (written === 'U' && unit === '') return undefined;
  const letter = written === 'U' ? 'u' : written;
  const number = Number(`${digits.replace(',', '.')}e${PREFIXES[letter]}`);
  if (unit === '') return { number, letter };
  const field = UNITS.find(([pattern]) => pattern.test(unit))?.[1];
  return field ? { number, letter, field } : undefined;
}

/** R, k, M, G and T mark ohms; p, n and u farads, or henry where the component is an inductor; m either. */
function fieldOf(letter: string, kind: ValueKind | undefined): ValueKind | undefined {
  if (letter === 'R') return kind === 'inductance' ? 'inductance' : 'resistance';
  if ('kKMGT'.includes(letter)) return kind === 'frequency' ? 'frequency' : 'resistance';
  if (letter === 'm') return kind === 'frequency' ? undefined : kind;
  return kind === 'inductance' ? 'inductance' : 'capacitance';
}

/** A bare number is ohms. */
function bareKind(kind: ValueKind | undefined): ValueKind | undefined {
  return kind === 'resistance' ? kind : undefined;
}

function numberOf(text: string): number {
  return Number(text.replace(',', '.'));
}

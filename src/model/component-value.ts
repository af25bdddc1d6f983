/** A value as boards have it: a number, in Ohm, F, H or Hz where the text says which. */
export interface ComponentValue {
  readonly number: number;
  readonly unit: 'Ohm' | 'F' | 'H' | 'Hz' | undefined;
}

const PREFIXES: Readonly<Record<string, number>> = {
  p: 1e-12,
  n: 1e-9,
  u: 1e-6,
  µ: 1e-6,
  μ: 1e-6,
  m: 1e-3,
  k: 1e3,
  K: 1e3,
  M: 1e6,
  G: 1e9,
  '': 1,
};
const UNITS: Readonly<Record<string, ComponentValue['unit']>> = {
  ohm: 'Ohm',
  ohms: 'Ohm',
  ω: 'Ohm',
  r: 'Ohm',
  f: 'F',
  h: 'H',
  hz: 'Hz',
};
const PLAIN = /^(\d+(?:\.\d+)?|\.\d+)([pnuµμmkKMG]?)(ohms?|[ΩΩ]|R|F|H|Hz)?$/iu;
/** A letter stands for the point: `4k7`, `4R7`, `2u2` (after IEC 60062). */
const CODED = /^(\d+)([pnuµμmkKMGR])(\d+)(ohms?|[ΩΩ]|F|H|Hz)?$/u;

/**
 * The number in the value of a component, such as `4.7 kOhm`, `4k7`, `100nF 16V X7R` or `26 MHz`; what comes after it is left
 * out. Undefined for a value in words, such as a colour or a part's name.
 */
export function parseComponentValue(written: string): ComponentValue | undefined {
  const joined = written.trim().replace(/^([\d.]+)\s+(?=[^\d\s])/u, '$1');
  const [first] = joined.split(/[\s,;/±]/u);
  const coded = CODED.exec(first);
  if (coded) {
    const [, whole, letter, fraction, unit] = coded;
    const isOhm = /[RkKMG]/u.test(letter);
    const number = Number(`${whole}.${fraction}`) * (letter === 'R' ? 1 : PREFIXES[letter]);
    return { number, unit: unit ? unitOf(unit) : isOhm ? 'Ohm' : undefined };
  }
  const plain = PLAIN.exec(first);
  if (!plain) return undefined;
  const [, number, prefix, unit] = plain;
  // Ignoring case is for units: P and N are no prefixes.
  const factor = PREFIXES[prefix] ?? (prefix === 'U' ? 1e-6 : undefined);
  return factor === undefined
    ? undefined
    : { number: Number(number) * factor, unit: unit ? unitOf(unit) : undefined };
}

function unitOf(written: string): ComponentValue['unit'] {
  return UNITS[written.toLowerCase()] ?? (/^[ΩΩ]$/u.test(written) ? 'Ohm' : undefined);
}

/** Shares by which two spellings of one number may differ. */
const ROUNDING = 1e-6;

/**
 * Whether two components have the same value, however it is spelt; undefined where that cannot be told: one is missing, one is
 * a number and the other words, or one goes on where the other ends, as names of parts do.
 */
export function sameValue(a: string | undefined, b: string | undefined): boolean | undefined {
  if (a === undefined || b === undefined) return undefined;
  const [one, other] = [parseComponentValue(a), parseComponentValue(b)];
  if (one && other) {
    if (one.unit && other.unit && one.unit !== other.unit) return false;
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

const PREFIXES: Readonly<Record<string, number>> = { m: 1e-3, '': 1, R: 1, k: 1e3, K: 1e3, M: 1e6 };

/** Resistance in a value such as "4.7 kOhm", "0R", "10mR" or "4k7" (letters for the point after IEC 60062), Ohm. */
export function ohmsIn(value: string | undefined): number | undefined {
  const text = value?.replace(/\s|[Oo]hms?|Ω|Ω/gu, '').replace(/[,;/±].*$/u, '');
  const coded = /^(\d+)([RkKM])(\d+)$/u.exec(text ?? '');
  if (coded) return Number(`${coded[1]}.${coded[3]}`) * PREFIXES[coded[2]];
  const plain = /^(\d+(?:\.\d+)?)([mRkKM]?)R?$/u.exec(text ?? '');
  return plain ? Number(plain[1]) * PREFIXES[plain[2]] : undefined;
}

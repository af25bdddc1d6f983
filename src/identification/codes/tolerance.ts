/** Tolerance letters of IEC 60062, clause "tolerance", in percent. From memory of the standard. */
export const TOLERANCE_PERCENT: Readonly<Record<string, number>> = {
  E: 0.005,
  L: 0.01,
  P: 0.02,
  W: 0.05,
  B: 0.1,
  C: 0.25,
  D: 0.5,
  F: 1,
  G: 2,
  H: 3,
  J: 5,
  K: 10,
  M: 20,
  N: 30,
};

/** `, ±5 %` or nothing. */
export function toleranceText(percent: number | undefined): string {
  return percent === undefined ? '' : `, ±${percent} %`;
}

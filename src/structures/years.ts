import { yearOf } from '../model/dates.ts';
import type { Device } from '../model/dossier.ts';
import { benjaminiHochberg } from '../statistics/benjamini-hochberg.ts';
import { cochranArmitage } from '../statistics/cochran-armitage.ts';
import { MIN_DEVICES, MIN_PERIODS } from '../trends/verdict.ts';
import type { YearTrend } from './answer.ts';

/**
 * For each structure whether its share goes with the year of release (Cochran–Armitage), corrected over all structures
 * tested (Benjamini–Hochberg). Null where there are too few devices or years, or nothing varies.
 * @param devices all devices looked into
 * @param supports for each structure the places of its devices
 */
export function yearTrends(
  devices: readonly Device[],
  supports: readonly Int32Array[],
): readonly (YearTrend | null)[] {
  const years = devices.map(({ released }) => yearOf(released));
  const all = [...new Set(years)].sort((a, b) => a - b);
  const place = new Map(all.map((year, at) => [year, at]));
  const placeOf = years.map((year) => place.get(year) as number);
  const trials = all.map((_, at) => placeOf.filter((one) => one === at).length);
  if (devices.length < MIN_DEVICES || all.length < MIN_PERIODS) return supports.map(() => null);
  const tests = supports.map((groups) => {
    const successes = new Array<number>(all.length).fill(0);
    for (const group of groups) successes[placeOf[group]]++;
    return cochranArmitage(all.map((score, at) => ({ score, successes: successes[at], trials: trials[at] })));
  });
  const tested = tests.flatMap((test, at) => ('p' in test ? [{ at, test }] : []));
  const adjusted = benjaminiHochberg(tested.map(({ test }) => test.p));
  const trends = new Array<YearTrend | null>(supports.length).fill(null);
  tested.forEach(({ at, test: { n, p, slope } }, order) => {
    trends[at] = { n, years: all.length, p, q: adjusted[order], slope };
  });
  return trends;
}

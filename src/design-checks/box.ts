import type { Quantity } from '../model/quantity.ts';

// How the uncertainty of inputs reaches the outputs: the box that uncertain inputs span, and its corners.

/** A result, with the least and greatest value that the uncertainty of the inputs allows. */
export interface CheckedValue extends Quantity {
  readonly low: number;
  readonly high: number;
}

export type Numbers = Readonly<Record<string, number>>;
export type Compute = (numbers: Record<string, number>) => Readonly<Record<string, number | undefined>>;
export type Given = Readonly<Record<string, CheckedValue>>;

/** What ties inputs to one another, and where an output turns. */
export interface Ties {
  /** Pairs of inputs of one unit of which the first cannot be above the second. */
  readonly notAbove: readonly (readonly [lower: string, upper: string])[];
  /** By input: where an output stops rising in it and begins to fall, or the other way round, the others held. */
  readonly turns: Readonly<Record<string, (numbers: Numbers) => number>>;
}

const UNTIED: Ties = { notAbove: [], turns: {} };

/**
 * The outputs at the stated values, with their extremes over the corners of the box of inputs; not a number where one of
 * them has no finite value.
 */
export function overTheBox(
  outputs: readonly { readonly name: string; readonly unit: string }[],
  given: Given,
  compute: Compute,
  cornersOf: (given: Given, compute: Compute, outputs: readonly string[]) => readonly Numbers[],
): Record<string, CheckedValue> {
  const central = compute(at(given, 'value'));
  const names = outputs.map(({ name }) => name).filter((name) => central[name] !== undefined);
  const all = [central, ...cornersOf(given, compute, names).map((corner) => compute({ ...corner }))];
  const values: Record<string, CheckedValue> = {};
  for (const { name, unit } of outputs) {
    const value = central[name];
    if (value === undefined) continue;
    const found = all.map((answer) => answer[name] ?? Number.NaN);
    values[name] = { value, unit, low: Math.min(...found), high: Math.max(...found) };
  }
  return values;
}

function at(given: Given, place: 'value' | 'low' | 'high'): Record<string, number> {
  return Object.fromEntries(Object.entries(given).map(([name, one]) => [name, one[place]]));
}

function uncertain(given: Given): readonly (readonly [string, CheckedValue])[] {
  return Object.entries(given).filter(([, { low, high }]) => low !== high);
}

/**
 * Every corner: right for any output that is monotone in each input, the others held. Where an input ties another, the corners
 * are those of the box without the part that cannot be; where an output turns, the turning point of each corner is one more.
 */
export function allCorners(given: Given, { notAbove, turns }: Ties = UNTIED): readonly Numbers[] {
  const tied = notAbove.filter(([lower, upper]) => lower in given && upper in given);
  const within = (corner: Numbers) => {
    const kept = { ...corner };
    for (const [lower, upper] of tied) kept[lower] = Math.min(kept[lower], kept[upper]);
    return kept;
  };
  let corners: readonly Numbers[] = [at(given, 'value')];
  for (const [name, { low, high }] of uncertain(given)) {
    const met = tied.flatMap(([lower, upper]) =>
      name === lower ? [given[upper].low] : name === upper ? [given[lower].high] : [],
    );
    const places = new Set([low, high, ...met.filter((place) => low < place && place < high)]);
    corners = corners.flatMap((corner) => [...places].map((place) => ({ ...corner, [name]: place })));
  }
  const turning = Object.entries(turns).flatMap(([name, turn]) =>
    corners.flatMap((corner) => {
      const place = turn(corner);
      const interval = given[name];
      return interval && interval.low < place && place < interval.high ? [{ ...corner, [name]: place }] : [];
    }),
  );
  return [...corners, ...turning].map(within);
}

/** For each output the two corners of its extremes, when an input always moves it the same way. */
export function cornersThatMatter(
  given: Given,
  compute: Compute,
  outputs: readonly string[],
): readonly Numbers[] {
  const doubts = uncertain(given);
  // Where another input is 0 an input may seem to move nothing, so its way is looked up from three places.
  const places = (['value', 'low', 'high'] as const).map((place) => at(given, place));
  const moves = doubts.map(([name, { low, high }]) =>
    places.map((place) => [compute({ ...place, [name]: low }), compute({ ...place, [name]: high })] as const),
  );
  return outputs.flatMap((output) => {
    const least = at(given, 'value');
    const most = at(given, 'value');
    doubts.forEach(([name, { low, high }], i) => {
      const way = moves[i]
        .map(([from, to]) => (to[output] ?? 0) - (from[output] ?? 0))
        .find((by) => by !== 0 && !Number.isNaN(by));
      least[name] = (way ?? 1) > 0 ? low : high;
      most[name] = (way ?? 1) > 0 ? high : low;
    });
    return [least, most];
  });
}

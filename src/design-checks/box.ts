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

/** Every corner: right for any output that is monotone in each input, the others held. */
export function allCorners(given: Given): readonly Numbers[] {
  let corners: Numbers[] = [at(given, 'value')];
  for (const [name, { low, high }] of uncertain(given)) {
    corners = corners.flatMap((corner) => [
      { ...corner, [name]: low },
      { ...corner, [name]: high },
    ]);
  }
  return corners;
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

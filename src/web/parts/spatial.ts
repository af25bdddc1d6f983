/** A place on a sheet, mm: x to the right, y down. */
export type Spot = readonly [x: number, y: number];

export type Direction = 'left' | 'right' | 'up' | 'down';

const WAYS: Readonly<Record<Direction, Spot>> = {
  left: [-1, 0],
  right: [1, 0],
  up: [0, -1],
  down: [0, 1],
};

/**
 * The thing to go to from one in a direction: the nearest within 45 degrees of it, else the nearest that lies that way at all, where
 * what is off to the side counts as farther. From nothing one comes to the first in reading order.
 * @param spots where things are, x to the right and y down
 * @returns undefined where nothing lies that way
 */
export function nearest(
  spots: ReadonlyMap<string, Spot>,
  from: string | undefined,
  direction: Direction,
): string | undefined {
  const start = from === undefined ? undefined : spots.get(from);
  if (!start) return best(spots, from, ([x, y]) => y * 1_000 + x);
  const [ahead, aside] = [WAYS[direction], [WAYS[direction][1], WAYS[direction][0]] as const];
  const steps = (spot: Spot) => {
    const [dx, dy] = [spot[0] - start[0], spot[1] - start[1]];
    return [dx * ahead[0] + dy * ahead[1], Math.abs(dx * aside[0] + dy * aside[1])] as const;
  };
  const within = best(spots, from, (spot) => {
    const [forward, sideways] = steps(spot);
    return forward > 0 && sideways <= forward ? Math.hypot(forward, sideways) : Infinity;
  });
  return (
    within ??
    best(spots, from, (spot) => {
      const [forward, sideways] = steps(spot);
      return forward > 0 ? forward + 2 * sideways : Infinity;
    })
  );
}

/** The one of the least cost; undefined where all are infinite. */
function best(
  spots: ReadonlyMap<string, Spot>,
  except: string | undefined,
  costOf: (spot: Spot) => number,
): string | undefined {
  let found: string | undefined;
  let least = Infinity;
  for (const [id, spot] of spots) {
    if (id === except) continue;
    const cost = costOf(spot);
    if (cost < least) [found, least] = [id, cost];
  }
  return found;
}

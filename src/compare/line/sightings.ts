import type { Device } from '../../model/dossier.ts';
import type { PartsAndMakers } from '../../presence/presence.ts';
import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import { tidy } from '../../statistics/tidy.ts';
import type { Generation } from '../generations.ts';

/** When a part or a maker came into a line and when it went. */
export interface Sighting {
  /** Id of the part or maker. */
  readonly id: string;
  /** The first and the last device that has it rather than not, in the order of the line. */
  readonly first: Device;
  readonly last: Device;
  /** Probability that these two devices have it. */
  readonly firstProbability: number;
  readonly lastProbability: number;
  /** A device before `first`, or after `last`, that possibly has it, with less than even odds. */
  readonly maybeSince: Device | undefined;
  readonly maybeUntil: Device | undefined;
  /** Devices of the line that have it: with 0.95 or more, expected, and with 0.05 or more. */
  readonly certain: number;
  readonly expected: number;
  readonly possible: number;
  /** Whether a device that nothing in the line follows has it. */
  readonly current: boolean;
}

/**
 * First and last sightings along a line, in the order of first sighting. What no device has rather than not is left out.
 * @param line what each device may have, in the order of `generations`
 * @param of what to look for
 */
export function sightings(
  generations: readonly Generation[],
  line: readonly PartsAndMakers[],
  of: (one: PartsAndMakers) => ReadonlyMap<string, number>,
): readonly Sighting[] {
  const inLine = new Set(generations.map(({ device }) => device.id));
  const isTip = generations.map(({ successors }) => !successors.some(({ id }) => inLine.has(id)));
  const ids = [...new Set(line.flatMap((one) => [...of(one).keys()]))];
  return ids
    .flatMap((id) => {
      const chances = line.map((one) => of(one).get(id) ?? 0);
      const first = chances.findIndex((p) => p >= 0.5);
      if (first < 0) return [];
      const last = chances.findLastIndex((p) => p >= 0.5);
      const maybeFirst = chances.findIndex((p) => p >= POSSIBLE);
      const maybeLast = chances.findLastIndex((p) => p >= POSSIBLE);
      const device = (at: number) => generations[at].device;
      return [
        {
          at: first,
          sighting: {
            id,
            first: device(first),
            last: device(last),
            firstProbability: chances[first],
            lastProbability: chances[last],
            maybeSince: maybeFirst < first ? device(maybeFirst) : undefined,
            maybeUntil: maybeLast > last ? device(maybeLast) : undefined,
            certain: chances.filter((p) => p >= CERTAIN).length,
            expected: tidy(chances.reduce((sum, p) => sum + p, 0)),
            possible: chances.filter((p) => p >= POSSIBLE).length,
            current: chances.some((p, at) => p >= 0.5 && isTip[at]),
          },
        },
      ];
    })
    .sort((a, b) => a.at - b.at || (a.sighting.id < b.sighting.id ? -1 : 1))
    .map(({ sighting }) => sighting);
}

/** A part of a device and since when the line has kept it without a break. */
export interface KeptPart {
  readonly part: string;
  /** Probability that the device has it. */
  readonly probability: number;
  /** The first device of an unbroken succession of devices that have it rather than not; the device itself for a new part. */
  readonly since: Device;
}

/** Parts that each device of a line has rather than not, oldest first; where lines merge, the older branch counts. */
export function keptParts(
  generations: readonly Generation[],
  line: readonly PartsAndMakers[],
): readonly { readonly device: Device; readonly parts: readonly KeptPart[] }[] {
  const place = new Map(generations.map(({ device }, at) => [device.id, at]));
  const since: Map<string, number>[] = [];
  return generations.map(({ device, predecessors }, at) => {
    const own = new Map<string, number>();
    since.push(own);
    const parts = [...line[at].parts].filter(([, probability]) => probability >= 0.5);
    const kept = parts.map(([part, probability]) => {
      // Predecessors stand before their successors, so that theirs is known.
      const before = predecessors.flatMap(({ id }) => since[place.get(id) ?? -1]?.get(part) ?? []);
      own.set(part, Math.min(at, ...before));
      return { part, probability, since: generations[own.get(part) as number].device };
    });
    const ageOf = ({ since: { id } }: KeptPart) => place.get(id) as number;
    return { device, parts: kept.sort((a, b) => ageOf(a) - ageOf(b) || (a.part < b.part ? -1 : 1)) };
  });
}

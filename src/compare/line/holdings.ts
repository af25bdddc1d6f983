import type { Device } from '../../model/dossier.ts';
import { recordOfId } from '../../model/ids.ts';
import type { View } from '../../state/view.ts';
import { noisyOr } from '../../statistics/noisy-or.ts';

/** Probability that a device has each part, and each maker's parts, over all its visible specimens. */
export interface Holdings {
  readonly device: Device;
  readonly parts: ReadonlyMap<string, number>;
  readonly makers: ReadonlyMap<string, number>;
}

/** Components are taken as independent of one another. */
export function holdingsOf(view: View, device: Device): Holdings {
  const parts = new Map<string, number[]>();
  const makers = new Map<string, number[]>();
  for (const { id } of view.specimensOf(device.id)) {
    for (const { candidates } of view.specimen(id)?.identified.values() ?? []) {
      const byPart = new Map<string, number>();
      const byMaker = new Map<string, number>();
      for (const { part, maker, probability } of candidates) {
        if (part !== undefined) add(byPart, part, probability);
        const by = part === undefined ? maker : recordOfId(part);
        if (by !== undefined) add(byMaker, by, probability);
      }
      for (const [part, p] of byPart) parts.set(part, [...(parts.get(part) ?? []), p]);
      for (const [maker, p] of byMaker) makers.set(maker, [...(makers.get(maker) ?? []), p]);
    }
  }
  return { device, parts: some(parts), makers: some(makers) };
}

function add(map: Map<string, number>, key: string, weight: number): void {
  map.set(key, Math.min(1, (map.get(key) ?? 0) + weight));
}

function some(all: ReadonlyMap<string, readonly number[]>): ReadonlyMap<string, number> {
  return new Map([...all].map(([key, probabilities]) => [key, noisyOr(probabilities)]));
}

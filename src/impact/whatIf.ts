import type { Live } from '../graph/live.ts';
import { scratchOf } from '../graph/scratch.ts';
import { View } from '../graph/view.ts';
import { partIdOf } from '../model/catalogue.ts';
import { deviceIdOf } from '../model/dossier.ts';
import type { Change, Entry } from '../model/entry.ts';
import { claimsUnder } from './claimsUnder.ts';
import { type Difference, differenceOf } from './difference.ts';
import { type Sight, sightOf, sightWith } from './sight.ts';
import { type Snapshot, snapshotOf } from './snapshot.ts';

/** Devices and parts that a change is about. */
export interface Reach {
  readonly devices: ReadonlySet<string>;
  readonly parts: ReadonlySet<string>;
}

/** What a change would come to. Nothing is written: it is tried out on a copy of the devices it touches. */
export async function whatIf(
  view: View,
  changes: readonly Change[],
  signal?: AbortSignal,
): Promise<Difference> {
  const reach = reachOf(view, changes);
  const before = await stockOf(sightOf(view, signal), reach, signal);
  return differenceOf(before, await stockAfter(view, changes, reach, signal));
}

/** What stands under a reach, as a sight sees it. */
export function stockOf(sight: Sight, reach: Reach, signal?: AbortSignal): Promise<Snapshot> {
  const claims = claimsUnder(sight.view, reach.devices, reach.parts);
  return snapshotOf(sight, [...reach.devices].sort(), claims, signal);
}

function stockAfter(
  view: View,
  changes: readonly Change[],
  reach: Reach,
  signal: AbortSignal | undefined,
): Promise<Snapshot> {
  const live = scratchOf(view, reach.devices, partsNamed(changes));
  live.apply(tried(live, changes));
  const small = new View(live, 'desk', view.now);
  return stockOf(sightWith(view, small, reach.devices, signal), reach, signal);
}

/** The changes as entries of a journal that nobody keeps. */
function tried(live: Live, changes: readonly Change[]): readonly Entry[] {
  const { sequence, instant } = live.state;
  return changes.map((change, i) => ({
    ...change,
    sequence: sequence + 1 + i,
    id: '',
    instant,
    previousHash: '',
    hash: '',
  }));
}

/** The visible devices and the parts whose records some changes alter or are about. */
export function reachOf(view: View, changes: readonly Change[]): Reach {
  const devices = new Set<string>();
  const parts = new Set<string>();
  for (const change of changes) {
    switch (change.kind) {
      case 'dossier-put':
        devices.add(deviceIdOf(change.payload));
        break;
      case 'observation-recorded':
      case 'observation-withdrawn':
      case 'identification-set':
      case 'identification-judged':
        devices.add(change.payload.specimen.split('/', 1)[0] as string);
        break;
      case 'record-put': {
        const { collection, record } = change.payload;
        if (collection !== 'parts') break;
        const id = partIdOf(record as Parameters<typeof partIdOf>[0]);
        parts.add(id);
        for (const holder of holdersUnderAnyLabel(view, id)) devices.add(holder);
        break;
      }
      case 'decision-judged':
        devices.add(change.payload.device);
        break;
      case 'correction-made':
        break;
      default:
        change satisfies never;
    }
  }
  return { devices, parts };
}

/** Devices that may hold a part, or one that is it under another label. */
function* holdersUnderAnyLabel(view: View, part: string): Generator<string> {
  const { knowledge, records } = view.state;
  const labels = knowledge.hasNode(part)
    ? knowledge.inNeighbors(part).filter((other) => records.parts.get(other)?.relabels === part)
    : [];
  for (const id of [part, ...labels]) for (const { deviceId } of view.holdersOf(id)) yield deviceId;
}

/** Parts that changes bring in. */
function partsNamed(changes: readonly Change[]): readonly string[] {
  return changes.flatMap((change) => {
    if (change.kind === 'identification-set')
      return change.payload.identification.candidates.flatMap(({ part }) => part ?? []);
    if (change.kind === 'identification-judged') return [change.payload.judgement.part];
    if (change.kind === 'dossier-put')
      return change.payload.identifications.flatMap(({ candidates }) =>
        candidates.flatMap(({ part }) => part ?? []),
      );
    return [];
  });
}

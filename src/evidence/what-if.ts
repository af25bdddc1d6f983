import { claimIdOf, partIdOf, recordId } from '../model/catalogue.ts';
import { deviceIdOf } from '../model/dossier.ts';
import type { Change, Entry } from '../model/entry.ts';
import { recordOfId } from '../model/ids.ts';
import { relabelsOf } from '../state/relabels.ts';
import type { State } from '../state/state.ts';
import { inJournalOrder } from '../text/member-order.ts';
import { type ClaimAt, claimsUnder } from './claims-under.ts';
import { type Difference, differenceOf } from './difference.ts';
import { snapshotOf } from './snapshot.ts';

/** Devices and parts that a change is about. */
export interface Reach {
  readonly devices: ReadonlySet<string>;
  readonly parts: ReadonlySet<string>;
}

/** What a change would make of the archive, and how to look again once it was made. */
export interface TriedOut {
  readonly difference: Difference;
  /** The difference that a state with the change in it shows. */
  differenceIn(state: State): Promise<Difference>;
}

/** What a change would make of the archive. Nothing is written: it is tried out on the state. */
export async function whatIf(
  state: State,
  changes: readonly Change[],
  signal?: AbortSignal,
): Promise<Difference> {
  return (await tryOut(state, changes, signal)).difference;
}

/** Tries a change, for a caller that makes it afterwards. */
export async function tryOut(
  state: State,
  changes: readonly Change[],
  signal?: AbortSignal,
): Promise<TriedOut> {
  const reach = reachOf(state, changes);
  const changed = state.with(asEntries(state, changes));
  const claims = claimsUnderAny([state, changed], reach);
  const devices = [...reach.devices].sort();
  const before = await snapshotOf(state, devices, claims, signal);
  const after = await snapshotOf(changed, devices, claims, signal);
  return {
    difference: differenceOf(before, after),
    differenceIn: async (now) => differenceOf(before, await snapshotOf(now, devices, claims)),
  };
}

/** What follows otherwise in one state than in another, from devices and parts that differ. @throws the signal's reason */
export async function differenceBetween(
  before: State,
  after: State,
  reach: Reach,
  signal?: AbortSignal,
): Promise<Difference> {
  const ids = new Set(
    claimsUnderAny([before, after], reach).map(({ publication, claim }) => claimIdOf(publication, claim)),
  );
  const devices = [...reach.devices].sort();
  // Each sentence as that state has it.
  const held = (state: State) =>
    state
      .publications()
      .flatMap((publication) => publication.claims.map((claim) => ({ publication, claim })))
      .filter(({ publication, claim }) => ids.has(claimIdOf(publication, claim)));
  return differenceOf(
    await snapshotOf(before, devices, held(before), signal),
    await snapshotOf(after, devices, held(after), signal),
  );
}

/** Claims under a reach before or after: a corrected date may bring a device under a figure, or take it away. */
function claimsUnderAny(states: readonly State[], { devices, parts }: Reach): readonly ClaimAt[] {
  const all = states.flatMap((state) => claimsUnder(state, devices, parts));
  return [...new Map(all.map((one) => [claimIdOf(one.publication, one.claim), one])).values()];
}

/** The changes as entries of a journal that nobody keeps, in the form in which one that is kept would give them. */
function asEntries({ sequence, instant }: State, changes: readonly Change[]): readonly Entry[] {
  return changes.map((change, i) => ({
    ...inJournalOrder(change),
    sequence: sequence + 1 + i,
    id: '',
    instant,
    previousHash: '',
    hash: '',
  }));
}

/** The visible devices and the parts whose records some changes alter or are about. */
function reachOf(state: State, changes: readonly Change[]): Reach {
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
        devices.add(recordOfId(change.payload.specimen));
        break;
      case 'record-put': {
        const { collection, record } = change.payload;
        if (collection === 'devices') devices.add(recordId(collection, record));
        if (collection !== 'parts') break;
        const id = partIdOf(record as Parameters<typeof partIdOf>[0]);
        parts.add(id);
        for (const holder of holdersUnderAnyLabel(state, id)) devices.add(holder);
        break;
      }
      case 'decision-judged':
        devices.add(change.payload.device);
        break;
      case 'correction-made':
      case 'clock-corrected':
      case 'recalled':
      case 'photo-kept':
      case 'photo-recorded':
        break;
      default:
        change satisfies never;
    }
  }
  return { devices, parts };
}

/** Devices that may hold a part, or one that is it under another label. */
function* holdersUnderAnyLabel(state: State, part: string): Generator<string> {
  for (const id of [part, ...relabelsOf(state, part)])
    for (const { deviceId } of state.holdersOf(id)) yield deviceId;
}

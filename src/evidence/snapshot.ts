import { comparisonCells, type NamedCell } from '../compare/comparison-table.ts';
import { type Decision, ownDecisionsOf } from '../decisions/decisions.ts';
import { yearOf } from '../model/dates.ts';
import { TERMS } from '../model/taxonomy.ts';
import { presenceRow, thingOf, together } from '../presence/presence.ts';
import type { State } from '../state/state.ts';
import { type AuditedClaim, auditClaim } from './audit.ts';
import type { ClaimAt } from './claims-under.ts';
import { type RecordsUnder, recordsUnder } from './records-under.ts';

/** What a few devices and the sentences that they support, in one state. */
export interface Snapshot {
  readonly devices: ReadonlyMap<string, DeviceSnapshot>;
  readonly claims: readonly ClaimSnapshot[];
}

export interface ClaimSnapshot extends AuditedClaim {
  /** What is on record of the things it names. */
  readonly records: RecordsUnder;
}

export interface DeviceSnapshot {
  /** Year of release: its place on the axis of trends. */
  readonly year: number;
  readonly decisions: readonly Decision[];
  /** The figures of each of its specimens in a comparison, by specimen id, blank and row. */
  readonly cells: ReadonlyMap<string, NamedCell>;
  /** Probability that it has at least one component of each term of the taxonomy; absent where it has none. */
  readonly terms: ReadonlyMap<string, number>;
}

/** Decisions, figures and kinds of devices, and the audit of claims, as a state has them. */
export async function snapshotOf(
  state: State,
  devices: Iterable<string>,
  claims: readonly ClaimAt[],
  signal?: AbortSignal,
): Promise<Snapshot> {
  const found = new Map<string, DeviceSnapshot>();
  for (const id of devices) {
    const snapshot = await deviceSnapshot(state, id, signal);
    if (snapshot) found.set(id, snapshot);
  }
  const audited: ClaimSnapshot[] = [];
  for (const { publication, claim } of claims) {
    const records = recordsUnder(state, claim);
    audited.push({ ...(await auditClaim(state, publication, claim, signal)), records });
  }
  return { devices: found, claims: audited };
}

async function deviceSnapshot(
  state: State,
  id: string,
  signal: AbortSignal | undefined,
): Promise<DeviceSnapshot | undefined> {
  const device = state.device(id);
  const specimens = state.specimensOf(id);
  if (!device || specimens.length === 0) return undefined;
  const rows = specimens.map((row) => presenceRow(state, row));
  const terms = new Map<string, number>();
  for (const term of TERMS) {
    const { probability } = together(rows, thingOf(state, term));
    if (probability > 0) terms.set(term, probability);
  }
  return {
    year: yearOf(device.released),
    decisions: await ownDecisionsOf(state, id, signal),
    cells: new Map(
      specimens.flatMap((row) =>
        comparisonCells(state, row.id).map((cell) => [`${row.id} ${cell.key}`, cell] as const),
      ),
    ),
    terms,
  };
}

import type { NamedCell } from '../compare/comparison-table.ts';
import type { Standing } from '../decisions/decision.ts';
import type { Decision } from '../decisions/decisions.ts';
import type { ClaimFinding } from './audit.ts';
import { alteredUnder } from './records-under.ts';
import type { ClaimSnapshot, DeviceSnapshot, Snapshot } from './snapshot.ts';

/** A decision that comes, goes, moves or is opened again. */
export interface DecisionChange {
  readonly id: string;
  readonly deviceId: string;
  readonly name: string;
  /** Probability before and after; null where there is no such decision. */
  readonly before: number | null;
  readonly after: number | null;
  readonly standingBefore: Standing | null;
  readonly standingAfter: Standing | null;
}

/** A cell of the comparison table that reads otherwise. */
export interface CellChange {
  readonly specimenId: string;
  /** Stable name of the row, such as `sensors.Accelerometer`. */
  readonly row: string;
  readonly label: string;
  readonly unit: string;
  readonly before: CellFigures | null;
  readonly after: CellFigures | null;
}

export type CellFigures = Pick<NamedCell, 'certain' | 'expected' | 'possible'>;

/** A point of a trend by year that a device moves: of a share of devices with a category or a pattern. */
export interface TrendPointChange {
  /** Such as `category PressureSensor` or `pattern duplicated-sensors`. */
  readonly subject: string;
  readonly year: number;
  readonly deviceId: string;
  /** What the device adds to the expected number of devices of its year, before and after. */
  readonly before: number;
  readonly after: number;
}

/** A sentence whose number or fit changes. */
export interface ClaimChange {
  readonly id: string;
  readonly publicationId: string;
  readonly publicationTitle: string;
  readonly sentence: string;
  readonly before: number | null;
  readonly after: number | null;
  /** What is wrong with it after the change and was not before. */
  readonly newFindings: readonly ClaimFinding[];
  /** What was wrong with it and no longer is. */
  readonly settledFindings: readonly ClaimFinding[];
  /** What was wrong with it and still is, with other numbers; as it is after the change. */
  readonly movedFindings: readonly ClaimFinding[];
  /** Whether nothing is wrong with it after the change, and nothing under it changed. */
  readonly fits: boolean;
  /** The wording that would fit after the change; null without a number, and where the wording fits. */
  readonly proposal: string | null;
}

/** The result of a change. */
export interface Difference {
  /** Devices looked at, by id. */
  readonly devices: readonly string[];
  readonly gained: readonly DecisionChange[];
  readonly lost: readonly DecisionChange[];
  readonly moved: readonly DecisionChange[];
  readonly cells: readonly CellChange[];
  readonly trendPoints: readonly TrendPointChange[];
  readonly claims: readonly ClaimChange[];
}

/** What differs between two snapshots of the same devices and claims. */
export function differenceOf(before: Snapshot, after: Snapshot): Difference {
  const devices = [...new Set([...before.devices.keys(), ...after.devices.keys()])].sort();
  const decisions = devices.flatMap((id) => decisionChanges(before.devices.get(id), after.devices.get(id)));
  return {
    devices,
    gained: decisions.filter((one) => one.before === null),
    lost: decisions.filter((one) => one.after === null),
    moved: decisions.filter((one) => one.before !== null && one.after !== null),
    cells: devices.flatMap((id) => cellChanges(before.devices.get(id), after.devices.get(id))),
    trendPoints: devices.flatMap((id) => trendPoints(id, before.devices.get(id), after.devices.get(id))),
    claims: claimChanges(before.claims, after.claims),
  };
}

function keysOf<K>(...maps: readonly (ReadonlyMap<K, unknown> | undefined)[]): readonly K[] {
  return [...new Set(maps.flatMap((map) => [...(map?.keys() ?? [])]))];
}

function decisionChanges(
  before: DeviceSnapshot | undefined,
  after: DeviceSnapshot | undefined,
): DecisionChange[] {
  const was = byId(before?.decisions);
  const is = byId(after?.decisions);
  return keysOf(was, is).flatMap((id) => {
    const [a, b] = [was.get(id), is.get(id)];
    const { deviceId, name } = (a ?? b) as Decision;
    if (a && b && a.probability === b.probability && a.standing === b.standing) return [];
    return {
      id,
      deviceId,
      name,
      before: a?.probability ?? null,
      after: b?.probability ?? null,
      standingBefore: a?.standing ?? null,
      standingAfter: b?.standing ?? null,
    };
  });
}

function byId(decisions: readonly Decision[] = []): ReadonlyMap<string, Decision> {
  return new Map(decisions.map((one) => [one.id, one]));
}

function cellChanges(before: DeviceSnapshot | undefined, after: DeviceSnapshot | undefined): CellChange[] {
  return keysOf(before?.cells, after?.cells).flatMap((key) => {
    const [a, b] = [before?.cells.get(key), after?.cells.get(key)];
    const [specimenId, row] = key.split(' ') as [string, string];
    const { label, unit } = (a ?? b) as NamedCell;
    const [was, is] = [figuresOf(a), figuresOf(b)];
    if (JSON.stringify(was) === JSON.stringify(is)) return [];
    return { specimenId, row, label, unit, before: was, after: is };
  });
}

function figuresOf(cell: NamedCell | undefined): CellFigures | null {
  return cell ? { certain: cell.certain, expected: cell.expected, possible: cell.possible } : null;
}

function trendPoints(
  deviceId: string,
  before: DeviceSnapshot | undefined,
  after: DeviceSnapshot | undefined,
): TrendPointChange[] {
  const [was, is] = [subjectsOf(before), subjectsOf(after)];
  return keysOf(was, is).flatMap((key) => {
    const [a, b] = [was.get(key) ?? 0, is.get(key) ?? 0];
    if (a === b) return [];
    const [subject, year] = key.split('@');
    return { subject, year: Number(year), deviceId, before: a, after: b };
  });
}

/** What the device adds to each trend, by subject and year. */
function subjectsOf(device: DeviceSnapshot | undefined): ReadonlyMap<string, number> {
  if (!device) return new Map();
  const { year, terms, decisions } = device;
  return new Map([
    ...[...terms].map(([term, chance]) => [`category ${term}@${year}`, chance] as const),
    ...decisions.map(({ patternId, shape }) => [`pattern ${patternId}@${year}`, shape] as const),
  ]);
}

function claimChanges(before: readonly ClaimSnapshot[], after: readonly ClaimSnapshot[]): ClaimChange[] {
  const was = new Map(before.map((one) => [one.id, one]));
  return after.flatMap((now) => {
    const then = was.get(now.id);
    const old = byAbout(then?.findings);
    const current = byAbout(now.findings);
    const altered = then ? alteredUnder(then.records, now.records) : [];
    const newFindings = [...now.findings.filter((one) => !old.has(keyOf(one))), ...altered];
    const settledFindings = (then?.findings ?? []).filter((one) => !current.has(keyOf(one)));
    const movedFindings = now.findings.filter((one) => (old.get(keyOf(one)) ?? one.message) !== one.message);
    const [p, q] = [then?.support.probability ?? null, now.support.probability];
    if (p === q && [newFindings, settledFindings, movedFindings].every((list) => list.length === 0))
      return [];
    return {
      id: now.id,
      publicationId: now.publication.id,
      publicationTitle: now.publication.title,
      sentence: now.claim.sentence,
      before: p,
      after: q,
      newFindings,
      settledFindings,
      movedFindings,
      fits: now.findings.length === 0 && altered.length === 0,
      proposal: now.findings.length > 0 ? now.proposal : null,
    };
  });
}

/** A finding is the same before and after when kind and subject are, whatever its numbers. */
function keyOf({ kind, about }: ClaimFinding): string {
  return `${kind} ${about}`;
}

function byAbout(findings: readonly ClaimFinding[] = []): ReadonlyMap<string, string> {
  return new Map(findings.map((one) => [keyOf(one), one.message]));
}

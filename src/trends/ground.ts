import type { Device } from '../model/dossier.ts';
import { COLUMN, COLUMNS, type ComponentColumns, categoryNumber } from '../state/component-columns.ts';
import { compareText } from '../state/device-list.ts';
import type { Live } from '../state/live.ts';
import type { Audience, View } from '../state/view.ts';

/** What a view sees of devices, made once for all questions asked of an unchanged archive. */
export interface Ground {
  /** Visible devices, by id. */
  readonly devices: readonly Device[];
  /** Devices somebody looked into: a visible specimen of theirs has a component on record. */
  readonly lookedInto: ReadonlySet<string>;
  /** Devices with a chip of which nobody has said what it does. */
  readonly unidentified: ReadonlySet<string>;
  /** Different for every ground of a process: a key for what is worked out from it. */
  readonly number: number;
}

/** A ground and how long it holds: until an entry comes in, or an embargo ends. */
interface Kept {
  readonly ground: Ground;
  readonly sequence: number;
  readonly from: string;
  readonly until: string | undefined;
}

let made = 0;

/** What the view sees of devices. */
export function groundOf(view: View): Ground {
  const kept = view.derived(keptGrounds);
  const known = kept.get(view.audience);
  if (known && holds(known, view)) return known.ground;
  const ground = makeGround(view);
  kept.set(view.audience, {
    ground,
    sequence: view.state.sequence,
    from: view.now,
    until: nextEmbargoEnd(view),
  });
  return ground;
}

const keptGrounds = (_: Live) => new Map<Audience, Kept>();

function holds({ sequence, from, until }: Kept, view: View): boolean {
  return sequence === view.state.sequence && view.now >= from && (until === undefined || view.now < until);
}

function makeGround(view: View): Ground {
  const lookedInto = new Set<string>();
  const unidentified = new Set<string>();
  for (const { deviceId, columns } of view.specimenRows()) {
    if (columns.length > 0) lookedInto.add(deviceId);
    if (holdsUnidentified(columns)) unidentified.add(deviceId);
  }
  made++;
  const devices = [...view.devices()].sort((a, b) => compareText(a.id, b.id));
  return { devices, lookedInto, unidentified, number: made };
}

/** Categories that say how a thing is packed and not what it does; 0 is a component of which nothing is known. */
const SAY_NOTHING = new Set([0, categoryNumber('IntegratedCircuit'), categoryNumber('Module')]);

function holdsUnidentified(columns: ComponentColumns): boolean {
  for (let at = 0; at < columns.length; at += COLUMNS) {
    if (columns[at + COLUMN.part] === 0 && SAY_NOTHING.has(columns[at + COLUMN.category])) return true;
  }
  return false;
}

/** What must be said of devices of which a chip is not identified, when components or patterns are counted. */
export function unidentifiedCaution(view: View, devices: readonly Device[]): readonly string[] {
  const { unidentified } = groundOf(view);
  const count = devices.filter(({ id }) => unidentified.has(id)).length;
  return count === 0
    ? []
    : [
        `Devices with a chip of which nobody has said what it does: ${count}; it counts for nothing here, though it may be one.`,
      ];
}

/** The first instant after the view's own at which some embargo ends. */
function nextEmbargoEnd(view: View): string | undefined {
  let next: string | undefined;
  for (const { visibility, embargoUntil } of view.state.specimens.values()) {
    if (visibility !== 'embargoed' || embargoUntil === undefined) continue;
    const end = new Date(embargoUntil).toISOString();
    if (end > view.now && (next === undefined || end < next)) next = end;
  }
  return next;
}

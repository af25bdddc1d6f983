import { type Decision, decisionById } from '../decisions/decisions.ts';
import type { Part } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { parseDecisionId, recordOfId, specimenNamed } from '../model/ids.ts';
import { compareText } from '../state/device-list.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { View } from '../state/view.ts';
import type { DeviceFilter } from '../trends/filter.ts';
import { devicesWhere as devicesIn } from '../trends/filter.ts';
import { groundOf } from '../trends/ground.ts';
import { type DeviceWeight, deviceWeights, type Subject } from '../trends/subject.ts';

/** The archive as a request sees it, possibly with a change tried out on a few devices. */
export interface Sight {
  /** The archive as it stands. */
  readonly view: View;
  /** The view that answers for a device: the same, or that of a state in which the change was made. */
  viewFor(deviceId: string): View;
  /** The view that answers for patterns that span the archive. */
  across(): View;
  part(id: string): Part | undefined;
  /** Devices that pass, by id. */
  devicesWhere(filter: DeviceFilter): readonly Device[];
  /** Whether somebody looked into a device. */
  lookedInto(deviceId: string): boolean;
  weights(subject: Subject): Promise<ReadonlyMap<string, DeviceWeight>>;
}

/** The archive as it stands. */
export function sightOf(view: View, signal?: AbortSignal): Sight {
  return {
    view,
    viewFor: () => view,
    across: () => view,
    part: (id) => view.part(id),
    devicesWhere: (filter) => devicesIn(view, filter),
    lookedInto: (id) => groundOf(view).lookedInto.has(id),
    weights: (subject) => deviceWeights(view, subject, signal),
  };
}

/**
 * The archive with some devices as they are in another state.
 * @param small view of the state that holds these devices and the parts that differ
 * @param wide makes a view of that state with all devices, for patterns that span the archive; called when one is asked
 * about
 */
export function sightWith(
  view: View,
  small: View,
  devices: ReadonlySet<string>,
  wide: () => View,
  signal?: AbortSignal,
): Sight {
  let widened: View | undefined;
  const all = () => {
    widened ??= wide();
    return widened;
  };
  return {
    view,
    viewFor: (id) => (devices.has(id) ? small : view),
    across: all,
    part: (id) => small.part(id) ?? view.part(id),
    devicesWhere(filter) {
      const others = devicesIn(view, filter).filter(({ id }) => !devices.has(id));
      const changed = devicesIn(small, withoutNames(filter, small)).filter(({ id }) => devices.has(id));
      return [...others, ...changed].sort((a, b) => compareText(a.id, b.id));
    },
    lookedInto: (id) => groundOf(devices.has(id) ? small : view).lookedInto.has(id),
    async weights(subject) {
      if (spansTheArchive(view, subject)) return deviceWeights(all(), subject, signal);
      const weights = new Map(await deviceWeights(view, subject, signal));
      for (const id of devices) weights.delete(id);
      if (!knows(small, subject)) return weights;
      for (const [id, weight] of await deviceWeights(small, subject, signal)) weights.set(id, weight);
      return weights;
    },
  };
}

/** A maker or product line that the small state does not hold is that of none of its devices. */
function withoutNames(filter: DeviceFilter, small: View): DeviceFilter {
  const unknown =
    (filter.maker && !small.maker(filter.maker)) ||
    (filter.productLine && !small.productLine(filter.productLine));
  // No device was released before the calendar began.
  return unknown ? { to: '0001' } : filter;
}

function spansTheArchive(view: View, subject: Subject): boolean {
  const id = 'pattern' in subject ? subject.pattern : 'decision' in subject ? subject.decision : undefined;
  return id !== undefined && view.pattern(id)?.scope === 'archive';
}

function knows(small: View, subject: Subject): boolean {
  if ('maker' in subject) return small.maker(subject.maker) !== undefined;
  if ('part' in subject) return small.part(subject.part) !== undefined;
  return true;
}

/** The specimen of an id, `device/specimen`, or of something inside it. */
export function specimenIn(sight: Sight, id: string): OpenedSpecimen | undefined {
  return sight.viewFor(recordOfId(id)).specimen(specimenNamed(id));
}

/** A decision by its id. */
export function decisionIn(sight: Sight, id: string, signal?: AbortSignal): Promise<Decision | undefined> {
  const { device, pattern } = parseDecisionId(id) ?? { device: '', pattern: '' };
  const across = sight.view.pattern(pattern)?.scope === 'archive';
  return decisionById(across ? sight.across() : sight.viewFor(device), id, signal);
}

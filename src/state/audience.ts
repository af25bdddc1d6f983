import type { CatalogueRecord, Collection, Maker, Publication } from '../model/catalogue.ts';
import { type Correction, subjectOf } from '../model/correction.ts';
import { parseDecisionId } from '../model/ids.ts';
import type { Visible } from '../model/visibility.ts';
import type { Changes } from './changes.ts';
import { type DeviceRow, type Facts, FactsDraft } from './facts.ts';
import { putRecord } from './fold.ts';
import { unlinkRecord, unlinkSpecimen } from './linked.ts';
import type { Names } from './names.ts';

/** Readers see what is published; the desk sees everything. */
export type Audience = 'reader' | 'desk';

/** Whether readers may see something at an instant (ISO 8601 in UTC). */
export function isOpen({ visibility, embargoUntil }: Visible, now: string): boolean {
  return (
    visibility === 'published' ||
    (visibility === 'embargoed' && embargoUntil !== undefined && new Date(embargoUntil).toISOString() <= now)
  );
}

/**
 * The facts that readers may see, updated: of everything that changed, what is open is the same as for the desk, and
 * the rest is absent. Makers of devices and product lines are known only through visible devices. Rows and records are
 * shared with the desk's facts. Returns the same object when nothing changed for readers.
 * @param reader the readers' facts before
 * @param changes what may differ since; everything, when there were none
 * @param now the instant at which embargoes are judged, ISO 8601 in UTC
 */
export function readersFacts(reader: Facts, desk: Facts, changes: Changes, now: string, names: Names): Facts {
  const opening = new Opening(reader, desk, now, names);
  const devices = new Set([...changes.devices, ...changes.records.devices]);
  for (const id of changes.specimens) {
    const row = desk.specimens.get(id);
    if (row) devices.add(row.deviceId);
  }
  for (const id of devices) opening.device(id);
  for (const collection of ['parts', 'sources', 'patterns', 'publications'] as const)
    for (const id of changes.records[collection]) opening.record(collection, id);
  for (const id of changes.records.makers) opening.named.add(id);
  for (const id of changes.records.productLines) opening.named.add(id);
  for (const id of opening.named) {
    opening.record('makers', id);
    opening.record('productLines', id);
  }
  opening.judgements(changes.decisions);
  opening.corrections();
  return opening.done();
}

class Opening {
  /** Makers and product lines of devices that came, went or changed. */
  readonly named = new Set<string>();
  readonly #before: Facts;
  readonly #desk: Facts;
  readonly #now: string;
  readonly #draft: FactsDraft;
  /** Devices that became visible or hidden for readers. */
  readonly #turned = new Set<string>();
  #isChanged = false;

  constructor(before: Facts, desk: Facts, now: string, names: Names) {
    this.#before = before;
    this.#desk = desk;
    this.#now = now;
    this.#draft = new FactsDraft(before, names);
  }

  /** A device and its specimens: visible when its record or one of its specimens is. */
  device(id: string): void {
    const row = this.#desk.devices.get(id);
    const before = this.#before.devices.get(id);
    const open = (row?.specimens ?? []).filter((specimen) =>
      this.#isOpen(this.#desk.specimens.get(specimen)),
    );
    for (const specimen of new Set([...(before?.specimens ?? []), ...(row?.specimens ?? [])]))
      this.#specimen(specimen, open.includes(specimen));
    const isVisible = open.length > 0 || this.#isOpen(this.#desk.records.devices.get(id));
    const now = row && isVisible ? asSeen(row, open) : undefined;
    this.#put('devices', id, isVisible ? this.#desk.records.devices.get(id) : undefined);
    if (now === undefined && before === undefined) return;
    if (now && before && sameRow(now, before)) return;
    this.#isChanged = true;
    if ((now === undefined) !== (before === undefined)) this.#turned.add(id);
    for (const device of [now?.device, before?.device]) {
      if (device) this.named.add(device.maker);
      if (device?.productLine !== undefined) this.named.add(device.productLine);
    }
    if (now) this.#draft.devices.set(id, now);
    else this.#draft.devices.delete(id);
  }

  #specimen(id: string, isVisible: boolean): void {
    const row = isVisible ? this.#desk.specimens.get(id) : undefined;
    const before = this.#draft.specimens.get(id);
    if (row === before) return;
    this.#isChanged = true;
    if (row) {
      this.#draft.putSpecimen(row);
      const links = this.#desk.links.outOf(id);
      this.#draft.links.describe(id, links);
      for (const [label, to] of links) if (label === 'OPENED_IN') this.#draft.links.describe(to, []);
    } else {
      this.#draft.removeSpecimen(id);
      unlinkSpecimen(this.#draft.links, id);
    }
  }

  record(collection: Exclude<Collection, 'devices'>, id: string): void {
    const record = this.#desk.records[collection].get(id);
    this.#put(collection, id, record && this.#isRecordOpen(collection, id) ? record : undefined);
  }

  #put(collection: Collection, id: string, now: CatalogueRecord | undefined): void {
    const before = this.#before.records[collection].get(id);
    if (now === before) return;
    this.#isChanged = true;
    if (now) putRecord(this.#draft, collection, id, now);
    else if (before) {
      this.#draft.records[collection].delete(id);
      unlinkRecord(this.#draft.links, collection, id, before);
    }
  }

  #isRecordOpen(collection: Exclude<Collection, 'devices'>, id: string): boolean {
    switch (collection) {
      case 'publications':
        return this.#isOpen(this.#desk.records.publications.get(id) as Publication);
      case 'makers':
        return (
          (this.#desk.records.makers.get(id) as Maker).makes.includes('parts') || this.#isNamedByDevice(id)
        );
      case 'productLines':
        return this.#isNamedByDevice(id);
      case 'parts':
      case 'sources':
      case 'patterns':
        return true;
      default:
        return collection satisfies never;
    }
  }

  #isNamedByDevice(id: string): boolean {
    return this.#draft.links.someInto(id, (from) => this.#draft.devices.has(from));
  }

  /** @param changed ids of decisions judged since */
  judgements(changed: Iterable<string>): void {
    const ids = new Set(changed);
    if (this.#turned.size > 0) {
      for (const id of this.#desk.judgements.keys())
        if (this.#turned.has(parseDecisionId(id)?.device ?? '')) ids.add(id);
    }
    for (const id of ids) {
      const isVisible = this.#draft.devices.has(parseDecisionId(id)?.device ?? '');
      const now = isVisible ? this.#desk.judgements.get(id) : undefined;
      if (now === this.#before.judgements.get(id)) continue;
      this.#isChanged = true;
      if (now) this.#draft.judgements.set(id, now);
      else this.#draft.judgements.delete(id);
    }
  }

  corrections(): void {
    const seen = this.#desk.corrections.filter((correction) => this.#seesSubject(correction));
    const before = this.#draft.corrections;
    if (seen.length === before.length && seen.every((correction, i) => correction === before[i])) return;
    this.#isChanged = true;
    before.splice(0, before.length, ...seen);
  }

  #seesSubject({ amendment }: Correction): boolean {
    const id = subjectOf(amendment);
    const { devices, specimens, records } = this.#draft;
    return devices.has(id) || specimens.has(id) || records.parts.has(id);
  }

  done(): Facts {
    if (!this.#isChanged) return this.#before;
    this.#draft.sequence = this.#desk.sequence;
    this.#draft.instant = this.#desk.instant;
    return this.#draft.seal();
  }

  #isOpen(thing: Visible | undefined): boolean {
    return thing !== undefined && isOpen(thing, this.#now);
  }
}

/** A device with its open specimens only; the desk's row when all are open. */
function asSeen(row: DeviceRow, open: readonly string[]): DeviceRow {
  return open.length === row.specimens.length ? row : { ...row, specimens: open };
}

function sameRow(a: DeviceRow, b: DeviceRow): boolean {
  return (
    a === b ||
    (a.device === b.device &&
      a.specimens.length === b.specimens.length &&
      a.specimens.every((id, i) => id === b.specimens[i]))
  );
}

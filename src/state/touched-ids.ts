import { COLLECTIONS, type Collection } from '../model/catalogue.ts';
import type { Facts, SpecimenRow } from './facts.ts';
import type { Touched } from './fold.ts';

/** {@link TouchedIds} at rest. */
export interface SavedTouchedIds {
  readonly records: { readonly [C in Collection]: readonly string[] };
  readonly devices: readonly string[];
  readonly specimens: readonly string[];
  readonly decisions: readonly string[];
  readonly corrections: boolean;
}

/** Ids of what a batch of entries touched. */
export class TouchedIds {
  readonly records = Object.fromEntries(COLLECTIONS.map((name) => [name, new Set<string>()])) as {
    readonly [C in Collection]: Set<string>;
  };
  readonly devices = new Set<string>();
  readonly specimens = new Set<string>();
  readonly decisions = new Set<string>();
  /** Whether a correction was made. */
  corrections = false;

  add({ records, devices, specimens, decisions, corrections }: Touched): void {
    if (corrections) this.corrections = true;
    for (const { collection, id } of records) this.records[collection].add(id);
    for (const id of devices) this.devices.add(id);
    for (const { id } of specimens) this.specimens.add(id);
    for (const id of decisions) this.decisions.add(id);
  }

  addAll(other: TouchedIds): void {
    if (other.corrections) this.corrections = true;
    for (const name of COLLECTIONS) for (const id of other.records[name]) this.records[name].add(id);
    for (const id of other.devices) this.devices.add(id);
    for (const id of other.specimens) this.specimens.add(id);
    for (const id of other.decisions) this.decisions.add(id);
  }

  get isEmpty(): boolean {
    const { devices, specimens, decisions, corrections } = this;
    const isUntouched = COLLECTIONS.every((name) => this.records[name].size === 0);
    return isUntouched && devices.size + specimens.size + decisions.size === 0 && !corrections;
  }

  /** Something of which the visibility may have changed: a record, a device or a specimen. */
  addAnything(id: string, facts: Facts): void {
    if (facts.specimens.has(id)) this.specimens.add(id);
    if (facts.devices.has(id)) this.devices.add(id);
    for (const name of COLLECTIONS) if (facts.records[name].has(id)) this.records[name].add(id);
  }

  /** Everything that is not the same object in both, with the devices of such specimens. */
  static between(a: Facts, b: Facts): TouchedIds {
    const changes = new TouchedIds();
    for (const name of COLLECTIONS)
      for (const id of differing<unknown>(a.records[name], b.records[name])) changes.records[name].add(id);
    for (const id of differing(a.devices, b.devices)) changes.devices.add(id);
    for (const id of differing(a.specimens, b.specimens)) {
      changes.specimens.add(id);
      const { deviceId } = (a.specimens.get(id) ?? b.specimens.get(id)) as SpecimenRow;
      changes.devices.add(deviceId);
    }
    for (const id of differing(a.judgements, b.judgements)) changes.decisions.add(id);
    changes.corrections = a.corrections.length !== b.corrections.length;
    return changes;
  }

  /** As plain data, which JSON holds; {@link saved} takes it up. */
  save(): SavedTouchedIds {
    const { records, devices, specimens, decisions, corrections } = this;
    const ids = Object.fromEntries(COLLECTIONS.map((name) => [name, [...records[name]]]));
    return {
      records: ids as unknown as SavedTouchedIds['records'],
      devices: [...devices],
      specimens: [...specimens],
      decisions: [...decisions],
      corrections,
    };
  }

  static saved({ records, devices, specimens, decisions, corrections }: SavedTouchedIds): TouchedIds {
    const changes = new TouchedIds();
    for (const name of COLLECTIONS) for (const id of records[name]) changes.records[name].add(id);
    for (const id of devices) changes.devices.add(id);
    for (const id of specimens) changes.specimens.add(id);
    for (const id of decisions) changes.decisions.add(id);
    changes.corrections = corrections;
    return changes;
  }

  /** Everything, as if it had just been added. */
  static everythingIn(facts: Facts): TouchedIds {
    const changes = new TouchedIds();
    for (const name of COLLECTIONS)
      for (const id of facts.records[name].keys()) changes.records[name].add(id);
    for (const id of facts.devices.keys()) changes.devices.add(id);
    for (const id of facts.specimens.keys()) changes.specimens.add(id);
    for (const id of facts.judgements.keys()) changes.decisions.add(id);
    return changes;
  }
}

interface ByKey<T> extends Iterable<[string, T]> {
  get(key: string): T | undefined;
  has(key: string): boolean;
}

/** Keys that lead to different objects, or that only one of two maps has. */
function* differing<T>(a: ByKey<T>, b: ByKey<T>): Generator<string> {
  if (a === b) return;
  for (const [key, value] of a) if (b.get(key) !== value) yield key;
  for (const [key] of b) if (!a.has(key)) yield key;
}

import { Map as Persistent } from 'immutable';
import type { CatalogueRecord, Collection } from '../model/catalogue.ts';
import { COLLECTIONS } from '../model/catalogue.ts';
import type { Correction } from '../model/correction.ts';
import type { DecisionJudgement } from '../model/decision.ts';
import type {
  Device,
  Dossier,
  EditorJudgement,
  Identification,
  Observation,
  Photo,
  Withdrawal,
} from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import type { Visible } from '../model/visibility.ts';
import { HeldBy, type HeldByDraft } from './held-by.ts';
import { Links, type LinksDraft } from './links.ts';
import type { ComponentColumns } from './lists/component-columns.ts';
import type { Names } from './names.ts';
import type { PackedDossier } from './packed-dossier.ts';

/**
 * The fold of a journal, or the part of it that an audience may see. A value: it never changes, and the next value
 * shares everything that a change did not touch (persistent maps; Bagwell, "Ideal hash trees", 2001).
 */
export interface Facts {
  /** Sequence and instant of the last entry that changed something in here. */
  readonly sequence: number;
  readonly instant: string;
  readonly records: { readonly [C in Collection]: Persistent<string, CatalogueRecord<C>> };
  readonly devices: Persistent<string, DeviceRow>;
  readonly specimens: Persistent<string, SpecimenRow>;
  /** Specimens that may hold a part, by part id. */
  readonly holders: Persistent<string, HeldBy>;
  /** Links above single components. */
  readonly links: Links;
  /** Editors' judgements of decisions, by decision id, in order. */
  readonly judgements: Persistent<string, readonly DecisionJudgement[]>;
  /** Corrections, in order. */
  readonly corrections: readonly FiledCorrection[];
  /** Records and specimens as readers go on seeing them while the newest version is not open to readers, by id. */
  readonly standingRecords: Persistent<string, Standing<CatalogueRecord>>;
  readonly standingSpecimens: Persistent<string, Standing<SpecimenRow>>;
  /** What was recalled, by id. */
  readonly recalls: Persistent<string, Recall>;
}

/** The version that readers see while the newest one is not open to them. */
export interface Standing<T> {
  readonly version: T;
  /** Sequence of the entry that filed the next version, which they do not see. */
  readonly until: number;
}

export interface Recall {
  /** Sequence of the last recall: no version from before it is shown to readers. */
  readonly sequence: number;
  /** Whether a version was filed since. */
  readonly isFiledAnew: boolean;
  /** Who recalled it, when (ISO 8601) and why; left out where an entry from before recalls hid it. */
  readonly made?: { readonly by: string; readonly on: string; readonly reason: string } | undefined;
}

export interface FiledCorrection {
  readonly correction: Correction;
  /** Sequence of its entry. */
  readonly sequence: number;
}

/** A device and its specimens; its record says who may see it. */
export interface DeviceRow {
  readonly device: Device;
  /** Ids of its specimens, in the order they came. */
  readonly specimens: readonly string[];
}

/**
 * One specimen. Replaced whenever anything in it changes, so that its identity keys whatever is derived from it alone.
 */
export interface SpecimenRow {
  readonly id: string;
  readonly deviceId: string;
  readonly visibility: Dossier['visibility'];
  readonly embargoUntil: string | undefined;
  readonly openedOn: string;
  /** The dossier as last filed. */
  readonly filed: PackedDossier;
  /** What was recorded since, in order. */
  readonly added: Additions;
  readonly columns: ComponentColumns;
  /** Parts that its components may be, by their numbers in `names`. */
  readonly parts: Uint32Array;
  /** Parts and makers that anything in it names, earlier identifications and judgements too, by their numbers in `names`. */
  readonly named: Uint32Array;
  /** Who may see those of its identifications that are not as public as the dossier. */
  readonly marks: readonly Visible[];
  /** Sequence of the last entry that touched it. */
  readonly version: number;
}

export interface Additions {
  readonly observations: readonly Observation[];
  readonly identifications: readonly Identification[];
  readonly judgements: readonly EditorJudgement[];
  readonly withdrawals: readonly WithdrawalOf[];
  /** Photos as recorded since the dossier was filed, each in place of one of the same id or beside the others. */
  readonly photos: readonly Photo[];
  /** Files of its photos that the archive has. */
  readonly photoFiles: readonly PhotoFile[];
}

export interface WithdrawalOf {
  /** Local id of the observation withdrawn. */
  readonly observation: string;
  readonly withdrawn: Withdrawal;
}

export const NO_ADDITIONS: Additions = {
  observations: [],
  identifications: [],
  judgements: [],
  withdrawals: [],
  photos: [],
  photoFiles: [],
};

/** Facts of the same journal, from which rows and records are taken where they are the same: that spares working them out. */
export interface Known {
  readonly facts: Facts;
  /** The row to put in place of one of those facts. */
  rowFor(row: SpecimenRow): SpecimenRow;
}

type Records = { [C in Collection]: Persistent<string, CatalogueRecord<C>> };

export const NO_FACTS: Facts = {
  sequence: 0,
  instant: '',
  records: Object.fromEntries(COLLECTIONS.map((name) => [name, Persistent()])) as unknown as Records,
  devices: Persistent(),
  specimens: Persistent(),
  holders: Persistent(),
  links: Links.none,
  judgements: Persistent(),
  corrections: [],
  standingRecords: Persistent(),
  standingSpecimens: Persistent(),
  recalls: Persistent(),
};

/**
 * Facts while they are being changed, so that not every change costs a copy. Sealing gives the next value; the original
 * stays as it is.
 */
export class FactsDraft {
  sequence: number;
  instant: string;
  readonly records: Records;
  readonly devices: Persistent<string, DeviceRow>;
  readonly specimens: Persistent<string, SpecimenRow>;
  readonly judgements: Persistent<string, readonly DecisionJudgement[]>;
  readonly corrections: FiledCorrection[];
  readonly standingRecords: Facts['standingRecords'];
  readonly standingSpecimens: Facts['standingSpecimens'];
  readonly recalls: Facts['recalls'];
  readonly links: LinksDraft;
  readonly names: Names;
  readonly known: Known | undefined;
  readonly #holders: Persistent<string, HeldBy>;
  /** Sets of holders that this draft has changed already, open for more. */
  readonly #changedHolders = new Map<string, HeldByDraft>();

  constructor(from: Facts, names: Names, known?: Known) {
    this.known = known;
    this.sequence = from.sequence;
    this.instant = from.instant;
    this.records = Object.fromEntries(
      COLLECTIONS.map((name) => [name, from.records[name].asMutable()]),
    ) as unknown as Records;
    this.devices = from.devices.asMutable();
    this.specimens = from.specimens.asMutable();
    this.judgements = from.judgements.asMutable();
    this.corrections = [...from.corrections];
    this.standingRecords = from.standingRecords.asMutable();
    this.standingSpecimens = from.standingSpecimens.asMutable();
    this.recalls = from.recalls.asMutable();
    this.links = from.links.draft();
    this.names = names;
    this.#holders = from.holders.asMutable();
  }

  /** Specimens that may hold a part. */
  holdersOf(part: string): Iterable<string> {
    return this.#changedHolders.get(part) ?? this.#holders.get(part) ?? [];
  }

  /** Puts a specimen's row and lists it under the parts that it may hold, and no others. */
  putSpecimen(row: SpecimenRow): void {
    const before = new Set(this.specimens.get(row.id)?.parts);
    const held = new Set(row.parts);
    for (const part of before) if (!held.has(part)) this.#openHolders(part).delete(row.id);
    for (const part of held) if (!before.has(part)) this.#openHolders(part).add(row.id);
    this.specimens.set(row.id, row);
  }

  removeSpecimen(id: string): void {
    for (const part of new Set(this.specimens.get(id)?.parts)) this.#openHolders(part).delete(id);
    this.specimens.delete(id);
  }

  seal(): Facts {
    for (const [part, draft] of this.#changedHolders) {
      const specimens = draft.seal();
      if (specimens.size > 0) this.#holders.set(part, specimens);
      else this.#holders.delete(part);
    }
    const records = Object.fromEntries(
      COLLECTIONS.map((name) => [name, (this.records[name] as Persistent<string, unknown>).asImmutable()]),
    );
    return {
      sequence: this.sequence,
      instant: this.instant,
      records: records as unknown as Records,
      devices: this.devices.asImmutable(),
      specimens: this.specimens.asImmutable(),
      holders: this.#holders.asImmutable(),
      links: this.links.seal(),
      judgements: this.judgements.asImmutable(),
      corrections: this.corrections,
      standingRecords: this.standingRecords.asImmutable(),
      standingSpecimens: this.standingSpecimens.asImmutable(),
      recalls: this.recalls.asImmutable(),
    };
  }

  #openHolders(number: number): HeldByDraft {
    const part = this.names.textOf(number);
    let open = this.#changedHolders.get(part);
    if (!open) {
      open = (this.#holders.get(part) ?? HeldBy.nothing).draft();
      this.#changedHolders.set(part, open);
    }
    return open;
  }
}

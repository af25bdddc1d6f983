// One pass over everything that may differ between the desk and readers, in an order in which nothing is decided before what
// it depends on; that order is what the file is about, so it stays in one piece.

import type {
  CatalogueRecord,
  Collection,
  DeviceRecord,
  Maker,
  Part,
  ProductLine,
  Publication,
} from '../../model/catalogue.ts';
import { COLLECTIONS, claimIdOf, described } from '../../model/catalogue.ts';
import { subjectOf } from '../../model/correction.ts';
import { componentMeant, isInside, memberId, parseDecisionId, parseId, recordOfId } from '../../model/ids.ts';
import { isMorePublic, isOpen, mostPublic, type Visible } from '../../model/visibility.ts';
import {
  type DeviceRow,
  type Facts,
  FactsDraft,
  type FiledCorrection,
  NO_ADDITIONS,
  NO_FACTS,
  type Recall,
  type SpecimenRow,
} from '../facts.ts';
import { putRecord, rowOf } from '../fold.ts';
import { citedBy, linkSpecimen, unlinkRecord, unlinkSpecimen } from '../linked.ts';
import { dossierOf } from '../merge.ts';
import type { Names } from '../names.ts';
import { PackedDossier } from '../packed-dossier.ts';
import { TouchedIds } from '../touched-ids.ts';
import {
  deviceWithout,
  dossierWithout,
  type Hides,
  identificationKey,
  namesHidden,
  partWithout,
  publicationWithout,
  sameOr,
} from './redaction.ts';

/** Readers see what is published; the desk sees everything. */
export type Audience = 'reader' | 'desk';

/** What readers see of an archive. */
export interface Seen {
  readonly facts: Facts;
  /** Parts, makers, product lines, sources and sentences that the archive has and readers do not see. */
  readonly hidden: ReadonlySet<string>;
  /** Ids of what readers see in another form than the desk: an earlier version, or without what is hidden. */
  readonly differing: ReadonlySet<string>;
}

/** What readers may see now, for a look at an earlier instant: then they see nothing that is hidden from them now. */
export interface SeenNow {
  /** The newest facts of the desk. */
  readonly desk: Facts;
  /** The facts of readers that belong to them. */
  readonly reader: Facts;
  /** The instant at which these were judged. */
  readonly now: string;
}

/**
 * What readers may see, updated: of everything that changed, what is open is the same as for the desk, and the rest is
 * absent, as if it had never been. Where the newest version of something is not open, readers see the one that stands for
 * them. Makers and product lines that say nothing of it are known through visible devices and parts. Rows and records are
 * shared with the desk's facts where they are the same. The facts are the same object when nothing changed for readers.
 *
 * An earlier instant is asked for with the desk's facts of that instant and `seenNow`: something is visible then when it was
 * open then, and is neither recalled since nor hidden now.
 * @param before what readers saw before; {@link seenAnew} where nothing is known
 * @param changes what may differ since
 * @param now the instant at which embargoes are judged, ISO 8601 in UTC
 * @returns also what changed for readers
 */
export function seenByReaders(
  before: Seen,
  desk: Facts,
  changes: TouchedIds,
  now: string,
  names: Names,
  seenNow?: SeenNow,
): { readonly seen: Seen; readonly changes: TouchedIds } {
  return new Opening(before, desk, now, names, seenNow).run(changes);
}

/**
 * What readers may see, with nothing known from before. Everything is judged as in {@link seenByReaders}, begun from what the desk
 * has, since nearly all of it is what readers see: then only what differs is put or taken out, and the rest is shared.
 */
export function seenAnew(desk: Facts, now: string, names: Names, seenNow?: SeenNow): Seen {
  return seenByReaders(allOf(desk), desk, TouchedIds.everythingIn(desk), now, names, seenNow).seen;
}

/**
 * What readers saw at an instant, where it is known what was not the same for them: only that is judged.
 * @param apart what {@link apartFrom} gave for the same facts and instant
 */
export function seenAgain(desk: Facts, apart: TouchedIds, now: string, names: Names): Seen {
  return seenByReaders(allOf(desk), desk, apart, now, names).seen;
}

/** Everything that is not the same object for readers as for the desk: what is hidden, or shown in another form. */
export function apartFrom(desk: Facts, { facts }: Seen): TouchedIds {
  return TouchedIds.between(desk, facts);
}

/** As if readers saw everything. */
function allOf(desk: Facts): Seen {
  const { standingRecords, standingSpecimens, recalls } = NO_FACTS;
  const facts = { ...desk, standingRecords, standingSpecimens, recalls };
  return { facts, hidden: new Set(), differing: new Set() };
}

/** The version of a record that is open to readers by itself. */
function openRecord(
  facts: Facts,
  collection: Collection,
  id: string,
  now: string,
): CatalogueRecord | undefined {
  const newest = facts.records[collection].get(id);
  if (newest && isOpen(newest, now) && !isRecalled(facts, id)) return newest;
  const standing = facts.standingRecords.get(id)?.version;
  return standing && isOpen(standing, now) ? standing : undefined;
}

/** The version of a specimen that is open to readers by itself. */
function openRow(facts: Facts, id: string, now: string): SpecimenRow | undefined {
  const newest = facts.specimens.get(id);
  if (newest && isOpen(newest, now) && !isRecalled(facts, id)) return newest;
  const standing = facts.standingSpecimens.get(id)?.version;
  return standing && isOpen(standing, now) ? standing : undefined;
}

/**
 * Who may see a record, device, specimen or sentence: by the version that readers see, or else by the newest. `recalled` where
 * it was recalled and nothing filed since; undefined where there is no such thing, and where it is known through others.
 */
export function visibleNow(facts: Facts, id: string): Visible | 'recalled' | undefined {
  const row = facts.specimens.get(id);
  const collection = COLLECTIONS.find((one) => facts.records[one].has(id));
  const newest = row ?? (collection && facts.records[collection].get(id));
  if (newest) {
    if (isRecalled(facts, id)) return 'recalled';
    const standing = (facts.standingRecords.get(id) ?? facts.standingSpecimens.get(id))?.version;
    const specimens = facts.devices.get(id)?.specimens ?? [];
    const through = collection === 'devices' ? specimens.flatMap((one) => marksOf(facts, one)) : [];
    const isThroughOthers = collection === 'makers' || collection === 'productLines';
    if (isThroughOthers && newest.visibility === undefined) return undefined;
    return mostPublic([newest, ...(standing ? [standing] : []), ...through]);
  }
  const publication = facts.records.publications.get(recordOfId(id)) as Publication | undefined;
  const seen = publication && visibleNow(facts, publication.id);
  const claim = publication?.claims.find((one) => claimIdOf(publication, one) === id);
  if (!claim || !seen || seen === 'recalled') return claim && seen;
  return isMorePublic(seen, claim) ? claim : seen;
}

function marksOf(facts: Facts, specimen: string): readonly Visible[] {
  const marks = visibleNow(facts, specimen);
  return marks && marks !== 'recalled' ? [marks] : [];
}

/** Whether something was recalled and no version of it filed since. */
export function isRecalled(facts: Facts, id: string): boolean {
  return facts.recalls.get(id)?.isFiledAnew === false;
}

/** Who recalled something, when and why, while no version of it was filed since. */
export function recallOf(facts: Facts, id: string): Recall['made'] {
  return isRecalled(facts, id) ? facts.recalls.get(id)?.made : undefined;
}

/** Rows made for readers, by the row they were made of: made again only where something else is hidden in it. */
const made = new WeakMap<SpecimenRow, { readonly of: string; readonly row: SpecimenRow }>();

class Opening {
  readonly #before: Facts;
  readonly #desk: Facts;
  readonly #now: string;
  readonly #names: Names;
  readonly #seenNow: SeenNow | undefined;
  readonly #draft: FactsDraft;
  readonly #hidden: Set<string>;
  readonly #differing: Set<string>;
  /** What to look at. */
  readonly #todo = new TouchedIds();
  /** What changed for readers. */
  readonly #changed = new TouchedIds();
  /** Makers and product lines of what came, went or changed. */
  readonly #named = new Set<string>();
  /** Parts that became visible or hidden, or of other categories. */
  readonly #turnedParts = new Set<string>();
  /** Devices and patterns that became visible or hidden. */
  readonly #turned = new Set<string>();
  /** Whether something that readers saw became hidden. */
  #closes = false;
  #isChanged = false;
  readonly #hides: Hides;
  /** Parts and makers that readers do not see, and parts that have other categories for them, by their numbers. */
  readonly #hiddenNumbers = new Set<number>();
  readonly #otherNumbers = new Set<number>();

  constructor(before: Seen, desk: Facts, now: string, names: Names, seenNow: SeenNow | undefined) {
    this.#before = before.facts;
    this.#desk = desk;
    this.#now = now;
    this.#names = names;
    this.#seenNow = seenNow;
    this.#draft = new FactsDraft(before.facts, names);
    this.#hidden = new Set(before.hidden);
    this.#differing = new Set(before.differing);
    this.#hides = {
      now,
      part: (id) => this.#hidden.has(id),
      maker: (id) => this.#hidden.has(id),
      productLine: (id) => this.#hidden.has(id),
      device: (id) => desk.devices.has(id) && !this.#draft.devices.has(id),
      anything: (id) => this.#isHidden(id),
      claim: (id) => this.#hidden.has(id),
      identification: (specimen, one) => this.#identificationsHiddenNow(specimen).has(identificationKey(one)),
    };
  }

  run(changes: TouchedIds): { readonly seen: Seen; readonly changes: TouchedIds } {
    const { records, devices, specimens } = this.#todo;
    this.#todo.addAll(changes);
    // What they see in another form follows other things than its own entries.
    for (const id of this.#differing) this.#todo.addAnything(id, this.#desk);
    for (const id of this.#desk.standingRecords.keys()) this.#todo.addAnything(id, this.#desk);
    for (const id of this.#desk.standingSpecimens.keys()) specimens.add(id);
    for (const id of records.makers) this.#judgeMaker(id);
    for (const id of records.sources) this.#judgeSource(id);
    for (const id of records.patterns) this.#judgePattern(id);
    for (const id of records.feeds) this.#put('feeds', id, this.#version('feeds', id));
    for (const id of records.listMappings) this.#put('listMappings', id, this.#version('listMappings', id));
    for (const id of records.publications) this.#judgeSentences(id);
    for (const id of records.productLines) this.#judgeProductLine(id);
    for (const id of records.parts) this.#judgePart(id);
    for (const id of records.parts) this.#putPart(id);
    for (const id of records.devices) devices.add(id);
    this.#addHolders();
    for (const id of specimens) {
      const row = this.#desk.specimens.get(id);
      if (row) devices.add(row.deviceId);
    }
    for (const id of devices) this.#judgeDevice(id);
    for (const id of devices) this.#putDevice(id);
    for (const id of specimens) this.#putSpecimen(id);
    for (const id of records.makers) this.#named.add(id);
    for (const id of records.productLines) this.#named.add(id);
    // Product lines first: makers are known through them as well.
    for (const id of this.#named) this.#putNamed('productLines', id);
    for (const id of this.#named) this.#putNamed('makers', id);
    this.#putPublications();
    this.#putJudgements(changes.decisions);
    this.#putCorrections();
    return this.#done();
  }

  // By itself: which version is open.

  #version(collection: Collection, id: string): CatalogueRecord | undefined {
    return this.#isHiddenNow(collection, id) ? undefined : openRecord(this.#desk, collection, id, this.#now);
  }

  #rowVersion(id: string): SpecimenRow | undefined {
    const now = this.#seenNow;
    if (now && (this.#isRecalledSince(id) || !now.reader.specimens.has(id))) return undefined;
    return openRow(this.#desk, id, this.#now);
  }

  /** Whether something is hidden now from readers who look at an earlier instant. */
  #isHiddenNow(collection: Collection, id: string): boolean {
    const now = this.#seenNow;
    if (!now) return false;
    if (this.#isRecalledSince(id)) return true;
    if (collection === 'devices') return !now.reader.devices.has(id);
    // Whether these are known depends on devices and parts, of which other ones may have been known then.
    return collection === 'makers' || collection === 'productLines'
      ? openRecord(now.desk, collection, id, now.now) === undefined
      : !now.reader.records[collection].has(id);
  }

  #isRecalledSince(id: string): boolean {
    const recall = this.#seenNow?.desk.recalls.get(id);
    return recall !== undefined && recall.sequence > this.#desk.sequence;
  }

  /** What the identifications say that readers do not see now, of a specimen at an earlier instant. */
  #identificationsHiddenNow(specimen: string): ReadonlySet<string> {
    const now = this.#seenNow;
    const row = now && openRow(now.desk, specimen, now.now);
    if (!row || row.marks.every((mark) => isOpen(mark, now.now))) return NOTHING;
    const keys = Map.groupBy(dossierOf(row).identifications, identificationKey);
    // One that says the same as another that they see is hidden by its own mark alone.
    return new Set([...keys].flatMap(([key, all]) => (all.some((one) => isOpen(one, now.now)) ? [] : [key])));
  }

  /** Notes whether something is hidden. @returns whether that is new */
  #note(id: string, isHidden: boolean): boolean {
    if (this.#hidden.has(id) === isHidden) return false;
    if (isHidden) this.#hidden.add(id);
    else this.#hidden.delete(id);
    return true;
  }

  #noteForm(id: string, now: unknown, desk: unknown): void {
    if (now !== undefined && now !== desk) this.#differing.add(id);
    else this.#differing.delete(id);
  }

  #judgeMaker(id: string): void {
    if (!this.#note(id, this.#version('makers', id) === undefined)) return;
    this.#closes ||= this.#hidden.has(id);
    for (const made of this.#desk.links.into(id, 'MADE_BY')) this.#todo.addAnything(made, this.#desk);
    for (const specimen of this.#desk.links.into(id, 'MAY_BE_BY')) this.#todo.specimens.add(specimen);
  }

  #judgeSource(id: string): void {
    const version = this.#version('sources', id);
    this.#put('sources', id, version);
    if (this.#note(id, version === undefined)) this.#addCiting(id);
  }

  #judgePattern(id: string): void {
    const version = this.#version('patterns', id);
    if ((version === undefined) === this.#before.records.patterns.has(id)) this.#turned.add(id);
    this.#closes ||= version === undefined && this.#before.records.patterns.has(id);
    this.#put('patterns', id, version);
  }

  #judgeSentences(id: string): void {
    const seen = this.#version('publications', id) as Publication | undefined;
    const newest = this.#desk.records.publications.get(id) as Publication;
    const open = new Set(
      seen?.claims.flatMap((claim) => {
        const claimId = claimIdOf({ id }, claim);
        return isOpen(claim, this.#now) && !this.#isSentenceHiddenNow(id, claim.id) ? [claimId] : [];
      }),
    );
    const all = new Set([...newest.claims, ...(seen?.claims ?? [])].map((one) => claimIdOf({ id }, one)));
    for (const gone of this.#hidden) if (isInside(gone, id) && !all.has(gone)) this.#hidden.delete(gone);
    for (const claim of all) if (this.#note(claim, !open.has(claim))) this.#addCiting(claim);
  }

  #isSentenceHiddenNow(publication: string, claim: string): boolean {
    const now = this.#seenNow;
    const record =
      now && (openRecord(now.desk, 'publications', publication, now.now) as Publication | undefined);
    const found = record?.claims.find(({ id }) => id === claim);
    return now !== undefined && found !== undefined && !isOpen(found, now.now);
  }

  #addCiting(id: string): void {
    this.#closes ||= this.#hidden.has(id);
    for (const specimen of this.#desk.links.into(id, 'CITES')) this.#todo.specimens.add(specimen);
  }

  #judgeProductLine(id: string): void {
    const version = this.#version('productLines', id) as ProductLine | undefined;
    const isHidden = version === undefined || this.#hidden.has(version.maker);
    if (!this.#note(id, isHidden)) return;
    this.#closes ||= isHidden;
    for (const device of this.#desk.links.into(id, 'IN_LINE')) this.#todo.devices.add(device);
  }

  #judgePart(id: string): void {
    const version = this.#version('parts', id) as Part | undefined;
    const isHidden = version === undefined || this.#hidden.has(version.maker);
    const before = this.#before.records.parts.get(id);
    if (this.#note(id, isHidden)) {
      this.#turnedParts.add(id);
      this.#closes ||= isHidden;
      for (const other of this.#desk.links.into(id, 'RELABELS')) this.#todo.records.parts.add(other);
    } else if (version && before && !sameTerms(version.categories, before.categories))
      this.#turnedParts.add(id);
  }

  #putPart(id: string): void {
    const version = this.#hidden.has(id) ? undefined : (this.#version('parts', id) as Part | undefined);
    const maker = version?.maker ?? this.#before.records.parts.get(id)?.maker;
    if (maker !== undefined) this.#named.add(maker);
    this.#put('parts', id, version && partWithout(version, this.#hides));
  }

  /** Specimens that name a part which became visible or hidden for readers, or that has other categories for them. */
  #addHolders(): void {
    const numbersOf = (ids: Iterable<string>) => [...ids].flatMap((id) => this.#names.find(id) ?? []);
    for (const number of numbersOf(this.#hidden)) this.#hiddenNumbers.add(number);
    for (const number of numbersOf(this.#differing)) {
      const id = this.#names.textOf(number);
      const [part, desk] = [this.#draft.records.parts.get(id), this.#desk.records.parts.get(id)];
      if (part && desk && !sameTerms(part.categories, desk.categories)) this.#otherNumbers.add(number);
    }
    if (this.#turnedParts.size === 0 || this.#todo.specimens.size === this.#desk.specimens.size) return;
    const turned = new Set(numbersOf(this.#turnedParts));
    for (const [id, row] of this.#desk.specimens)
      if (row.named.some((number) => turned.has(number))) this.#todo.specimens.add(id);
  }

  // Devices and specimens.

  /** Specimens that readers see of a device, by its versions and theirs. */
  #openSpecimens(id: string): readonly string[] {
    const row = this.#desk.devices.get(id);
    const record = this.#desk.records.devices.get(id);
    if (!row || !record || this.#hidden.has(record.maker)) return [];
    if (isRecalled(this.#desk, id) && !this.#desk.standingRecords.has(id)) return [];
    return row.specimens.filter((specimen) => this.#rowVersion(specimen) !== undefined);
  }

  /**
   * What readers are told of a device: the newest description that is open. Whoever sees a specimen sees its device, so
   * without one it is the one that stood when another was filed, or the newest.
   */
  #deviceVersion(id: string, open: readonly string[]): DeviceRecord | undefined {
    const version = this.#version('devices', id) as DeviceRecord | undefined;
    const newest = this.#desk.records.devices.get(id);
    const standing = this.#desk.standingRecords.get(id)?.version as DeviceRecord | undefined;
    const seen = version ?? (open.length > 0 ? (standing ?? newest) : undefined);
    return seen && !this.#hidden.has(seen.maker) ? seen : undefined;
  }

  /** Whether a device is seen, so that others may name it. */
  #judgeDevice(id: string): void {
    const open = this.#openSpecimens(id);
    const version = this.#deviceVersion(id, open);
    const before = this.#before.devices.get(id);
    if ((version === undefined) === (before === undefined)) return;
    this.#turned.add(id);
    for (const next of this.#desk.links.into(id, 'SUCCEEDS')) this.#todo.devices.add(next);
    const row = this.#desk.devices.get(id) as DeviceRow;
    // For those that name it; what it says is settled when all devices are known.
    if (version) this.#draft.devices.set(id, before ?? row);
    else {
      this.#closes = true;
      this.#draft.devices.delete(id);
    }
  }

  #putDevice(id: string): void {
    const row = this.#desk.devices.get(id);
    const before = this.#before.devices.get(id);
    const open = this.#openSpecimens(id);
    const version = this.#deviceVersion(id, open);
    for (const specimen of new Set([...(before?.specimens ?? []), ...(row?.specimens ?? [])]))
      this.#todo.specimens.add(specimen);
    const record = version && this.#shown(deviceWithout(version, this.#hides), open);
    this.#put('devices', id, record);
    const now = row && record ? this.#deviceRow(row, before, this.#recordOf('devices', id), open) : undefined;
    this.#noteForm(id, now?.device, row?.device);
    if (now === before) return;
    this.#isChanged = true;
    this.#changed.devices.add(id);
    for (const device of [now?.device, before?.device]) {
      if (device) this.#named.add(device.maker);
      if (device?.productLine !== undefined) this.#named.add(device.productLine);
    }
    if (now) this.#draft.devices.set(id, now);
    else this.#draft.devices.delete(id);
  }

  /** A record that readers see through a specimen alone is as public to them as that. */
  #shown(record: DeviceRecord, open: readonly string[]): DeviceRecord {
    if (isOpen(record, this.#now)) return record;
    const { visibility: _, embargoUntil: __, ...rest } = record;
    const rows = open.flatMap((specimen) => this.#rowVersion(specimen) ?? []);
    return { ...rest, ...(mostPublic(rows) ?? { visibility: 'published' }) };
  }

  /** The row of a device, the same object as before or as the desk's where it says the same. */
  #deviceRow(
    desk: DeviceRow,
    before: DeviceRow | undefined,
    record: DeviceRecord,
    open: readonly string[],
  ): DeviceRow {
    if (record === this.#desk.records.devices.get(record.id))
      return sameOrEither({ device: desk.device, specimens: open }, desk, before);
    const said = described(record);
    const device = [before?.device, desk.device].find((one) => one && isSame(one, said)) ?? said;
    return sameOrEither({ device, specimens: open }, before, desk);
  }

  #putSpecimen(id: string): void {
    const desk = this.#desk.specimens.get(id);
    if (!desk) return;
    const isSeen = this.#draft.devices.get(desk.deviceId)?.specimens.includes(id) ?? false;
    const version = isSeen ? this.#rowVersion(id) : undefined;
    const row = version && this.#seenRow(version, version !== desk);
    this.#noteForm(id, row, desk);
    const before = this.#before.specimens.get(id);
    if (row === before) return;
    this.#isChanged = true;
    this.#changed.specimens.add(id);
    this.#closes ||= row === undefined;
    for (const { links } of [this.#before, this.#desk])
      for (const [label, to] of links.outOf(id)) if (label === 'MAY_BE_BY') this.#named.add(to);
    if (row) {
      this.#draft.putSpecimen(row);
      if (row === desk) {
        const links = this.#desk.links.outOf(id);
        this.#draft.links.describe(id, links);
        for (const [label, to] of links) if (label === 'OPENED_IN') this.#draft.links.describe(to, []);
      } else {
        linkSpecimen(this.#draft.links, dossierOf(row));
        for (const number of row.named) this.#named.add(this.#names.textOf(number));
      }
    } else {
      this.#draft.removeSpecimen(id);
      unlinkSpecimen(this.#draft.links, id);
    }
  }

  /** A specimen as readers see it: the row itself where nothing in it is hidden. @param stood whether it is an earlier version */
  #seenRow(row: SpecimenRow, stood: boolean): SpecimenRow {
    const { id } = row;
    const hidden = [...row.named].filter((number) => this.#hiddenNumbers.has(number));
    const closed = row.marks.flatMap((mark, i) => (isOpen(mark, this.#now) ? [] : [i]));
    const cited = this.#hidden.size === 0 ? [] : this.#citedHidden(row, stood);
    const hiddenNow = this.#identificationsHiddenNow(id);
    const other = [...row.parts].filter((number) => stood || this.#otherNumbers.has(number));
    const redacts = hidden.length + closed.length + cited.length + hiddenNow.size > 0;
    if (!redacts && other.length === 0) return this.#asBefore(row) ?? row;
    const categoriesOf = (part: string) => this.#draft.records.parts.get(part)?.categories;
    const of = JSON.stringify([hidden, closed, cited, [...hiddenNow]]);
    const before = made.get(row);
    const whole = before?.of === of ? undefined : dossierOf(row);
    if (before && !whole && other.length === 0) return before.row;
    const dossier = redacts
      ? dossierWithout(whole ?? dossierOf(row), id, this.#hides)
      : (whole ?? dossierOf(row));
    const now = rowOf(dossier, {
      filed: redacts ? new PackedDossier(dossier) : row.filed,
      added: redacts ? { ...NO_ADDITIONS, photoFiles: row.added.photoFiles } : row.added,
      names: this.#names,
      categoriesOf,
      version: row.version,
    });
    // What says the same stays the same object, which everything that follows from it is kept by.
    const same = [redacts ? undefined : row, before?.of === of ? before.row : undefined];
    const kept = same.find((one) => one && sameNumbers(one.columns, now.columns)) ?? now;
    made.set(row, { of, row: kept });
    return kept;
  }

  /** The row that readers have already, where the desk's is new for a version of a part that they do not see. */
  #asBefore(row: SpecimenRow): SpecimenRow | undefined {
    const before = this.#before.specimens.get(row.id);
    if (before?.filed !== row.filed || before.added !== row.added) return undefined;
    const hasOther = row.parts.some((number) => this.#differing.has(this.#names.textOf(number)));
    return hasOther && sameNumbers(before.columns, row.columns) ? before : undefined;
  }

  /** Hidden sources and sentences that a specimen cites. */
  #citedHidden(row: SpecimenRow, stood: boolean): readonly string[] {
    const cited = stood
      ? citedBy(dossierOf(row))
      : this.#desk.links.outOf(row.id).flatMap(([label, to]) => (label === 'CITES' ? [to] : []));
    return cited.filter((id) => this.#hidden.has(id));
  }

  // What is known through others.

  #putNamed(collection: 'makers' | 'productLines', id: string): void {
    const version = this.#version(collection, id) as Maker | ProductLine | undefined;
    const isKnown =
      version !== undefined &&
      !this.#hidden.has(id) &&
      (version.visibility !== undefined || this.#isNamed(id));
    if (collection === 'productLines') {
      const line = (version ?? this.#before.records.productLines.get(id)) as ProductLine | undefined;
      const maker = line?.maker;
      if (maker !== undefined) this.#named.add(maker);
    }
    this.#put(collection, id, isKnown ? version : undefined);
  }

  #isNamed(id: string): boolean {
    const { devices, specimens, records, links } = this.#draft;
    return links.someInto(
      id,
      (from) =>
        devices.has(from) || specimens.has(from) || records.parts.has(from) || records.productLines.has(from),
    );
  }

  #putPublications(): void {
    const todo = this.#todo.records.publications;
    // What one is supported by may be anything, inside anything.
    if (this.#closes) for (const id of this.#desk.records.publications.keys()) todo.add(id);
    for (const id of todo) {
      const version = this.#version('publications', id) as Publication | undefined;
      this.#put('publications', id, version && publicationWithout(version, this.#hides));
    }
  }

  /** @param changed ids of decisions judged since */
  #putJudgements(changed: Iterable<string>): void {
    const ids = new Set(changed);
    if (this.#turned.size > 0) {
      for (const id of this.#desk.judgements.keys()) {
        const { device = '', pattern = '' } = parseDecisionId(id) ?? {};
        if (this.#turned.has(device) || this.#turned.has(pattern)) ids.add(id);
      }
    }
    for (const id of ids) {
      const { device = '', pattern = '' } = parseDecisionId(id) ?? {};
      const isVisible = this.#draft.devices.has(device) && !this.#isHidden(pattern);
      const now = isVisible ? this.#desk.judgements.get(id) : undefined;
      if (now === this.#before.judgements.get(id)) continue;
      this.#isChanged = true;
      this.#changed.decisions.add(id);
      if (now) this.#draft.judgements.set(id, now);
      else this.#draft.judgements.delete(id);
    }
  }

  #putCorrections(): void {
    const before = new Map(this.#draft.corrections.map((one) => [one.sequence, one]));
    const seen = this.#desk.corrections.flatMap(
      (one) => this.#seenCorrection(one, before.get(one.sequence)) ?? [],
    );
    const { corrections } = this.#draft;
    if (seen.length === corrections.length && seen.every((one, i) => one === corrections[i])) return;
    this.#isChanged = true;
    this.#changed.corrections = true;
    corrections.splice(0, corrections.length, ...seen);
  }

  /** A correction that readers see, with the publications and sentences that they see. */
  #seenCorrection(filed: FiledCorrection, before: FiledCorrection | undefined): FiledCorrection | undefined {
    const { correction, sequence } = filed;
    const { id, amendment } = correction;
    const subject = subjectOf(amendment);
    const { devices, specimens, records } = this.#draft;
    if (!devices.has(subject) && !specimens.has(subject) && !records.parts.has(subject)) return undefined;
    if (!isOpen(correction, this.#now) || isRecalled(this.#desk, id) || this.#isRecalledSince(id))
      return undefined;
    // It corrected a version that they do not see yet.
    const standing = this.#desk.standingSpecimens.get(subject) ?? this.#desk.standingRecords.get(subject);
    if (standing && sequence >= standing.until && this.#differing.has(subject)) return undefined;
    if (namesHidden(amendment, this.#hides)) return undefined;
    const publications = correction.publications.flatMap((one) => {
      if (!records.publications.has(one.publication)) return [];
      const claims = one.claims.filter(({ claim }) => !this.#hidden.has(claim));
      if (claims.length === one.claims.length) return [one];
      // The text of the notice holds every sentence.
      return claims.length > 0 ? [{ ...one, claims, notice: null }] : [];
    });
    if (publications.length === correction.publications.length) {
      if (publications.every((one, i) => one === correction.publications[i])) return filed;
    }
    const now = { sequence, correction: { ...correction, publications } };
    return before && isSame(before, now) ? before : now;
  }

  // Records.

  #put(collection: Collection, id: string, seen: CatalogueRecord | undefined): void {
    const before = this.#before.records[collection].get(id);
    const desk = this.#desk.records[collection].get(id);
    if (!desk && !before) return;
    const now = seen && (seen === desk ? seen : sameOr(before, sameOr(desk, seen)));
    if (collection !== 'devices') this.#noteForm(id, now, desk);
    if (now === before) return;
    this.#isChanged = true;
    this.#changed.records[collection].add(id);
    if (now) putRecord(this.#draft, collection, id, now);
    else if (before) {
      this.#draft.records[collection].delete(id);
      unlinkRecord(this.#draft.links, collection, id, before);
    }
  }

  #recordOf(collection: 'devices', id: string): DeviceRecord {
    return this.#draft.records[collection].get(id) as DeviceRecord;
  }

  /** Whether the archive has something of which readers do not know. */
  #isHidden(id: string): boolean {
    if (this.#hidden.has(id)) return true;
    const [desk, seen] = [this.#desk, this.#draft];
    const parsed = parseId(id);
    switch (parsed?.form) {
      case 'record':
        return (
          (desk.devices.has(id) && !seen.devices.has(id)) ||
          (desk.records.patterns.has(id) && !seen.records.patterns.has(id)) ||
          (desk.records.feeds.has(id) && !seen.records.feeds.has(id)) ||
          (desk.records.listMappings.has(id) && !seen.records.listMappings.has(id)) ||
          (desk.records.publications.has(id) && this.#version('publications', id) === undefined)
        );
      case 'member':
        return desk.specimens.has(id) && !seen.specimens.has(id);
      case 'thing': {
        const specimen = memberId(parsed.device, parsed.specimen);
        return this.#isHidden(specimen) || this.#isOnlyInNewest(specimen, parsed.local);
      }
      case 'decision':
        return this.#isHidden(parsed.device) || this.#isHidden(parsed.pattern);
      case undefined:
        return false;
      default:
        return parsed satisfies never;
    }
  }

  /** Whether something is in the newest version of a dossier, of which readers see an earlier one without it. */
  #isOnlyInNewest(specimen: string, local: string): boolean {
    const standing = this.#desk.standingSpecimens.get(specimen);
    if (!standing || !this.#differing.has(specimen)) return false;
    const { components, boards, observations, photos, subsystems, nets = [] } = dossierOf(standing.version);
    const all = [boards, observations, photos, subsystems, nets].flat();
    return (
      local !== 'teardown' &&
      !all.some(({ id }) => id === local) &&
      componentMeant(components, local) === undefined
    );
  }

  #done(): { readonly seen: Seen; readonly changes: TouchedIds } {
    const sets = { hidden: this.#hidden, differing: this.#differing };
    if (!this.#isChanged) return { seen: { facts: this.#before, ...sets }, changes: this.#changed };
    this.#draft.sequence = this.#desk.sequence;
    this.#draft.instant = this.#desk.instant;
    return { seen: { facts: this.#draft.seal(), ...sets }, changes: this.#changed };
  }
}

const NOTHING: ReadonlySet<string> = new Set();

function sameTerms(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((term, i) => term === b[i]);
}

function sameNumbers(a: Uint32Array, b: Uint32Array): boolean {
  return a.length === b.length && a.every((number, i) => number === b[i]);
}

function isSame(a: object, b: object): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

function sameOrEither(row: DeviceRow, ...others: readonly (DeviceRow | undefined)[]): DeviceRow {
  return others.find((one) => one && sameRow(one, row)) ?? row;
}

function sameRow(a: DeviceRow, b: DeviceRow): boolean {
  return (
    a.device === b.device &&
    a.specimens.length === b.specimens.length &&
    a.specimens.every((id, i) => id === b.specimens[i])
  );
}

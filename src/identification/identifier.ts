import { hash } from 'node:crypto';
import { type Part, partIdOf } from '../model/catalogue.ts';
import { type Component, type Device, deviceIdOf } from '../model/dossier.ts';
import { type MarkingText, parseMarking } from '../model/marking.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { inTurns, Pace } from '../state/pace.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { CatalogueIndex, type MarkingRatios } from './catalogue-index.ts';
import {
  type Confusion,
  confusionOfReader,
  learntConfusion,
  learntSlips,
  SLIPS,
  type Slips,
  STANDARD_CONFUSION,
  withSlips,
} from './confusion.ts';
import { contributionsOf, ofOneDesign } from './contributions.ts';
import { type Contribution, Habits, type HabitsWithout, habitsWithout, readBy } from './habits.ts';
import type { Lessons } from './held-out.ts';
import {
  Contributions,
  type LessonsRead,
  lessonsIn,
  type SavedLessons,
  savedLessons,
} from './lessons-read.ts';
import { type NextObservation, nextObservations } from './next-observation.ts';
import { PartTable } from './part-table.ts';
import type { PhotoChannel } from './photo-channel.ts';
import { type Posterior, posterior } from './posterior.ts';
import { kindsOf, learntAhead, priorsOf } from './priors.ts';
import { type Sighting, sightingOf } from './sighting.ts';
import { type MarkedChips, MarkedCounts, markedChipsOf, uncataloguedShare } from './uncatalogued-share.ts';
import type { Judgement, PosteriorInput } from './weighing.ts';

/** A part whose marking fits this many times worse than it carries an unlisted one gains nothing from the fit. */
const HARDLY_FITS = 2000;

interface Taught extends LessonsRead {
  readonly row: SpecimenRow;
  readonly deviceId: string;
}

/** What all other devices teach, made ready for the components of one. */
export interface LearntModel {
  readonly habits: HabitsWithout;
  readonly priors: Float64Array;
  readonly kinds: Float64Array;
  /** How often a chip is in no catalogue. */
  readonly uncatalogued: number;
  /** How eyes confuse characters, as learnt from readings of settled parts. */
  readonly confusion: Confusion;
}

interface Everywhere extends Omit<LearntModel, 'kinds' | 'priors'> {
  readonly version: number;
  readonly counts: MarkedCounts;
  /** Devices whose marked chips are counted. */
  readonly counted: ReadonlySet<string>;
}

/** So many devices say well enough how often a chip is in no catalogue; of more every so many-th is asked. */
const DEVICES_ASKED = 500;
/** Steps in which learnt rates of slips are followed when the markings of a whole archive are weighed: factors. */
const STEP_OF_SLIPS = 2;
const LOG_STEP = Math.log(STEP_OF_SLIPS);
/** Parts that are made ready for searching between two turns of others. */
const PARTS_A_STEP = 50;

/**
 * Works out what components may be, from what one audience may see: habits are learnt from visible specimens alone,
 * so that nothing hidden shows through a probability. Follows the archive by the rows of specimens; a change costs work
 * for the specimens it touched.
 */
export class Identifier {
  readonly #confusion: Confusion;
  readonly #habits = new Habits();
  readonly #taught = new Map<string, Taught>();
  readonly #specimensOf = new Map<string, Set<string>>();
  /** What each device teaches, its specimens together. */
  readonly #lessonsOf = new Map<string, readonly Contribution[]>();
  /** What was read of rows ahead of being taught: for something else that unpacked them, or in another process. */
  readonly #ahead = new WeakMap<SpecimenRow, LessonsRead>();
  readonly #contributions = new Contributions();
  #table = new PartTable([]);
  #index: CatalogueIndex;
  #all: Everywhere | undefined;
  /** What markings say for being in the catalogue, while it stays as it is. */
  #weights = new Map<string, number | undefined>();
  /** The rates of slips, and how often a part without listed marking carries its number, by which they were weighed. */
  #weighedBy: { readonly key: string; readonly confusion: Confusion; readonly number: number } | undefined;
  #following: Promise<void> = Promise.resolve();
  /** Lessons for the device asked about last: questions about one device come together. */
  #last: { readonly device: string; readonly version: number; readonly lessons: LearntModel } | undefined;
  /** How many specimens it read itself. */
  readings = 0;
  /** Grows when what is learnt or the catalogue changes: answers of before no longer hold for other devices. */
  habitsVersion = 0;

  /** @param confusion how eyes confuse characters; by default the table that ships with the project */
  constructor(confusion: Confusion = STANDARD_CONFUSION) {
    this.#confusion = confusion;
    this.#index = new CatalogueIndex([], confusion);
  }

  /** Whether a row is still to be read for what it teaches. */
  isUnread(row: SpecimenRow): boolean {
    return this.#taught.get(row.id)?.row !== row && !this.#ahead.has(row);
  }

  /** Reads what a specimen teaches, for the next time that this is brought in step with a view that has it. */
  readAhead(row: SpecimenRow, opened: OpenedSpecimen, device: Device): void {
    this.#ahead.set(row, this.#read(opened, device));
  }

  /** What was read of the rows of a view, to be taken up by another one. */
  save(view: Pick<Lessons, 'specimenRows'>): SavedLessons {
    const read = (row: SpecimenRow) => {
      const taught = this.#taught.get(row.id);
      return taught?.row === row ? taught : this.#ahead.get(row);
    };
    return savedLessons(view.specimenRows(), read, this.#eyes());
  }

  /** Takes up what another one read, if it was of the same eyes. @param rows those of the view that it was of */
  takeUp(saved: SavedLessons, rows: readonly SpecimenRow[]): void {
    if (saved.confusion !== this.#eyes()) return;
    for (const [row, lessons] of lessonsIn(saved, rows)) this.#ahead.set(row, lessons);
  }

  /** Digest of the table of confusions. */
  #eyes(): string {
    const { read, slips } = this.#confusion;
    return hash('sha256', JSON.stringify([[...read], slips]));
  }

  /**
   * One that has learnt nothing yet, of the same eyes. What this one read of specimens without parts that are held out is the same
   * for both, and is not read again.
   * @param view what the other one is going to learn from: rows of the view that this one follows
   */
  unlearnt(view: Pick<Lessons, 'parts' | 'specimenRows'>): Identifier {
    const other = new Identifier(this.#confusion);
    const kept = new Set(view.parts());
    const isHeldOut = new Set(this.#table.parts.flatMap((part) => (kept.has(part) ? [] : [partIdOf(part)])));
    const isSame = ({ table, seen }: Contribution) => table !== 'part' || !isHeldOut.has(seen);
    for (const row of view.specimenRows()) {
      const taught = this.#taught.get(row.id);
      if (taught?.row !== row || !taught.contributions.every(isSame)) continue;
      const { contributions, marked } = taught;
      other.#ahead.set(row, { contributions, marked });
    }
    return other;
  }

  /** Brings habits and catalogue in step with what a view sees now. */
  follow(view: Lessons): void {
    for (const _ of this.#steps(view));
  }

  /**
   * The same, giving others a turn now and then; calls wait for one another.
   * @throws the signal's reason; what was learnt till then is kept, and a later call goes on from there
   */
  followInTurns(view: Lessons, signal?: AbortSignal): Promise<void> {
    return this.#inTurns(this.#steps(view), signal);
  }

  /**
   * Brings the catalogue alone in step, so that specimens can be read ahead, giving others a turn now and then.
   * @throws the signal's reason
   */
  followCatalogueInTurns(view: Lessons, signal?: AbortSignal): Promise<void> {
    return this.#inTurns(this.#followCatalogue(view), signal);
  }

  /** Whether specimens are read by the catalogue of a view. */
  knowsCatalogueOf(view: Pick<Lessons, 'parts'>): boolean {
    return isSameCatalogue(view.parts(), this.#table.parts);
  }

  #inTurns(steps: Generator<void>, signal: AbortSignal | undefined): Promise<void> {
    const following = this.#following.then(async () => {
      const pace = new Pace(signal);
      for (const _ of steps) await pace.rest();
    });
    this.#following = following.catch(() => undefined);
    return following;
  }

  /** Everything that questions need, in steps of a few milliseconds at most. */
  *#steps(view: Lessons): Generator<void> {
    yield* this.#followCatalogue(view);
    yield* this.#followSpecimens(view);
    yield* this.#learnEverywhere();
  }

  /** One step for each specimen that changed. */
  *#followSpecimens(view: Lessons): Generator<void> {
    const seen = new Set<string>();
    for (const row of view.specimenRows()) {
      seen.add(row.id);
      const before = this.#taught.get(row.id);
      if (before?.row === row) continue;
      const device = view.device(row.deviceId);
      let lessons = device && this.#ahead.get(row);
      const opened = lessons || !device ? undefined : view.specimen(row.id);
      if (opened && device) lessons = this.#read(opened, device);
      if (lessons) this.#teach(row.id, { row, deviceId: row.deviceId, ...lessons });
      this.#ahead.delete(row);
      yield;
    }
    if (seen.size === this.#taught.size) return;
    for (const [id, { deviceId }] of this.#taught) {
      if (seen.has(id)) continue;
      this.#taught.delete(id);
      this.#specimensOf.get(deviceId)?.delete(id);
      this.#learnFrom(deviceId);
      this.habitsVersion++;
    }
  }

  #read(opened: OpenedSpecimen, device: Device): LessonsRead {
    this.readings++;
    const contributions = contributionsOf(
      opened,
      device,
      (id) => this.#table.part(id),
      (marking, part) => this.#index.compared(marking, this.#table.numberOf(partIdOf(part)) ?? -1),
    );
    return {
      contributions: this.#contributions.shared(contributions),
      marked: markedChipsOf(opened, (id) => this.#table.part(id) !== undefined),
    };
  }

  /** What a component may be. Call {@link follow} first. */
  posteriorOf(
    specimen: OpenedSpecimen,
    component: Component,
    device: Device,
    judgements: readonly Judgement[] = judgementsOf(specimen, component.id),
  ): Posterior {
    const sighting = sightingOf(specimen, component, device);
    return this.posteriorOfSighting(sighting, deviceIdOf(specimen.dossier), judgements);
  }

  /**
   * The same for a sighting that is not, or not quite, in the archive.
   * @param deviceId the device whose own identifications must not count
   */
  posteriorOfSighting(
    sighting: Sighting,
    deviceId: string,
    judgements: readonly Judgement[] = [],
  ): Posterior {
    return posterior(this.#inputFor(sighting, deviceId, judgements));
  }

  /**
   * The same with what was read of the component on a photo beside all that is recorded, as if somebody had confirmed it.
   * @param deviceId the device whose own identifications must not count
   */
  async posteriorWithPhoto(
    sighting: Sighting,
    channel: PhotoChannel,
    deviceId: string,
    judgements: readonly Judgement[] = [],
  ): Promise<Posterior> {
    const input = this.#inputFor(sighting, deviceId, judgements);
    const lessons = this.lessonsFor(deviceId);
    const { marking } = sighting;
    const eyes = confusionFor(lessons, sighting.reader);
    const both =
      marking && input.marking
        ? await inTurns(this.#index.weighWithPhoto(input.marking, marking, eyes, channel))
        : await inTurns(this.#index.weighPhoto(channel, floorOf(lessons)));
    // Where nothing was recorded the evidence names what was read.
    const seen = marking ? sighting : { ...sighting, marking: channel.suggestion() ?? channel.marking };
    return posterior({ ...input, sighting: seen, marking: both });
  }

  /**
   * What could still be looked at, by bits a minute.
   * @param deviceId the device whose own identifications must not count
   */
  nextObservations(
    sighting: Sighting,
    deviceId: string,
    judgements: readonly Judgement[] = [],
  ): readonly NextObservation[] {
    const lessons = this.lessonsFor(deviceId);
    return nextObservations(this.#inputFor(sighting, deviceId, judgements), {
      weigh: (marking) => this.#weigh(marking, lessons, sighting.reader),
      confusion: confusionFor(lessons, sighting.reader),
      siblings: this.#index.siblings,
    });
  }

  #inputFor(sighting: Sighting, deviceId: string, judgements: readonly Judgement[]): PosteriorInput {
    const lessons = this.lessonsFor(deviceId);
    const { habits, priors, kinds } = lessons;
    const { marking, reader } = sighting;
    return {
      ...{ sighting, habits, priors, kinds, judgements, table: this.#table },
      marking: marking && this.#weigh(marking, lessons, reader),
    };
  }

  #weigh(marking: MarkingText, lessons: LearntModel, reader: string | undefined): MarkingRatios | undefined {
    return this.#index.weigh(marking, floorOf(lessons), confusionFor(lessons, reader));
  }

  /** Parts of the catalogue whose known markings look like a reading, best first. */
  matches(marking: MarkingText, limit?: number): ReturnType<CatalogueIndex['search']> {
    return this.#index.search(marking, limit);
  }

  part(id: string): Part | undefined {
    return this.#table.part(id);
  }

  /** What all devices teach; known already where {@link follow} came to its end. */
  #everywhere(): Everywhere {
    for (const _ of this.#learnEverywhere());
    return this.#all as Everywhere;
  }

  /** One step for each specimen whose marked chips are counted. What is learnt meanwhile makes it begin again. */
  *#learnEverywhere(): Generator<void> {
    while (this.#all?.version !== this.habitsVersion) {
      const version = this.habitsVersion;
      const habits = habitsWithout(this.#habits, new Habits());
      const confusion = this.#confusionOf(habits);
      yield* this.#index.preparing();
      this.#weighAsRead(habits);
      const ids = [...this.#lessonsOf.keys()].sort();
      const step = Math.ceil(ids.length / DEVICES_ASKED);
      const counted = new Set(ids.filter((_, at) => at % step === 0));
      const counts = new MarkedCounts();
      for (const id of counted) {
        // Weighing a marking takes up to some milliseconds; once is enough.
        for (const marking of this.#specimens(id).flatMap(({ marked }) => marked.open)) {
          if (this.#weights.has(marking)) continue;
          this.#weightOf(marking);
          yield;
        }
        this.#count(counts, id);
        yield;
      }
      if (version !== this.habitsVersion) continue;
      const uncatalogued = uncataloguedShare(counts);
      this.#all = { version, habits, uncatalogued, confusion, counts, counted };
    }
  }

  /** Specimens of one device are of one design: all together they count as one. */
  #count(counts: MarkedCounts, device: string, by = 1): void {
    const specimens = this.#specimens(device);
    for (const { marked } of specimens)
      counts.add(marked, (marking) => this.#weightOf(marking), by / specimens.length);
  }

  /** What the specimens of a device teach, in the order of their ids. */
  #specimens(device: string): readonly Taught[] {
    return [...(this.#specimensOf.get(device) ?? [])].sort().flatMap((id) => this.#taught.get(id) ?? []);
  }

  /**
   * Sees that markings are weighed by slips about as frequent as was learnt: a table that is a little off says the same of how
   * many chips are in no catalogue, and markings of the whole archive are weighed again only when it is far off.
   */
  #weighAsRead(habits: HabitsWithout): void {
    const slips = { ...this.#slipsOf(habits) };
    for (const slip of SLIPS)
      slips[slip] =
        this.#confusion.slips[slip] *
        STEP_OF_SLIPS ** Math.round(Math.log(slips[slip] / this.#confusion.slips[slip]) / LOG_STEP);
    const number = Math.max(0.1, Math.round(10 * habits.agreement('number')) / 10);
    const key = JSON.stringify([slips, number]);
    if (this.#weighedBy?.key === key) return;
    this.#weighedBy = { key, confusion: withSlips(this.#confusion, slips), number };
    this.#weights = new Map();
  }

  /** What a marking says for being in the catalogue, by the standard table of confusions and slips about as learnt. */
  #weightOf(marking: string): number | undefined {
    if (!this.#weights.has(marking))
      this.#weights.set(
        marking,
        this.#index.weightOf(parseMarking(marking), this.#weighedBy?.confusion, this.#weighedBy?.number),
      );
    return this.#weights.get(marking);
  }

  /** What all devices but one teach. */
  lessonsFor(deviceId: string): LearntModel {
    if (this.#last?.device === deviceId && this.#last.version === this.habitsVersion)
      return this.#last.lessons;
    const own = new Habits();
    own.add(this.#lessonsOf.get(deviceId) ?? []);
    const habits = habitsWithout(this.#habits, own);
    const all = this.#everywhere();
    const uncatalogued = this.#uncataloguedWithout(deviceId, all);
    const priors = priorsOf(this.#table, habits, { uncatalogued, ahead: learntAhead(this.#table, habits) });
    const isOfOthers = own.total('slip', undefined) === 0 && own.total('reading', undefined) === 0;
    const confusion = isOfOthers ? all.confusion : this.#confusionOf(habits);
    const lessons = { habits, priors, kinds: kindsOf(this.#table, priors), uncatalogued, confusion };
    this.#last = { device: deviceId, version: this.habitsVersion, lessons };
    return lessons;
  }

  /** How eyes confuse characters, and how often they slip, by the readings of settled parts. */
  #confusionOf(habits: HabitsWithout): Confusion {
    const table = withSlips(this.#confusion, this.#slipsOf(habits));
    const truths = this.#habits.givens('reading');
    return learntConfusion(table, table, truths, (truth) => habits.given('reading', truth));
  }

  #slipsOf(habits: HabitsWithout): Slips {
    return learntSlips(this.#confusion.slips, habits.count('slip', 'compared'), (slip) =>
      habits.count('slip', slip),
    );
  }

  #uncataloguedWithout(deviceId: string, { counts, counted, uncatalogued }: Everywhere): number {
    if (!counted.has(deviceId)) return uncatalogued;
    const others = counts.copy();
    this.#count(others, deviceId, -1);
    return uncataloguedShare(others);
  }

  /**
   * The catalogue, when it changed. A changed part raises the versions of the specimens that may hold it, so what they
   * teach is read again without further steps here.
   */
  *#followCatalogue(view: Lessons): Generator<void> {
    const parts = view.parts();
    const { parts: known } = this.#table;
    if (isSameCatalogue(parts, known)) return;
    const index = new CatalogueIndex([], this.#confusion);
    for (const [at, part] of parts.entries()) {
      const { number, markings, categories } = part;
      index.add({ id: partIdOf(part), number, markings, kind: categories[0] });
      if (at % PARTS_A_STEP === 0) yield;
    }
    this.#table = new PartTable(parts);
    this.#index = index;
    this.#weights = new Map();
    this.habitsVersion++;
  }

  #teach(id: string, taught: Taught): void {
    const known = this.#taught.get(id);
    this.#taught.set(id, taught);
    const specimens = this.#specimensOf.get(taught.deviceId);
    if (specimens) specimens.add(id);
    else this.#specimensOf.set(taught.deviceId, new Set([id]));
    if (known && same(known.contributions, taught.contributions) && sameMarked(known.marked, taught.marked))
      return;
    this.#learnFrom(taught.deviceId);
    this.habitsVersion++;
  }

  /** Brings what is learnt from a device in step with its specimens. */
  #learnFrom(device: string): void {
    this.#habits.add(this.#lessonsOf.get(device) ?? [], -1);
    const specimens = this.#specimens(device);
    const lessons = ofOneDesign(specimens.map(({ contributions }) => contributions));
    if (specimens.length === 0) this.#lessonsOf.delete(device);
    else this.#lessonsOf.set(device, lessons);
    this.#habits.add(lessons);
  }
}

/** The log-ratio from which on a part gains from the fit of its marking. */
function floorOf({ habits }: LearntModel): number {
  return Math.log((1 - habits.agreement('marking')) / HARDLY_FITS);
}

/** How one reader confuses characters. */
function confusionFor({ confusion, habits }: LearntModel, reader: string | undefined): Confusion {
  if (reader === undefined) return confusion;
  return habits.remember(`confusion of ${reader}`, () =>
    confusionOfReader(
      confusion,
      (truth) => habits.given('reading-by', readBy(truth, reader)),
      habits.given('slip', reader),
    ),
  );
}

/** Editors' judgements of one component that its dossier holds. */
export function judgementsOf({ dossier }: OpenedSpecimen, component: string): readonly Judgement[] {
  return (dossier.judgements ?? []).filter((one) => one.component === component);
}

function isSameCatalogue(a: readonly Part[], b: readonly Part[]): boolean {
  return a === b || (a.length === b.length && a.every((part, i) => part === b[i]));
}

function sameMarked(a: MarkedChips, b: MarkedChips): boolean {
  return (
    a.settled === b.settled &&
    a.open.length === b.open.length &&
    a.open.every((marking, i) => marking === b.open[i])
  );
}

function same(a: readonly Contribution[], b: readonly Contribution[]): boolean {
  return (
    a.length === b.length &&
    a.every(
      ({ table, given, seen, times }, i) =>
        table === b[i].table && given === b[i].given && seen === b[i].seen && times === b[i].times,
    )
  );
}

import type { OpenedSpecimen } from '../graph/specimen.ts';
import type { View } from '../graph/view.ts';
import { type Part, partIdOf } from '../model/catalogue.ts';
import type { Component, Device } from '../model/dossier.ts';
import { CatalogueIndex } from './catalogueIndex.ts';
import { STANDARD_CONFUSION } from './confusion.ts';
import {
  type Contribution,
  contributionsOf,
  Habits,
  type HabitsWithout,
  habitsWithout,
  packageKey,
} from './habits.ts';
import { type Judgement, type Posterior, posterior } from './posterior.ts';
import { type Sighting, sightingOf } from './sighting.ts';

/** Up to this many parts every one is considered for every component; beyond, those that evidence points to. */
const CONSIDER_ALL = 1_000;
/** Parts considered through each kind of pointer in a larger catalogue. */
const POINTED_TO = 200;

/**
 * Works out what components may be, from what one audience may see: habits are learnt from visible specimens alone,
 * so that nothing hidden shows through a probability. Follows the archive by specimen versions; a change costs work
 * for the specimens it touched.
 */
export class Identifier {
  readonly #habits = new Habits();
  readonly #taught = new Map<
    string,
    { readonly version: number; readonly contributions: readonly Contribution[] }
  >();
  #parts: readonly Part[] = [];
  #byId = new Map<string, Part>();
  #byPackage = new Map<string, Part[]>();
  #index = new CatalogueIndex([], STANDARD_CONFUSION);
  /** Habits without the device asked about last: questions about one device come together. */
  #lastWithout:
    | { readonly device: string; readonly version: number; readonly habits: HabitsWithout }
    | undefined;
  /** Grows when what is learnt or the catalogue changes: answers of before no longer hold for other devices. */
  habitsVersion = 0;

  /** Brings habits and catalogue in step with what a view sees now. */
  follow(view: View): void {
    this.#followCatalogue(view);
    const seen = new Set<string>();
    for (const row of view.specimenRows()) {
      seen.add(row.id);
      const before = this.#taught.get(row.id);
      if (before?.version === row.version) continue;
      const device = view.device(row.deviceId);
      const opened = device && view.specimen(row.id);
      if (opened)
        this.#teach(
          row.id,
          row.version,
          contributionsOf(opened, device, (id) => this.#byId.get(id)),
        );
    }
    for (const [id, { contributions }] of this.#taught) {
      if (seen.has(id)) continue;
      this.#habits.add(contributions, -1);
      this.#taught.delete(id);
      this.habitsVersion++;
    }
  }

  /** What a component may be. Call {@link follow} first. */
  posteriorOf(
    specimen: OpenedSpecimen,
    component: Component,
    device: Device,
    judgements: readonly Judgement[] = [],
  ): Posterior {
    const sighting = sightingOf(specimen, component, device);
    return this.#posterior(sighting, this.#without(specimen.id), judgements);
  }

  /** The same for a sighting that is not, or not quite, in the archive. */
  posteriorOfSighting(
    sighting: Sighting,
    specimenId: string,
    judgements: readonly Judgement[] = [],
  ): Posterior {
    return this.#posterior(sighting, this.#without(specimenId), judgements);
  }

  get index(): CatalogueIndex {
    return this.#index;
  }

  part(id: string): Part | undefined {
    return this.#byId.get(id);
  }

  /** Habits of all devices but the one a specimen belongs to. */
  #without(specimenId: string): HabitsWithout {
    const device = specimenId.slice(0, specimenId.lastIndexOf('/') + 1);
    if (this.#lastWithout?.device === device && this.#lastWithout.version === this.habitsVersion) {
      return this.#lastWithout.habits;
    }
    const own = new Habits();
    for (const [id, { contributions }] of this.#taught) if (id.startsWith(device)) own.add(contributions);
    const habits = habitsWithout(this.#habits, own);
    this.#lastWithout = { device, version: this.habitsVersion, habits };
    return habits;
  }

  #posterior(sighting: Sighting, habits: HabitsWithout, judgements: readonly Judgement[]): Posterior {
    const reading = sighting.marking && this.#index.prepare(sighting.marking);
    return posterior({
      sighting,
      habits,
      parts: this.#considered(sighting, judgements),
      catalogueSize: this.#parts.length,
      markingRatio:
        reading && reading.length > 0 ? (part) => this.#index.ratioOf(partIdOf(part), reading) : undefined,
      judgements,
    });
  }

  #considered({ marking, package: body }: Sighting, judgements: readonly Judgement[]): readonly Part[] {
    if (this.#parts.length <= CONSIDER_ALL) return this.#parts;
    const pointed = new Set<Part>();
    for (const { part } of judgements) add(pointed, this.#byId.get(part));
    if (marking)
      for (const { part } of this.#index.search(marking, POINTED_TO)) add(pointed, this.#byId.get(part));
    if (body && pointed.size < POINTED_TO) {
      const used = (part: Part) => this.#habits.count('part', '', partIdOf(part));
      const fitting = [...(this.#byPackage.get(packageKey(body)) ?? [])].sort((a, b) => used(b) - used(a));
      for (const part of fitting.slice(0, POINTED_TO)) pointed.add(part);
    }
    return [...pointed];
  }

  #followCatalogue(view: View): void {
    const parts = view.parts();
    const unchanged =
      parts.length === this.#parts.length && parts.every((part, i) => part === this.#parts[i]);
    if (unchanged) return;
    this.#parts = parts;
    this.#byId = new Map(parts.map((part) => [partIdOf(part), part]));
    this.#byPackage = Map.groupBy(parts, (part) => packageKey(part.package ?? '')) as Map<string, Part[]>;
    this.#index = new CatalogueIndex(
      parts.map((part) => ({ id: partIdOf(part), number: part.number, markings: part.markings })),
      STANDARD_CONFUSION,
    );
    this.habitsVersion++;
  }

  #teach(id: string, version: number, contributions: readonly Contribution[]): void {
    const before = this.#taught.get(id)?.contributions ?? [];
    this.#taught.set(id, { version, contributions });
    if (same(before, contributions)) return;
    this.#habits.add(before, -1);
    this.#habits.add(contributions);
    this.habitsVersion++;
  }
}

function add<T>(set: Set<T>, item: T | undefined): void {
  if (item !== undefined) set.add(item);
}

function same(a: readonly Contribution[], b: readonly Contribution[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ table, given, seen }, i) => table === b[i].table && given === b[i].given && seen === b[i].seen)
  );
}

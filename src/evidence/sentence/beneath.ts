import { checkOfDecision } from '../../decisions/decision-check.ts';
import { decisionById } from '../../decisions/decisions.ts';
import { type Claim, type Part, partIdOf, type Source } from '../../model/catalogue.ts';
import type { Component, Device, Observation } from '../../model/dossier.ts';
import { recordOfId } from '../../model/ids.ts';
import { fallenIn } from '../../model/standing.ts';
import { isTerm, lineage } from '../../model/taxonomy.ts';
import { type LabelWeights, POSSIBLE } from '../../state/labels.ts';
import { resolve } from '../../state/resolve.ts';
import { localThing, type OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { observationText, type Support } from '../support.ts';
import {
  ofBoard,
  ofComponent,
  ofDevice,
  ofMarking,
  ofNet,
  ofPart,
  ofText,
  type Placed,
  type ValueBeneath,
} from './values.ts';

/** A component under a sentence. */
export interface ComponentBeneath extends Placed {
  readonly id: string;
  readonly labels: LabelWeights;
  /** Whether the sentence names it, and not only something seen of it. */
  readonly isNamed: boolean;
}

/** What lies under a sentence, as far as the sentence can be compared with it. */
export interface Beneath {
  readonly components: readonly ComponentBeneath[];
  readonly parts: readonly Part[];
  readonly values: readonly ValueBeneath[];
  /** Devices of anything under it. */
  readonly devices: ReadonlyMap<string, Device>;
  /** Specimens in which something under it lies, or that are named themselves. */
  readonly specimens: ReadonlyMap<string, OpenedSpecimen>;
  /** Devices and specimens that are named themselves. */
  readonly units: ReadonlySet<string>;
  /** Terms that are under it without a component: of parts, decisions and figures. */
  readonly terms: ReadonlySet<string>;
  /** What is said of the things under it, in words. */
  readonly texts: readonly string[];
  /** Sources: what they say was not read. */
  readonly sources: readonly Source[];
}

/** Claims supported by claims are followed this far. */
const MAX_DEPTH = 16;

/** Gathers what lies under a claim; what is withdrawn or corrected counts no more. @param support of the claim */
export async function beneathOf(
  state: State,
  claim: Claim,
  support: Support,
  signal?: AbortSignal,
): Promise<Beneath> {
  const found = new Gathered(state);
  await found.add(claim, signal, 0);
  for (const { kind, description } of support.items) if (kind === 'figure') found.addFigure(description);
  return found;
}

class Gathered implements Beneath {
  readonly #state: State;
  readonly #components = new Map<string, ComponentBeneath>();
  readonly #whole = new Set<string>();
  readonly parts: Part[] = [];
  readonly values: ValueBeneath[] = [];
  readonly devices = new Map<string, Device>();
  readonly specimens = new Map<string, OpenedSpecimen>();
  readonly units = new Set<string>();
  readonly terms = new Set<string>();
  readonly texts: string[] = [];
  readonly sources: Source[] = [];

  constructor(state: State) {
    this.#state = state;
  }

  get components(): readonly ComponentBeneath[] {
    return [...this.#components.values()];
  }

  async add(
    { supportedBy, figures = [] }: Claim,
    signal: AbortSignal | undefined,
    depth: number,
  ): Promise<void> {
    for (const id of supportedBy) await this.#addId(id, signal, depth);
    for (const figure of figures) {
      const [subject] = 'compare' in figure ? [figure.compare] : Object.values(subjectOf(figure));
      if (isTerm(subject)) this.#addTerms([subject]);
      if ('compare' in figure) for (const id of figure.devices) this.#addDevice(this.#state.device(id));
    }
  }

  addFigure(description: string): void {
    this.texts.push(description);
    this.values.push(...ofText(description, 'the figure'));
  }

  async #addId(id: string, signal: AbortSignal | undefined, depth: number): Promise<void> {
    if (isTerm(id)) return this.#addTerms([id]);
    const found = resolve(this.#state, id);
    switch (found?.kind) {
      case 'Observation':
        return this.#addObservation(found.opened, id, found.thing);
      case 'Component':
        return this.#addComponent(found.opened, id, found.thing, true);
      case 'Board': {
        this.#addSpecimen(found.opened);
        this.texts.push(`${found.thing.name ?? ''} ${found.thing.kind} board`);
        this.values.push(...ofBoard(id, found.thing));
        return;
      }
      case 'Net': {
        this.#addSpecimen(found.opened);
        this.texts.push(`${found.thing.label ?? ''} ${found.thing.kind} net`);
        this.values.push(...ofNet(id, found.thing));
        return;
      }
      case 'Photo':
      case 'Teardown':
        return this.#addSpecimen(found.opened);
      case 'Subsystem': {
        this.#addSpecimen(found.opened);
        this.texts.push(`${found.thing.name ?? ''} ${found.thing.kind}`);
        for (const { id: local, subsystem } of found.opened.counted)
          if (subsystem === found.thing.id) this.#addLocal(found.opened, local, false);
        return;
      }
      case 'Specimen': {
        const opened = this.#state.specimen(id);
        if (opened) this.#addSpecimen(opened);
        this.#addUnit(id, this.#state.device(recordOfId(id)));
        return;
      }
      case 'Device': {
        this.#addUnit(id, found.thing);
        for (const row of this.#state.specimensOf(id)) {
          const opened = this.#state.specimen(row.id);
          if (opened) this.specimens.set(row.id, opened);
        }
        return;
      }
      case 'Part': {
        this.#addPart(found.thing);
        return;
      }
      case 'Decision': {
        const decision = await decisionById(this.#state, id, signal);
        if (!decision) return;
        this.texts.push(found.pattern.name, found.pattern.idea);
        this.#addDevice(found.device);
        for (const term of found.pattern.text.match(/\b[A-Z][A-Za-z]+\b/gu) ?? [])
          if (isTerm(term)) this.#addTerms([term]);
        const [match] = decision.matches;
        for (const bound of match?.bindings.flatMap(({ ids }) => ids) ?? []) {
          const thing = resolve(this.#state, bound);
          if (thing?.kind === 'Component') this.#addComponent(thing.opened, bound, thing.thing, false);
        }
        const sentence = checkOfDecision(this.#state, decision)?.result?.sentence;
        if (sentence) this.values.push(...ofText(sentence, `the check of ${id}`));
        return;
      }
      case 'Claim': {
        this.texts.push(found.thing.sentence);
        this.values.push(...ofText(found.thing.sentence, id));
        if (depth < MAX_DEPTH) await this.add(found.thing, signal, depth + 1);
        return;
      }
      case 'Source':
        this.sources.push(found.thing);
        this.texts.push(found.thing.title);
        return;
      case 'Maker':
      case 'ProductLine':
      case 'Pattern':
        this.texts.push(found.thing.name);
        return;
      case 'Publication':
      case 'Feed':
      case 'ListMapping':
      case undefined:
        return;
      default:
        found satisfies never;
    }
  }

  #addObservation(opened: OpenedSpecimen, id: string, observation: Observation): void {
    if (fallenIn(opened.dossier.observations).has(observation.id)) return;
    this.#addSpecimen(opened);
    this.texts.push(observationText(observation), observation.note ?? '');
    if (observation.value) {
      const { kind, value } = observation;
      this.values.push({ quantity: value, of: `${kind} ${id}`, field: kind });
    }
    this.values.push(...ofText(observation.text ?? '', id), ...ofMarking(observation.marking, id));
    for (const local of [...observation.about, ...(observation.leadsTo ?? [])])
      this.#addLocal(opened, local, false);
  }

  #addLocal(opened: OpenedSpecimen, local: string, isNamed: boolean): void {
    const found = localThing(opened, local);
    if (found?.kind === 'Component') this.#addComponent(opened, found.id, found.thing, isNamed);
    if (found?.kind === 'Board') this.texts.push(`${found.thing.name ?? ''} ${found.thing.kind} board`);
  }

  #addComponent(opened: OpenedSpecimen, id: string, component: Component, isNamed: boolean): void {
    if (this.#components.get(id)?.isNamed ?? (this.#components.has(id) && !isNamed)) return;
    this.#addSpecimen(opened);
    const labels: LabelWeights = opened.named.get(component.id) ?? new Map();
    const before = this.#components.has(id);
    this.#components.set(id, { id, component, opened, labels, isNamed });
    if (before) return;
    this.values.push(...ofComponent(id, component, opened));
    for (const { part, probability } of opened.identified.get(component.id)?.candidates ?? []) {
      const named = part === undefined ? undefined : this.#state.part(part);
      if (named && probability >= POSSIBLE) this.#addPart(named);
    }
  }

  #addPart(part: Part): void {
    if (this.parts.includes(part)) return;
    this.parts.push(part);
    this.texts.push(`${part.number} ${part.name ?? ''}`);
    this.values.push(...ofPart(partIdOf(part), part));
    this.#addTerms(part.categories);
  }

  #addTerms(terms: readonly string[]): void {
    for (const term of terms) for (const above of lineage(term)) this.terms.add(above);
  }

  #addSpecimen(opened: OpenedSpecimen): void {
    this.specimens.set(opened.id, opened);
    const { device } = opened.dossier;
    this.#addDevice(this.#state.device(typeof device === 'string' ? device : device.id));
  }

  #addDevice(device: Device | undefined): void {
    if (!device || this.devices.has(device.id)) return;
    this.devices.set(device.id, device);
  }

  /** What is known of a whole device is under a sentence that names it, or a specimen of it, and under no other. */
  #addUnit(id: string, device: Device | undefined): void {
    this.units.add(id);
    this.#addDevice(device);
    if (!device || this.#whole.has(device.id)) return;
    this.#whole.add(device.id);
    this.values.push(...ofDevice(device));
  }
}

/** The subject of a share, count or trend. */
function subjectOf(figure: Exclude<NonNullable<Claim['figures']>[number], { compare: unknown }>) {
  if ('share' in figure) return figure.share;
  return 'count' in figure ? figure.count : figure.trend;
}

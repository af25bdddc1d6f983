import { designatorOf } from '../../model/designator.ts';
import type { Component, Identification } from '../../model/dossier.ts';
import { thingId } from '../../model/ids.ts';
import { meaningOf } from '../../model/taxonomy.ts';
import { CERTAIN, isCounted, isFitted, type LabelWeights, likeliestCategory } from '../../state/labels.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { idIn } from './instants.ts';
import { enumName } from './words.ts';

// Components and what they are identified as come by the hundred. Their sources are therefore small objects of one
// shape that make a field when it is asked for, which compiled queries read without calling a resolver.

const NO_LABELS: LabelWeights = new Map();

export class ComponentSource {
  readonly view: State;
  readonly opened: OpenedSpecimen;
  readonly record: Component;

  constructor(view: State, opened: OpenedSpecimen, record: Component) {
    this.view = view;
    this.opened = opened;
    this.record = record;
  }

  get __typename() {
    return 'Component' as const;
  }
  get id() {
    return idIn(this.view, this.recordedId);
  }
  /** The id on record, without an instant. */
  get recordedId() {
    return thingId(this.opened.id, this.record.id);
  }
  get localId() {
    return this.record.id;
  }
  get designator() {
    return designatorOf(this.record.id);
  }
  get printed() {
    return this.record.printed;
  }
  get side() {
    return enumName(this.record.side);
  }
  get at() {
    return this.record.at;
  }
  get rotation() {
    return this.record.rotation;
  }
  get body() {
    return this.record.body;
  }
  get value() {
    return this.record.value;
  }
  get fitted() {
    return isFitted(this.record);
  }
  get counted() {
    return isCounted(this.opened.named.get(this.record.id) ?? NO_LABELS);
  }
  get package() {
    return this.record.package;
  }
  get pins() {
    return this.record.pins;
  }
  get marking() {
    return this.record.marking;
  }
  get reading() {
    return this.record.reading;
  }
  get appears() {
    return this.record.appears;
  }
  get note() {
    return this.record.note;
  }
}

export const componentSource = (view: State, opened: OpenedSpecimen, record: Component) =>
  new ComponentSource(view, opened, record);

export class IdentificationSource {
  readonly view: State;
  readonly opened: OpenedSpecimen;
  readonly record: Identification;

  constructor(view: State, opened: OpenedSpecimen, record: Identification) {
    this.view = view;
    this.opened = opened;
    this.record = record;
  }

  get state() {
    return enumName(this.record.state);
  }
  get by() {
    return this.record.by;
  }
  get on() {
    return this.record.on;
  }
  get reason() {
    return this.record.reason;
  }
}

export const identificationSource = (view: State, opened: OpenedSpecimen, record: Identification) =>
  new IdentificationSource(view, opened, record);

export type CandidateSource = ReturnType<typeof candidateSource>;
type Candidate = Identification['candidates'][number];

export function candidateSource(
  { view }: IdentificationSource,
  { part, category, maker, probability }: Candidate,
) {
  return { view, partId: part, category, makerId: maker, probability };
}

/** A term of the taxonomy that may apply to a component. */
export interface Label {
  readonly term: string;
  readonly meaning: string;
  readonly probability: number;
  readonly isCertain: boolean;
}

export function labelOf(term: string, probability: number): Label {
  return { term, meaning: meaningOf(term) ?? term, probability, isCertain: probability >= CERTAIN };
}

const known = new WeakMap<LabelWeights, Label | null>();

/** The most telling category of a component, or null; found once for each reading of its specimen. */
export function categoryOf(opened: OpenedSpecimen, localId: string): Label | null {
  const weights = opened.named.get(localId);
  if (!weights) return null;
  let label = known.get(weights);
  if (label === undefined) {
    const likeliest = likeliestCategory(weights);
    label = likeliest ? labelOf(likeliest.term, likeliest.probability) : null;
    known.set(weights, label);
  }
  return label;
}

import type { Component, Identification } from '../../model/dossier.ts';
import { thingId } from '../../model/ids.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { View } from '../../state/view.ts';
import { enumName } from '../base/enums.ts';

// Components and what they are taken for come by the hundred. Their sources are therefore small objects of one
// shape that make a field when it is asked for, which compiled queries read without calling a resolver.

export class ComponentSource {
  readonly view: View;
  readonly opened: OpenedSpecimen;
  readonly record: Component;

  constructor(view: View, opened: OpenedSpecimen, record: Component) {
    this.view = view;
    this.opened = opened;
    this.record = record;
  }

  get __typename() {
    return 'Component' as const;
  }
  get id() {
    return thingId(this.opened.id, this.record.id);
  }
  get localId() {
    return this.record.id;
  }
  get designator() {
    return this.record.id;
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

export const componentSource = (view: View, opened: OpenedSpecimen, record: Component) =>
  new ComponentSource(view, opened, record);

export class IdentificationSource {
  readonly view: View;
  readonly opened: OpenedSpecimen;
  readonly record: Identification;

  constructor(view: View, opened: OpenedSpecimen, record: Identification) {
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

export const identificationSource = (view: View, opened: OpenedSpecimen, record: Identification) =>
  new IdentificationSource(view, opened, record);

export type CandidateSource = ReturnType<typeof candidateSource>;
type Candidate = Identification['candidates'][number];

export function candidateSource(
  { view }: IdentificationSource,
  { part, category, maker, probability }: Candidate,
) {
  return { view, partId: part, category, makerId: maker, probability };
}

import type { Component, Device, Observation } from '../model/dossier.ts';
import { formatMarking, type MarkingText, parseMarking } from '../model/marking.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { neighboursOf } from './neighbours.ts';
import { countSaid, sidesSaid } from './said-in-words.ts';

/** Everything the bench knows about one component that bears on what it is. */
export interface Sighting {
  readonly component: string;
  readonly marking: MarkingText | undefined;
  readonly package: string | undefined;
  readonly pins: number | undefined;
  /** Longer and shorter side, mm; the longer alone where only one was measured. */
  readonly body: readonly [longer: number, shorter?: number] | undefined;
  readonly side: 'top' | 'bottom' | undefined;
  /** What it plainly looks like. */
  readonly appears: string | undefined;
  readonly neighbours: ReturnType<typeof neighboursOf>;
  readonly deviceMaker: string;
  readonly released: string;
}

/** What a component's own fields say, as far as it stands. */
export type StandingFields = Pick<Component, 'marking' | 'package' | 'pins' | 'body' | 'appears'>;

/**
 * Gathers what was seen of a component: the fields of the dossier and the observations about it alone, those put right
 * by a later one left out. Of several readings of one thing the most complete counts, so the order in which they were
 * recorded plays no part.
 */
export function sightingOf(specimen: OpenedSpecimen, component: Component, device: Device): Sighting {
  const about = specimen.observations.get(component.id) ?? [];
  const kept = standing(about).filter((one) => one.about.length === 1);
  const ofKind = (kind: Observation['kind']) => kept.filter((one) => one.kind === kind);
  const fields = standingFields(specimen, component);
  const { body } = fields;
  return {
    component: component.id,
    marking: best(
      [...ofKind('marking').flatMap(({ marking }) => marking ?? []), fields.marking ?? []].flat(),
    ),
    package: latest(ofKind('package'), ({ text }) => text) ?? fields.package,
    pins: latest(ofKind('pin-count'), countSaid) ?? fields.pins,
    // A size with both sides tells more than a later one with the longer alone.
    body:
      latest(ofKind('body-size'), (one) => bothSides(sidesSaid(one))) ??
      (body && longerFirst(body)) ??
      latest(ofKind('body-size'), sidesSaid),
    side: component.side,
    appears: fields.appears,
    neighbours: neighboursOf(specimen, component.id),
    deviceMaker: device.maker,
    released: device.released,
  };
}

/** A component's own fields but those that merely repeat what was withdrawn or put right. */
export function standingFields(specimen: OpenedSpecimen, component: Component): StandingFields {
  const about = specimen.observations.get(component.id) ?? [];
  const standingOnes = standing(about);
  if (standingOnes.length === about.length) return component;
  const kept = new Set(standingOnes);
  /** Whether the field is as a fallen observation had it, and as no standing one has. */
  const fell = (kind: Observation['kind'], says: (one: Observation) => boolean) => {
    const alike = about.filter((one) => one.kind === kind && says(one));
    return alike.length > 0 && !alike.some((one) => kept.has(one));
  };
  const { marking, package: outline, pins, body, appears } = component;
  const sides = body && longerFirst(body);
  return {
    ...(marking !== undefined && !fell('marking', (one) => sameMarking(one.marking, marking))
      ? { marking }
      : {}),
    ...(outline !== undefined && !fell('package', (one) => samePackage(one.text, outline))
      ? { package: outline }
      : {}),
    ...(pins !== undefined && !fell('pin-count', (one) => countSaid(one) === pins) ? { pins } : {}),
    ...(body && sides && !fell('body-size', (one) => sameSides(sidesSaid(one), sides)) ? { body } : {}),
    ...(appears !== undefined && !fell('appearance', ({ text }) => sameWord(text, appears))
      ? { appears }
      : {}),
  };
}

function sameMarking(said: string | undefined, field: string): boolean {
  return (
    said !== undefined &&
    (said === field || formatMarking(parseMarking(said)) === formatMarking(parseMarking(field)))
  );
}

function samePackage(said: string | undefined, field: string): boolean {
  const plain = (written: string) => written.toUpperCase().replace(/[\s_-]/gu, '');
  return said !== undefined && plain(said) === plain(field);
}

function sameSides(
  said: ReturnType<typeof sidesSaid>,
  [longer, shorter]: readonly [number, number],
): boolean {
  return said !== undefined && said[0] === longer && (said[1] === undefined || said[1] === shorter);
}

function sameWord(said: string | undefined, field: string): boolean {
  return said?.trim().replace(/\.$/u, '').toLowerCase() === field.toLowerCase();
}

function longerFirst({
  length,
  width,
}: NonNullable<Component['body']>): readonly [longer: number, shorter: number] {
  return [Math.max(length, width), Math.min(length, width)];
}

/** Observations that were not withdrawn and that no standing one puts right. */
function standing(observations: readonly Observation[]): readonly Observation[] {
  // Mostly nothing was ever taken back.
  if (observations.every(({ withdrawn, corrects }) => withdrawn === undefined && corrects === undefined))
    return observations;
  const kept = observations.filter(({ withdrawn }) => withdrawn === undefined);
  const corrected = new Set(kept.flatMap(({ corrects }) => corrects ?? []));
  return kept.filter(({ id }) => !corrected.has(id));
}

/** The value of the latest observation that gives one: by date, undated ones first, then by id. */
function latest<T>(
  observations: readonly Observation[],
  gives: (observation: Observation) => T | undefined,
): T | undefined {
  const keyOf = ({ on = '', id }: Observation) => `${on} ${id}`;
  return observations
    .filter((one) => gives(one) !== undefined)
    .toSorted((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1))
    .map(gives)
    .at(-1);
}

function bothSides(sides: ReturnType<typeof sidesSaid>): ReturnType<typeof sidesSaid> {
  return sides?.[1] === undefined ? undefined : sides;
}

/** The reading with most characters read for certain; ties go to the first in the order of text. */
function best(written: readonly string[]): MarkingText | undefined {
  const certain = (marking: MarkingText) =>
    marking.flat().filter(({ options }) => options.length === 1).length;
  return [...new Set(written)]
    .sort()
    .map(parseMarking)
    .reduce<MarkingText | undefined>((a, b) => (a && certain(a) >= certain(b) ? a : b), undefined);
}

import { type NetClues, netCluesOf } from '../classes/net-clues.ts';
import { parseCount, parseSides } from '../classes/parse-measures.ts';
import type { Component, Device, Observation } from '../model/dossier.ts';
import { formatMarking, type MarkingText, parseMarking } from '../model/marking.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { neighboursOf } from './neighbours.ts';

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
  /** What its nets say; undefined where none reaches it. */
  readonly nets?: NetClues | undefined;
  readonly deviceMaker: string;
  readonly released: string;
}

/** A component's own fields, without those that were withdrawn. */
export type StandingFields = Pick<Component, 'marking' | 'package' | 'pins' | 'body' | 'appears'>;

/**
 * Gathers what was seen of a component: the fields of the dossier and the observations about it alone, without those
 * that a later one corrects. Of several readings of one thing the most complete counts, whatever the order in which
 * they were recorded.
 */
export function sightingOf(specimen: OpenedSpecimen, component: Component, device: Device): Sighting {
  const about = specimen.observations.get(component.id) ?? [];
  const kept = standing(about).filter((one) => one.about.length === 1);
  const ofKind = (kind: Observation['kind']) => kept.filter((one) => one.kind === kind);
  const fields = standingFields(specimen, component);
  const { body } = fields;
  const outline = latest(ofKind('package'), ({ text }) => text) ?? fields.package;
  const pins = latest(ofKind('pin-count'), parseCount) ?? fields.pins;
  const nets = netCluesOf(specimen, component, { package: outline, pins });
  return {
    component: component.id,
    marking: best(
      [...ofKind('marking').flatMap(({ marking }) => marking ?? []), fields.marking ?? []].flat(),
    ),
    package: outline,
    pins,
    // A size with both sides is worth more than a later one with the longer side alone.
    body:
      latest(ofKind('body-size'), (one) => bothSides(parseSides(one))) ??
      (body && longerFirst(body)) ??
      latest(ofKind('body-size'), parseSides),
    side: component.side,
    appears: fields.appears,
    neighbours: neighboursOf(specimen, component.id, nets),
    nets,
    deviceMaker: device.maker,
    released: device.released,
  };
}

/** A component's own fields, except those that merely repeat what was withdrawn or corrected. */
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
    ...(pins !== undefined && !fell('pin-count', (one) => parseCount(one) === pins) ? { pins } : {}),
    ...(body && sides && !fell('body-size', (one) => sameSides(parseSides(one), sides)) ? { body } : {}),
    ...(appears !== undefined && !fell('appearance', ({ text }) => sameWord(text, appears))
      ? { appears }
      : {}),
  };
}

function sameMarking(observed: string | undefined, field: string): boolean {
  return (
    observed !== undefined &&
    (observed === field || formatMarking(parseMarking(observed)) === formatMarking(parseMarking(field)))
  );
}

function samePackage(observed: string | undefined, field: string): boolean {
  const plain = (written: string) => written.toUpperCase().replace(/[\s_-]/gu, '');
  return observed !== undefined && plain(observed) === plain(field);
}

function sameSides(
  observed: ReturnType<typeof parseSides>,
  [longer, shorter]: readonly [number, number],
): boolean {
  return (
    observed !== undefined && observed[0] === longer && (observed[1] === undefined || observed[1] === shorter)
  );
}

function sameWord(observed: string | undefined, field: string): boolean {
  return observed?.trim().replace(/\.$/u, '').toLowerCase() === field.toLowerCase();
}

function longerFirst({
  length,
  width,
}: NonNullable<Component['body']>): readonly [longer: number, shorter: number] {
  return [Math.max(length, width), Math.min(length, width)];
}

/** Observations that were not withdrawn and that no standing one corrects. */
function standing(observations: readonly Observation[]): readonly Observation[] {
  // Usually nothing was withdrawn.
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

function bothSides(sides: ReturnType<typeof parseSides>): ReturnType<typeof parseSides> {
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

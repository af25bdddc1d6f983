import type { Component, Observation } from '../model/dossier.ts';
import { formatMarking, parseMarking } from '../model/marking.ts';
import { fallenIn } from '../model/standing.ts';
import type { Board } from './board.ts';
import { parseCount, parseSides } from './parse-measures.ts';

/** A component's own fields, without those that were withdrawn. */
export type StandingFields = Pick<Component, 'marking' | 'package' | 'pins' | 'body' | 'appears'>;

type Observed = Pick<Board, 'dossier' | 'observations'>;

/** What a component looks like, its marking aside. */
export interface Looks {
  readonly package: string | undefined;
  readonly pins: number | undefined;
  /** Longer and shorter side, mm; the longer alone where only one was measured. */
  readonly body: readonly [longer: number, shorter?: number] | undefined;
  /** What it plainly looks like. */
  readonly appears: string | undefined;
}

/**
 * Fields of the dossier and the observations about the component alone, without those that a later one corrects: an observation
 * counts before a field, a later one before an earlier one, and a size with both sides before one with the longer alone.
 */
export function looksOf(board: Observed, component: Component): Looks {
  const kept = standingAbout(board, component.id);
  const ofKind = (kind: Observation['kind']) => kept.filter((one) => one.kind === kind);
  const fields = standingFields(board, component);
  const { body } = fields;
  return {
    package: latest(ofKind('package'), ({ text }) => text) ?? fields.package,
    pins: latest(ofKind('pin-count'), parseCount) ?? fields.pins,
    body:
      latest(ofKind('body-size'), (one) => bothSides(parseSides(one))) ??
      (body && longerFirst(body)) ??
      latest(ofKind('body-size'), parseSides),
    appears: fields.appears,
  };
}

/** Standing observations about a component alone. */
export function standingAbout(board: Observed, component: string): readonly Observation[] {
  return standing(board, component).filter((one) => one.about.length === 1);
}

/** A component's own fields, except those that merely repeat what was withdrawn or corrected. */
export function standingFields(board: Observed, component: Component): StandingFields {
  const about = board.observations.get(component.id) ?? [];
  const standingOnes = standing(board, component.id);
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

/** Observations of a component that still count. */
function standing({ dossier, observations }: Observed, component: string): readonly Observation[] {
  const about = observations.get(component) ?? [];
  const fallen = fallenIn(dossier.observations);
  // Usually nothing was withdrawn.
  return fallen.size === 0 ? about : about.filter(({ id }) => !fallen.has(id));
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

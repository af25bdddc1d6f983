import type { OpenedSpecimen } from '../graph/specimen.ts';
import type { Component, Device, Observation } from '../model/dossier.ts';
import { type MarkingText, parseMarking } from '../model/marking.ts';
import { neighboursOf } from './habits.ts';
import { countSaid, sidesSaid } from './saidInWords.ts';

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

/**
 * Gathers what was seen of a component: the fields of the dossier and the observations about it alone, those put right
 * by a later one left out. Of several readings of one thing the most complete counts, so the order in which they were
 * recorded plays no part.
 */
export function sightingOf(specimen: OpenedSpecimen, component: Component, device: Device): Sighting {
  const alone = (specimen.observations.get(component.id) ?? []).filter(({ about }) => about.length === 1);
  const kept = standing(alone);
  const ofKind = (kind: Observation['kind']) => kept.filter((one) => one.kind === kind);
  /** The component's own field, unless it repeats what was taken back or put right. */
  const field = <T>(kind: Observation['kind'], value: T | undefined, said: (one: Observation) => unknown) => {
    const repeats = (one: Observation) => one.kind === kind && said(one) === value;
    return value !== undefined && alone.some(repeats) && !kept.some(repeats) ? undefined : value;
  };
  const { body, side, appears } = component;
  return {
    component: component.id,
    marking: best(
      [
        ...ofKind('marking').flatMap(({ marking }) => marking ?? []),
        field('marking', component.marking, ({ marking }) => marking) ?? [],
      ].flat(),
    ),
    package:
      latest(ofKind('package'), ({ text }) => text) ??
      field('package', component.package, ({ text }) => text),
    pins: latest(ofKind('pin-count'), countSaid) ?? field('pin-count', component.pins, countSaid),
    // A size with both sides tells more than a later one with the longer alone.
    body:
      latest(ofKind('body-size'), (one) => bothSides(sidesSaid(one))) ??
      (body && ([Math.max(body.length, body.width), Math.min(body.length, body.width)] as const)) ??
      latest(ofKind('body-size'), sidesSaid),
    side,
    appears,
    neighbours: neighboursOf(specimen, component.id),
    deviceMaker: device.maker,
    released: device.released,
  };
}

/** Observations that were not withdrawn and that no standing one puts right. */
function standing(observations: readonly Observation[]): readonly Observation[] {
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

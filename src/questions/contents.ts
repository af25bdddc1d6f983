// What a dossier holds, as lists; synchronous and loaded with the service.

import { comparedOf } from '../compare/representative.ts';
import { compareDesignators } from '../model/designator.ts';
import type { Component } from '../model/dossier.ts';
import type { Net } from '../model/net.ts';
import { isUnder } from '../model/taxonomy.ts';
import { isCounted, likeliestCategory } from '../state/labels.ts';
import { membersOf, type NetMember, type PinOnNet, pinsOf } from '../state/pins.ts';
import { notFound, resolve } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** Which nets to list; conditions not given do not restrict. */
export interface NetFilter {
  readonly kind?: Net['kind'] | null;
  readonly bus?: Net['bus'] | null;
}

/** Nets of a specimen that pass a filter, in the order of the dossier; without those whose evidence was all withdrawn. */
export function netsIn({ nets }: OpenedSpecimen, { kind, bus }: NetFilter): readonly Net[] {
  return kind || bus ? nets.filter((net) => (!kind || net.kind === kind) && (!bus || net.bus === bus)) : nets;
}

/** What a net joins, in the order of the dossier. */
export function netMembers(
  state: State,
  specimen: OpenedSpecimen,
  net: Pick<Net, 'pins'>,
): readonly NetMember[] {
  return membersOf(specimen, net, (part) => state.part(part));
}

/** Pins of a component that are known, each with the net that it is on. */
export function componentPins(
  state: State,
  specimen: OpenedSpecimen,
  component: Component,
): readonly PinOnNet[] {
  return pinsOf(specimen, component, (part) => state.part(part));
}

/**
 * The nets of a specimen, of the specimen that stands for a device, or one net by its id.
 * @returns isOne: whether the id is that of a net
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export function netsUnder(
  state: State,
  id: string,
  filter: NetFilter,
): { readonly specimen: OpenedSpecimen; readonly nets: readonly Net[]; readonly isOne: boolean } {
  const found = resolve(state, id);
  if (found?.kind === 'Net') return { specimen: found.opened, nets: [found.thing], isOne: true };
  if (found?.kind !== 'Device' && found?.kind !== 'Specimen')
    throw notFound(state, id, ['Device', 'Specimen', 'Net']);
  const { specimen } = comparedOf(state, id);
  return { specimen, nets: netsIn(specimen, filter), isOne: false };
}

/** One line of a list of components. */
export interface ListedComponent {
  readonly component: Component;
  /** Whether it counts as a component: see state/labels.ts. */
  readonly isCounted: boolean;
  /** The most specific kind that is at least as likely as not. */
  readonly category: { readonly term: string; readonly probability: number } | undefined;
  /** The likeliest part. */
  readonly part: { readonly id: string; readonly probability: number } | undefined;
}

/**
 * Everything with a place in a specimen, in the specimen that stands for a device, or on a board, by designator; with places
 * where nothing is fitted and what the boards themselves have.
 * @param category only what most likely is of this term or under it
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export function componentsUnder(
  state: State,
  id: string,
  category?: string,
): { readonly specimen: OpenedSpecimen; readonly components: readonly ListedComponent[] } {
  const found = resolve(state, id);
  switch (found?.kind) {
    case 'Board':
      return listed(found.opened, category, ({ board }) => board === found.thing.id);
    case 'Device':
    case 'Specimen':
      return listed(comparedOf(state, id).specimen, category, () => true);
    default:
      throw notFound(state, id, ['Device', 'Specimen', 'Board', 'Component']);
  }
}

function listed(
  specimen: OpenedSpecimen,
  category: string | undefined,
  passes: (component: Component) => boolean,
): { readonly specimen: OpenedSpecimen; readonly components: readonly ListedComponent[] } {
  const components = specimen.dossier.components
    .filter(passes)
    .toSorted((a, b) => compareDesignators(a.id, b.id))
    .map((component) => lineOf(specimen, component))
    .filter((one) => !category || (one.category !== undefined && isUnder(one.category.term, category)));
  return { specimen, components };
}

/** One component of a specimen as lists have it. */
export function lineOf(specimen: OpenedSpecimen, component: Component): ListedComponent {
  const labels = specimen.named.get(component.id) ?? new Map<string, number>();
  const candidates = specimen.identified.get(component.id)?.candidates ?? [];
  const [best] = candidates
    .filter(({ part }) => part !== undefined)
    .toSorted((a, b) => b.probability - a.probability);
  return {
    component,
    isCounted: isCounted(labels),
    category: likeliestCategory(labels),
    part: best?.part === undefined ? undefined : { id: best.part, probability: best.probability },
  };
}

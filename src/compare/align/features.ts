import type { Board } from '../../model/board.ts';
import { designatorOf } from '../../model/designator.ts';
import type { Component } from '../../model/dossier.ts';
import { type Extent, extentOf } from '../../model/outline.ts';
import type { LabelWeights } from '../../state/labels.ts';
import type { PartOf } from '../../state/pins.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import { chanceOfChip } from '../../state/unnamed/open-kinds.ts';
import { type JoinedPair, joinedByNets } from '../joined-pairs.ts';
import { type KindProfile, kindProfile } from './kind-distance.ts';
import { type Identity, identityOf, looksText } from './sameness.ts';
import { profileOf, type Spread, sumOfLabels } from './spread.ts';

/** What an alignment looks at of one component. */
export interface Feature {
  readonly component: Component;
  readonly identity: Identity;
  /** Place of its kind among the specimen's unlike ones. */
  readonly kind: number;
  /** Kind of its subsystem; undefined where the dossier names none. */
  readonly subsystem: string | undefined;
  /** Kinds of what it is joined to; undefined where the dossier lists neither connections nor nets. */
  readonly neighbours: Spread | undefined;
  /** Place on its board, each 0 to 1 of the board's extent. */
  readonly place: { readonly x: number; readonly y: number } | undefined;
  /** Equal for components of one specimen that are the same but for place, name and surroundings. */
  readonly what: string;
  /** Equal for components of one specimen with the same kinds around. */
  readonly around: string;
  /** As printed on the board. */
  readonly designator: string;
  /** Components of one specimen with equal text here are twins: exchanging them says nothing. */
  readonly twin: string;
}

/** One specimen made ready for alignments with many others. */
export interface Features {
  readonly specimen: OpenedSpecimen;
  /** By designator, so that the order in the file plays no part. */
  readonly components: readonly Feature[];
  readonly boards: readonly BoardFeature[];
  /** Unlike kinds, with their doubt, that its components are of: far fewer than components. */
  readonly kinds: readonly KindProfile[];
}

export interface BoardFeature {
  readonly board: Board;
  /** Kinds of what sits on it. */
  readonly carries: Spread;
  /** Extent of its outline, mm; undefined where nobody measured it. */
  readonly extent: Extent | undefined;
}

const NO_LABELS: LabelWeights = new Map();
const made = new WeakMap<OpenedSpecimen, Features>();

/**
 * Features of a specimen, made once for as long as it stays unpacked.
 * @param partOf parts of the catalogue, for their pins
 */
export function featuresOf(specimen: OpenedSpecimen, partOf: PartOf): Features {
  let features = made.get(specimen);
  if (!features) {
    features = makeFeatures(specimen, joinedByNets(specimen, partOf));
    made.set(specimen, features);
  }
  return features;
}

function makeFeatures(specimen: OpenedSpecimen, byNets: readonly JoinedPair[]): Features {
  const { dossier, counted, joined, named: labels, connections } = specimen;
  const boards = dossier.boards.map((board) => ({
    board,
    carries: profileOf(
      sumOfLabels(counted.filter((one) => one.board === board.id).map(({ id }) => labels.get(id))),
    ),
    extent: board.outline && extentOf(board.outline),
  }));
  const extents = new Map(boards.map(({ board, extent }) => [board.id, extent]));
  const subsystems = new Map(dossier.subsystems.map(({ id, kind }) => [id, kind as string]));
  const kinds: KindProfile[] = [];
  const places = new Map<string, number>();
  const kindOf = (weights: LabelWeights, chip: number) => {
    const key = [...[...weights].map(([term, weight]) => `${term} ${weight}`).sort(), chip].join();
    const place = places.get(key) ?? kinds.push(kindProfile(weights, chip)) - 1;
    places.set(key, place);
    return place;
  };
  const isTraced = joined.length > 0 || (dossier.nets ?? []).length > 0;
  const others = new Map<string, string[]>();
  const join = (a: string, b: string) => {
    const known = others.get(a);
    if (known) known.push(b);
    else others.set(a, [b]);
  };
  for (const [a, b] of byNets) {
    join(a, b);
    join(b, a);
  }
  const components = [...counted]
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map((component): Feature => {
      const taken = identityOf(specimen, component);
      const subsystem = component.subsystem === undefined ? undefined : subsystems.get(component.subsystem);
      const met = [
        ...(connections.get(component.id) ?? []).map(({ between: [a, b] }) => (a === component.id ? b : a)),
        ...(others.get(component.id) ?? []),
      ];
      const kind = kindOf(labels.get(component.id) ?? NO_LABELS, chanceOfChip(component));
      const neighbours = isTraced ? profileOf(sumOfLabels(met.map((id) => labels.get(id)))) : undefined;
      return {
        component,
        identity: taken,
        kind,
        subsystem,
        neighbours,
        what: JSON.stringify([kind, [...taken.parts], [...taken.makers], looksText(component)]),
        around: neighbours ? `${neighbours.terms.join()} ${neighbours.amounts.join()}` : '',
        designator: designatorOf(component.id),
        place: placeOf(component, component.board === undefined ? undefined : extents.get(component.board)),
        twin: JSON.stringify([
          [...taken.parts.keys()].sort(),
          component.appears,
          component.board,
          component.side,
          subsystem,
          component.marking,
          component.value,
        ]),
      };
    });
  return { specimen, components, boards, kinds };
}

function placeOf({ at }: Component, extent: Extent | undefined): Feature['place'] {
  if (!at || !extent || extent.length === 0 || extent.width === 0) return undefined;
  return { x: (at.x - extent.left) / extent.length, y: (at.y - extent.bottom) / extent.width };
}

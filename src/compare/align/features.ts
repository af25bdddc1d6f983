import type { Board, Component } from '../../model/dossier.ts';
import type { LabelWeights } from '../../state/labels.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import { type KindProfile, kindProfile } from './kind-distance.ts';
import { type Identity, identityOf } from './sameness.ts';
import { profileOf, type Spread, sumOfLabels } from './spread.ts';

/** What an alignment looks at of one component. */
export interface Feature {
  readonly component: Component;
  readonly identity: Identity;
  /** Place of its kind among the specimen's unlike ones. */
  readonly kind: number;
  /** Kind of its subsystem; undefined where the dossier names none. */
  readonly subsystem: string | undefined;
  /** Kinds of what it connects to; undefined where the dossier lists no connection at all. */
  readonly neighbours: Spread | undefined;
  /** Place on its board, each 0 to 1 of the board's extent. */
  readonly place: { readonly x: number; readonly y: number } | undefined;
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

interface Extent {
  readonly left: number;
  readonly bottom: number;
  readonly length: number;
  readonly width: number;
}

const NO_LABELS: LabelWeights = new Map();
const made = new WeakMap<OpenedSpecimen, Features>();

/** Features of a specimen, made once for as long as it stays unpacked. */
export function featuresOf(specimen: OpenedSpecimen): Features {
  let features = made.get(specimen);
  if (!features) {
    features = makeFeatures(specimen);
    made.set(specimen, features);
  }
  return features;
}

function makeFeatures(specimen: OpenedSpecimen): Features {
  const { dossier, joined, named: labels, connections } = specimen;
  const boards = dossier.boards.map((board) => ({
    board,
    carries: profileOf(
      sumOfLabels(dossier.components.filter((one) => one.board === board.id).map(({ id }) => labels.get(id))),
    ),
    extent: extentOf(board),
  }));
  const extents = new Map(boards.map(({ board, extent }) => [board.id, extent]));
  const subsystems = new Map(dossier.subsystems.map(({ id, kind }) => [id, kind as string]));
  const kinds: KindProfile[] = [];
  const places = new Map<string, number>();
  const kindOf = (weights: LabelWeights) => {
    const key = [...weights]
      .map(([term, weight]) => `${term} ${weight}`)
      .sort()
      .join();
    const place = places.get(key) ?? kinds.push(kindProfile(weights)) - 1;
    places.set(key, place);
    return place;
  };
  const components = [...dossier.components]
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map((component): Feature => {
      const taken = identityOf(specimen, component);
      const subsystem = component.subsystem === undefined ? undefined : subsystems.get(component.subsystem);
      const met = (connections.get(component.id) ?? []).map(({ between: [a, b] }) =>
        labels.get(a === component.id ? b : a),
      );
      return {
        component,
        identity: taken,
        kind: kindOf(labels.get(component.id) ?? NO_LABELS),
        subsystem,
        neighbours: joined.length === 0 ? undefined : profileOf(sumOfLabels(met)),
        place: placeOf(component, component.board === undefined ? undefined : extents.get(component.board)),
        twin: JSON.stringify([
          [...taken.parts.keys()].sort(),
          component.appears,
          component.board,
          component.side,
          subsystem,
          component.marking,
        ]),
      };
    });
  return { specimen, components, boards, kinds };
}

function extentOf({ outline }: Board): Extent | undefined {
  if (outline === undefined) return undefined;
  if (!('points' in outline)) return { left: 0, bottom: 0, ...outline };
  const xs = outline.points.map(([x]) => x);
  const ys = outline.points.map(([, y]) => y);
  const left = Math.min(...xs);
  const bottom = Math.min(...ys);
  return { left, bottom, length: Math.max(...xs) - left, width: Math.max(...ys) - bottom };
}

function placeOf({ at }: Component, extent: Extent | undefined): Feature['place'] {
  if (!at || !extent || extent.length === 0 || extent.width === 0) return undefined;
  return { x: (at.x - extent.left) / extent.length, y: (at.y - extent.bottom) / extent.width };
}

import type { ChipOdds } from '../classes/class-odds.ts';
import type { Board } from '../model/board.ts';
import type {
  Candidate,
  Component,
  Dossier,
  Identification,
  Observation,
  Photo,
  Subsystem,
  Teardown,
} from '../model/dossier.ts';
import { specimenIdOf } from '../model/dossier.ts';
import { componentMeant, TEARDOWN, thingId } from '../model/ids.ts';
import type { Connection, Net } from '../model/net.ts';
import { boardOf, groupedByEach } from './board-of.ts';
import { type CategoriesOf, isCounted, isFitted, type LabelWeights } from './labels.ts';
import type { KindSpread, UnnamedKinds } from './unnamed/unnamed-kinds.ts';
import { UnnamedOf } from './unnamed/unnamed-of.ts';

/** An opened specimen with look-ups made once, for questions about a single device. */
export interface OpenedSpecimen {
  readonly id: string;
  readonly dossier: Dossier;
  /** Everything with a place, by local id: components, features of the boards, places where nothing is fitted. */
  readonly components: ReadonlyMap<string, Component>;
  /** What is there: all but places where nothing is fitted, in the order of the dossier. */
  readonly fitted: readonly Component[];
  /** What counts as a component: fitted, and no feature of the board itself (see labels.ts), in the order of the dossier. */
  readonly counted: readonly Component[];
  readonly boards: ReadonlyMap<string, Board>;
  /** Current identifications, by designator. */
  readonly identified: ReadonlyMap<string, Identification>;
  /**
   * Connections without those that named observations as evidence which were all withdrawn or corrected, and without those that end where
   * nothing is fitted.
   */
  readonly joined: readonly Connection[];
  /** The same, by the local id of either end. */
  readonly connections: ReadonlyMap<string, readonly Connection[]>;
  /** Nets without those that named observations as evidence which were all withdrawn or corrected; their pins as recorded. */
  readonly nets: readonly Net[];
  /** Observations by the local id of what they are about. */
  readonly observations: ReadonlyMap<string, readonly Observation[]>;
  /** Taxonomy terms with their probability, by designator, as seen or identified; none where nothing is fitted. */
  readonly named: ReadonlyMap<string, LabelWeights>;
  /** The same with possible kinds of unidentified components: the basis of presence, counts and patterns. */
  readonly labels: ReadonlyMap<string, LabelWeights>;
  /** Possible kinds of unidentified components besides their candidates, by designator. */
  readonly spreads: ReadonlyMap<string, readonly Candidate[]>;
  /** What `spreads` was calculated from. */
  readonly learnt: ReadonlySet<KindSpread>;
  /** What a chip may be by all that hangs on it, whatever was said of it: the numbers of `spreads`. @param id local id @param unnamed of the state that asks */
  readonly oddsOf: (id: string, unnamed: UnnamedKinds) => ChipOdds | undefined;
}

export function openSpecimen(
  dossier: Dossier,
  categoriesOf: CategoriesOf,
  unnamed: UnnamedKinds,
): OpenedSpecimen {
  const board = boardOf(dossier, categoriesOf);
  const { components, named, joined } = board;
  const isCountedOf = (id: string) => isCounted(named.get(id) as LabelWeights);
  const kinds = new UnnamedOf(board, categoriesOf, unnamed);
  return {
    ...board,
    id: specimenIdOf(dossier),
    fitted: dossier.components.every(isFitted) ? dossier.components : dossier.components.filter(isFitted),
    counted: dossier.components.filter(({ id }) => isCountedOf(id)),
    boards: new Map(dossier.boards.map((one) => [one.id, one])),
    connections: groupedByEach(joined, ({ between }) => between),
    labels: kinds.labels,
    spreads: kinds.spreads,
    learnt: kinds.learnt,
    oddsOf: (id, table) => kinds.oddsOf(components.get(id) as Component, table),
  };
}

/** Kind of thing that a local id names inside a dossier, and the thing. */
export type LocalThing =
  | { readonly kind: 'Component'; readonly id: string; readonly thing: Component }
  | { readonly kind: 'Board'; readonly id: string; readonly thing: Board }
  | { readonly kind: 'Observation'; readonly id: string; readonly thing: Observation }
  | { readonly kind: 'Photo'; readonly id: string; readonly thing: Photo }
  | { readonly kind: 'Net'; readonly id: string; readonly thing: Net }
  | { readonly kind: 'Subsystem'; readonly id: string; readonly thing: Subsystem }
  | { readonly kind: 'Teardown'; readonly id: string; readonly thing: Teardown };

/** Everything in a dossier with a local id; a component with or without its board in the id. */
export function localThing(specimen: OpenedSpecimen, localId: string): LocalThing | undefined {
  const id = thingId(specimen.id, localId);
  const component = specimen.components.get(localId);
  if (component) return { kind: 'Component', id, thing: component };
  const board = specimen.boards.get(localId);
  if (board) return { kind: 'Board', id, thing: board };
  const observation = specimen.dossier.observations.find((item) => item.id === localId);
  if (observation) return { kind: 'Observation', id, thing: observation };
  const { photos, subsystems, teardown } = specimen.dossier;
  const photo = photos.find((item) => item.id === localId);
  if (photo) return { kind: 'Photo', id, thing: photo };
  const subsystem = subsystems.find((item) => item.id === localId);
  if (subsystem) return { kind: 'Subsystem', id, thing: subsystem };
  const net = specimen.dossier.nets?.find((item) => item.id === localId);
  if (net) return { kind: 'Net', id, thing: net };
  if (localId === TEARDOWN) return { kind: 'Teardown', id, thing: teardown };
  const meant = componentMeant(specimen.dossier.components, localId);
  return meant && { kind: 'Component', id: thingId(specimen.id, meant.id), thing: meant };
}

/** Every local id of a dossier. */
export function localIdsOf({ dossier }: OpenedSpecimen): readonly string[] {
  const { components, boards, observations, photos, subsystems, nets = [] } = dossier;
  return [
    ...[components, boards, observations, photos, subsystems, nets].flatMap((list) =>
      list.map(({ id }) => id),
    ),
    TEARDOWN,
  ];
}

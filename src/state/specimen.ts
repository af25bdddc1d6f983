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
import {
  type CategoriesOf,
  currentIdentifications,
  isCounted,
  isFitted,
  isUnnamed,
  type LabelWeights,
  labelWeights,
} from './labels.ts';
import { type KindSpread, spreadCandidates, type UnnamedKinds } from './unnamed-kinds.ts';

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
}

export function openSpecimen(
  dossier: Dossier,
  categoriesOf: CategoriesOf,
  unnamed: UnnamedKinds,
): OpenedSpecimen {
  const identified = currentIdentifications(dossier);
  const stands = standingIn(dossier);
  const empty = new Set(dossier.components.flatMap((one) => (isFitted(one) ? [] : [one.id])));
  const joined = dossier.connections.filter(
    (one) => stands(one) && (empty.size === 0 || !one.between.some((id) => empty.has(id))),
  );
  const named = new Map<string, LabelWeights>();
  const labels = new Map<string, LabelWeights>();
  const spreads = new Map<string, readonly Candidate[]>();
  const learnt = new Set<KindSpread>();
  const counted: Component[] = [];
  for (const component of dossier.components) {
    const { id } = component;
    const identification = identified.get(id);
    const weights = labelWeights(component, identification, categoriesOf);
    named.set(id, weights);
    labels.set(id, weights);
    if (isCounted(weights)) counted.push(component);
    if (!isCounted(weights) || !isUnnamed(weights)) continue;
    const spread = unnamed.spreadOf(component);
    const candidates = identification?.candidates ?? [];
    const more = spreadCandidates(spread, candidates);
    learnt.add(spread);
    spreads.set(id, more);
    labels.set(id, labelWeights(component, { candidates: [...candidates, ...more] }, categoriesOf));
  }
  return {
    id: specimenIdOf(dossier),
    dossier,
    components: new Map(dossier.components.map((component) => [component.id, component])),
    fitted: empty.size === 0 ? dossier.components : dossier.components.filter(({ id }) => !empty.has(id)),
    counted,
    boards: new Map(dossier.boards.map((board) => [board.id, board])),
    identified,
    joined,
    connections: groupedByEach(joined, ({ between }) => between),
    nets: (dossier.nets ?? []).filter(stands),
    observations: groupedByEach(dossier.observations, ({ about }) => about),
    named,
    labels,
    spreads,
    learnt,
  };
}

/** Whether something still has evidence: it named none, or some that was neither withdrawn nor corrected by what stands. */
function standingIn({ observations }: Dossier): (one: { readonly basis: readonly string[] }) => boolean {
  const fallen = new Set(
    observations.flatMap(({ id, withdrawn, corrects }) => (withdrawn ? [id] : (corrects ?? []))),
  );
  return ({ basis }) => basis.length === 0 || basis.some((id) => !fallen.has(id));
}

function groupedByEach<T>(items: readonly T[], keysOf: (item: T) => readonly string[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    for (const key of new Set(keysOf(item))) {
      const group = groups.get(key);
      if (group) group.push(item);
      else groups.set(key, [item]);
    }
  }
  return groups;
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

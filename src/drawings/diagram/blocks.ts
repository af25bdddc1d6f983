import { compareDesignators, designatorOf } from '../../model/designator.ts';
import type { Component } from '../../model/dossier.ts';
import { isRoot, isTerm, mostSpecific, PACKING, termInWords } from '../../model/taxonomy.ts';
import type { DerivedNets } from '../../nets/nets.ts';
import { isUnnamed, type LabelWeights, likeliestCategory } from '../../state/labels.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import { doubtOf, nameOfSubsystem } from '../board-side.ts';
import type { Doubt } from '../shapes.ts';
import { type Wires, wiresOf } from './wires.ts';

// What a block diagram shows of a specimen, before anything has a place: boxes, what holds them, what joins them, what is left out.

/** A component as a box. */
export interface Block {
  /** Local id. */
  readonly id: string;
  readonly designator: string;
  /** Local id of its board. */
  readonly board: string | undefined;
  /** What it is, in words. */
  readonly kind: string;
  /** The part that it is concluded to be, with its probability. */
  readonly part: string | undefined;
  readonly doubt: Doubt;
  /** Whether signals come in or go out there: crystals, antennas, buttons, connectors. */
  readonly isInlet: boolean;
  /** Id of the group that holds it. */
  readonly group: string | undefined;
}

/** A board, or a subsystem on one. */
export interface Group {
  readonly id: string;
  /** Local id of the board or subsystem. */
  readonly of: string;
  readonly title: string;
  readonly kind: 'board' | 'subsystem';
  readonly parent: string | undefined;
}

export interface Blocks {
  readonly blocks: readonly Block[];
  readonly groups: readonly Group[];
  readonly wires: Wires;
  /** How many components of each kind are not drawn, most first. */
  readonly folded: readonly (readonly [kind: string, count: number])[];
  /** How many components lie elsewhere, where the diagram is of one board alone. */
  readonly elsewhere: number;
}

const INLETS = ['FrequencyReference', 'Antenna', 'Button', 'Connector'] as const;

/**
 * What a block diagram of a specimen shows.
 * @param isShown whether a component that would be folded away, by local id, is drawn all the same
 * @param board local id of the one board that is drawn; all when left out
 */
export function blocksOf(
  state: State,
  specimen: OpenedSpecimen,
  derived: DerivedNets,
  isShown: (id: string) => boolean,
  board?: string,
): Blocks {
  const { roles } = derived.wiring;
  const within = board === undefined ? specimen.fitted : specimen.fitted.filter((one) => one.board === board);
  const drawn = within.filter((component) => {
    const role = roles.get(component.id);
    return role !== undefined && ((!role.isIgnored && !role.is('Passive')) || isShown(component.id));
  });
  const ids = new Set(drawn.map(({ id }) => id));
  const groups = new Map<string, Group>();
  const hasBoards = new Set(drawn.flatMap(({ board }) => board ?? [])).size > 1;
  const groupOf = ({ board, subsystem }: Component): string | undefined => {
    let parent: string | undefined;
    if (hasBoards && board !== undefined) {
      parent = `board ${board}`;
      const title = specimen.boards.get(board)?.name ?? board;
      groups.set(parent, { id: parent, of: board, title, kind: 'board', parent: undefined });
    }
    if (subsystem === undefined) return parent;
    const id = `${parent ?? ''} subsystem ${subsystem}`;
    const title = nameOfSubsystem(specimen, subsystem);
    groups.set(id, { id, of: subsystem, title, kind: 'subsystem', parent });
    return id;
  };
  const blocks = drawn.map(
    (component): Block => ({
      id: component.id,
      designator: designatorOf(component.id),
      board: component.board,
      kind: kindInWords(specimen, component),
      part: partInWords(state, specimen, component),
      doubt: doubtOf(specimen, component),
      isInlet: INLETS.some((term) => roles.get(component.id)?.is(term)),
      group: groupOf(component),
    }),
  );
  const folded = new Map<string, number>();
  for (const component of within) {
    if (ids.has(component.id)) continue;
    const kind = likeliestTerm(specimen, component) ?? 'component';
    folded.set(kind, (folded.get(kind) ?? 0) + 1);
  }
  return {
    blocks: blocks.sort((a, b) => compareDesignators(a.designator, b.designator) || (a.id < b.id ? -1 : 1)),
    groups: [...groups.values()].sort((a, b) => (a.id < b.id ? -1 : 1)),
    wires: wiresOf(specimen, derived, (id) => ids.has(id)),
    elsewhere: specimen.fitted.length - within.length,
    folded: [...folded].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1)),
  };
}

function likeliestTerm(specimen: OpenedSpecimen, { id }: Component): string | undefined {
  const weights = specimen.labels.get(id);
  const likeliest = weights && likeliestCategory(weights);
  return likeliest && termInWords(likeliest.term);
}

/** `microcontroller, Bluetooth radio`, `likely charger (0.7)`, `chip, kind not known`: with its probability where it is not certain. */
function kindInWords(specimen: OpenedSpecimen, component: Component): string {
  const weights = specimen.labels.get(component.id);
  const likeliest = weights && likeliestCategory(weights);
  if (!weights || !likeliest || isUnnamed(weights))
    return likeliest ? `${termInWords(likeliest.term)}, kind not known` : 'kind not known';
  const words = functionsInWords(weights, likeliest);
  return doubtOf(specimen, component) === 'certain'
    ? words
    : `likely ${words} (${hundredths(likeliest.probability)})`;
}

/** Most functions of one chip that its box lists. */
const MOST_FUNCTIONS = 3;

/** The likeliest kind and, of a chip of several functions, the others that it has as surely: `microcontroller, Bluetooth radio`. */
function functionsInWords(
  weights: LabelWeights,
  { term: first, probability }: { readonly term: string; readonly probability: number },
): string {
  const terms = mostSpecific(
    [...weights].flatMap(([term, weight]) =>
      weight >= probability && isTerm(term) && !isRoot(term) && !PACKING.has(term) ? [term] : [],
    ),
  );
  const others = terms.filter((term) => term !== first);
  const listed = [first, ...others].slice(0, MOST_FUNCTIONS).map(termInWords);
  const more = others.length + 1 - listed.length;
  return `${listed.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** The likeliest part of an identification that is at least as likely as not. */
function partInWords(state: State, specimen: OpenedSpecimen, { id }: Component): string | undefined {
  const candidates = specimen.identified.get(id)?.candidates ?? [];
  const [best] = [...candidates].sort((a, b) => b.probability - a.probability);
  if (best?.part === undefined || best.probability < 0.5) return undefined;
  const part = state.part(best.part);
  if (!part) return undefined;
  const maker = state.maker(part.maker)?.name ?? part.maker;
  return `${maker} ${part.number} (${hundredths(best.probability)})`;
}

/** Never `1` for what is not certain through and through. */
const hundredths = (probability: number) =>
  probability < 1 && probability > 0.99 ? '0.99' : String(Number(fixed(probability, 2)));

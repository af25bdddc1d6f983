import { Pace } from '../../state/pace.ts';
import { notFound, resolve } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import {
  correctionPiece,
  decisionPiece,
  decisionsNamed,
  recordPiece,
  termPiece,
  termsBelow,
} from './records.ts';
import { specimenPiece } from './specimens.ts';
import type { ExportEdge, Loss, Piece } from './things.ts';

// What a state holds as nodes and edges, under the ids of the archive. Everything that exports write as a graph is read off here.

/** What is exported: everything that a state holds, or one device with all its specimens, or one specimen. */
export type Scope = { readonly of: 'archive' } | { readonly of: 'device' | 'specimen'; readonly id: string };

export const WHOLE: Scope = { of: 'archive' };

/**
 * What an id stands for as a scope.
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export function scopeOf(state: State, id: string): Scope {
  const found = resolve(state, id);
  if (found?.kind === 'Device') return { of: 'device', id: found.id };
  if (found?.kind === 'Specimen') return { of: 'specimen', id: found.id };
  throw notFound(state, id, ['Device', 'Specimen']);
}

/** Ids of the specimens of a scope, by id. */
export function specimensIn(state: State, scope: Scope): readonly string[] {
  if (scope.of === 'specimen') return [scope.id];
  const rows = scope.of === 'device' ? state.specimensOf(scope.id) : state.specimenRows();
  return rows.map(({ id }) => id).toSorted();
}

/**
 * Pieces of a scope, one at a time. Of one device or specimen with the records that it names, and those that these name; of things
 * in other specimens there is nothing in it, nor edges to them.
 */
export function* piecesOf(state: State, scope: Scope, lose: (loss: Loss) => void): Generator<Piece> {
  if (scope.of === 'archive') yield* wholeArchive(state, lose);
  else yield* around(state, scope, lose);
}

/** The same in turns with other work of the process. @throws the signal's reason */
export async function* piecesInTurns(
  state: State,
  scope: Scope,
  lose: (loss: Loss) => void,
  signal?: AbortSignal,
): AsyncGenerator<Piece> {
  const pace = new Pace(signal);
  for (const piece of piecesOf(state, scope, lose)) {
    yield piece;
    await pace.rest();
  }
}

function* wholeArchive(state: State, lose: (loss: Loss) => void): Generator<Piece> {
  const known = (id: string) => resolve(state, id) !== undefined;
  const kept = (piece: Piece | undefined): Piece[] =>
    piece ? [{ ...piece, edges: piece.edges.filter((edge) => isKept(edge, known, lose)) }] : [];
  for (const term of termsBelow()) yield* kept(termPiece(term));
  const { records } = state.facts;
  for (const collection of [
    'makers',
    'productLines',
    'parts',
    'sources',
    'patterns',
    'feeds',
    'listMappings',
  ] as const)
    for (const id of [...records[collection].keys()].toSorted()) yield* kept(recordPiece(state, id));
  for (const { id } of state.devices()) yield* kept(recordPiece(state, id));
  for (const { id } of state.specimenRows()) yield* kept(specimenPiece(state, id, lose));
  for (const id of decisionsNamed(state)) yield* kept(decisionPiece(state, id));
  for (const { id } of state.publications()) yield* kept(recordPiece(state, id));
  yield* correctionPiece(state).flatMap(kept);
}

/** A device or specimen, and the records that it names. */
function* around(
  state: State,
  scope: Exclude<Scope, { of: 'archive' }>,
  lose: (loss: Loss) => void,
): Generator<Piece> {
  const inside = specimensIn(state, scope).map((id) => specimenPiece(state, id, lose));
  const device = scope.of === 'device' ? scope.id : state.specimenRow(scope.id)?.deviceId;
  const pieces: Piece[] = [];
  const held = new Set<string>();
  const take = (piece: Piece | undefined) => {
    if (!piece) return;
    pieces.push(piece);
    for (const { id } of piece.nodes) held.add(id);
  };
  if (device !== undefined) take(recordPiece(state, device));
  for (const piece of inside) take(piece);
  for (let at = 0; at < pieces.length; at++)
    for (const { target } of (pieces[at] as Piece).edges)
      if (!held.has(target))
        take(termPiece(target) ?? decisionPiece(state, target) ?? recordPiece(state, target));
  const isElsewhere = (id: string) => held.has(id) || resolve(state, id) === undefined;
  for (const { nodes, edges } of pieces) {
    const near = edges.filter(({ target }) => isElsewhere(target));
    yield { nodes, edges: near.filter((edge) => isKept(edge, (id) => held.has(id), lose)) };
  }
}

/** Whether an edge leads somewhere; else that it does not is a loss. */
function isKept(edge: ExportEdge, known: (id: string) => boolean, lose: (loss: Loss) => void): boolean {
  if (known(edge.target) || termPiece(edge.target)) return true;
  lose({
    record: edge.source,
    field: edge.label,
    why: `names ${edge.target}, which is not on record; the edge is left out`,
  });
  return false;
}

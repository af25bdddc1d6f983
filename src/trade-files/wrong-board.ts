import { designatorOf } from '../model/designator.ts';
import type { Dossier } from '../model/dossier.ts';
import type { Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import type { MergedBoard } from './merge.ts';

// Whether files are of the board that they are merged into. Nothing keeps them out for it: designators begin anew on every board, and what was
// recorded of a board before may be little.

/** Below this share of the shorter list of designators, two lists are hardly of one board; from this share on they may well be. */
const HARDLY = 0.2;
const WELL = 0.5;

/** What speaks against the boards that files are said to be of. @param dossier as it stands */
export function boardCautions(dossier: Dossier, boards: readonly MergedBoard[]): readonly Problem[] {
  const recorded = new Map(dossier.boards.map(({ id }) => [id, new Set<string>()]));
  for (const { id, board } of dossier.components)
    if (board !== undefined) recorded.get(board)?.add(designatorOf(id));
  return boards.flatMap((board): readonly Problem[] => {
    const found = recorded.has(board.id) ? strangeBoard(board, recorded) : newBoard(board, recorded);
    return found ? [{ file: board.files.join(', '), ...found }] : [];
  });
}

/**
 * Boards of the files that have one designator from files of which none names both: a netlist of the whole assembly beside a list that
 * names the boards records components twice.
 */
export function twiceOnBoards(boards: readonly MergedBoard[]): readonly Problem[] {
  return boards.flatMap((board, at) =>
    boards.slice(0, at).flatMap((other): readonly Problem[] => {
      const there = new Map(other.components.map((one) => [one.designator, one.files]));
      const twice = board.components.filter(({ designator, files }) => {
        const others = there.get(designator);
        return others !== undefined && !others.some((file) => files.includes(file));
      });
      const least = Math.min(board.components.length, other.components.length);
      if (twice.length === 0 || twice.length < WELL * least) return [];
      const filesOf = (all: readonly (readonly string[])[]) => [...new Set(all.flat())].join(', ');
      const [mine, theirs] = [
        filesOf(twice.map(({ files }) => files)),
        filesOf(twice.map(({ designator }) => there.get(designator) ?? [])),
      ];
      return [
        {
          file: theirs,
          what: `${twice.length} ${twice.length === 1 ? 'designator stands' : 'designators stand'} on board "${other.id}" here and on board "${board.id}" in ${mine}, and would be recorded twice`,
          fix: `if they are the same components, give each board a file of its own: --board ${other.id}=FILE,${board.id}=FILE`,
        },
      ];
    }),
  );
}

type Recorded = ReadonlyMap<string, ReadonlySet<string>>;

/** A board of which the dossier has other components than the files. */
function strangeBoard(board: MergedBoard, recorded: Recorded): Problem | undefined {
  const there = recorded.get(board.id) as ReadonlySet<string>;
  const common = inCommon(board, there);
  const all = board.components.length;
  if (there.size === 0 || all === 0 || common >= HARDLY * Math.min(there.size, all)) return undefined;
  const other = likeliest(board, recorded);
  const fits = other !== undefined && inCommon(board, recorded.get(other) as ReadonlySet<string>) > common;
  return {
    what: `${common === 0 ? 'none' : `only ${common}`} of the ${all} components in the files ${common < 2 ? 'is' : 'are'} among the ${there.size} recorded of board "${board.id}"; they may be of another board`,
    fix: fits
      ? `look whether they are of board "${other}"; if so, say --board ${other}`
      : 'look whether the files are of this device and this board; if of another board, name it with --board',
  };
}

/** A board that the dossier does not have, beside others. */
function newBoard(board: MergedBoard, recorded: Recorded): Problem | undefined {
  if (recorded.size === 0) return undefined;
  const other = likeliest(board, recorded);
  const common = other === undefined ? 0 : inCommon(board, recorded.get(other) as ReadonlySet<string>);
  const near = didYouMean(board.id, recorded.keys());
  const isThere = common >= WELL * board.components.length;
  if (near === undefined && !isThere) return undefined;
  const twice = isThere
    ? `; ${common} of its ${board.components.length} components have designators of board "${other}" and would be recorded a second time`
    : '';
  return {
    what: `board "${board.id}" is new; the dossier has ${[...recorded.keys()].join(', ')}${twice}`,
    fix: near ?? `if the files are of board "${other}", say --board ${other}`,
  };
}

function inCommon({ components }: MergedBoard, there: ReadonlySet<string>): number {
  return components.filter(({ designator }) => there.has(designator)).length;
}

/** The board of the dossier that has most of the files' designators. */
function likeliest(board: MergedBoard, recorded: Recorded): string | undefined {
  const [most] = [...recorded.keys()].toSorted(
    (a, b) =>
      inCommon(board, recorded.get(b) as ReadonlySet<string>) -
      inCommon(board, recorded.get(a) as ReadonlySet<string>),
  );
  return most;
}

import { isChipFunction } from './chip-function.ts';
import type { Candidate, Identification } from './dossier.ts';
import { PACKING } from './taxonomy.ts';

// What an import of trade files proposes of a component, as against what somebody concluded from looking at it: nobody's name is under
// it, and it gives way to the first identification. The reason tells it, in archives from before this file too.

const REASON = 'trade files: ';

/** Kinds of hints that a file may give of what a component is, as reasons name them. */
export type HintKind = 'designator' | 'value' | 'footprint' | 'words';

/** The reason under an identification that an import proposes. @param because such as "listed as QWR4410" */
export function importReason(because: string): string {
  return `${REASON}${because}`;
}

/** Whether an identification is what an import proposed and nobody has confirmed. */
export function isImportProposal({ by, state, reason }: Identification): boolean {
  return by === undefined && state === 'proposed' && reason?.startsWith(REASON) === true;
}

/** Why a kind is proposed: the hints that speak for it. */
export function byHints(hints: readonly HintKind[]): string {
  return `by ${hints.join(', ')}`;
}

/**
 * Whether candidates say no more of a chip than its designator does: that it is packaged as one, or what chips with these letters mostly
 * are. That is weighed for every chip that nobody named, with all that hangs on it; recorded beside that it would stand in its place.
 */
export function saysNoMoreThanDesignator(
  candidates: readonly Candidate[],
  hints: readonly HintKind[] | undefined,
): boolean {
  const kinds = candidates.map(({ part, category }) => (part === undefined ? category : undefined));
  const isPacked = (kind: string | undefined) => kind !== undefined && PACKING.has(kind);
  if (kinds.every(isPacked)) return true;
  const isByDesignator = hints?.length === 1 && hints[0] === 'designator';
  return (
    isByDesignator && kinds.every((kind) => isPacked(kind) || (kind !== undefined && isChipFunction(kind)))
  );
}

/** Whether an identification on record is such a proposal, from an import of before they were left out: it stays on record and counts for nothing. */
export function isOfDesignatorAlone(identification: Identification): boolean {
  if (!isImportProposal(identification)) return false;
  const hints =
    identification.reason === importReason(byHints(['designator'])) ? (['designator'] as const) : undefined;
  return saysNoMoreThanDesignator(identification.candidates, hints);
}

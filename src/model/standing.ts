import type { Observation, Withdrawal } from './dossier.ts';

// Which observations still count is decided here and nowhere else: whatever weighs, audits, lists or draws goes by it.

/** Why an observation counts no more: it was withdrawn, or read anew. */
export type Fallen =
  | { readonly withdrawn: Withdrawal }
  /** Local id of the later observation that corrects it. */
  | { readonly correctedBy: string };

/** Worked out once for each list, since every component of a dossier asks. Lists are never changed. */
const known = new WeakMap<readonly Observation[], ReadonlyMap<string, Fallen>>();

/**
 * Observations of a dossier that count no more, by local id: those withdrawn, and those that another corrects which was not
 * withdrawn itself. What names nothing else as its basis falls with them.
 * @param observations of a whole dossier: what corrects an observation may be about something else
 */
export function fallenIn(observations: readonly Observation[]): ReadonlyMap<string, Fallen> {
  let fallen = known.get(observations);
  if (!fallen) {
    fallen = new Map<string, Fallen>([
      ...observations.flatMap(({ id, corrects, withdrawn }) =>
        corrects !== undefined && !withdrawn ? [[corrects, { correctedBy: id }] as const] : [],
      ),
      ...observations.flatMap(({ id, withdrawn }) => (withdrawn ? [[id, { withdrawn }] as const] : [])),
    ]);
    known.set(observations, fallen);
  }
  return fallen;
}

/** Whether something has evidence left: it named none, or some of what it named still counts. */
export function hasBasis(basis: readonly string[], fallen: ReadonlyMap<string, Fallen>): boolean {
  return basis.length === 0 || basis.some((id) => !fallen.has(id));
}

/** Why an observation counts no more, in words. */
export function fallenText(fallen: Fallen): string {
  return 'withdrawn' in fallen
    ? `withdrawn by ${fallen.withdrawn.by}: ${fallen.withdrawn.reason}`
    : `corrected by a later observation, ${fallen.correctedBy}`;
}

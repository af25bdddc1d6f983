import { type Claim, claimIdOf, type Publication } from '../model/catalogue.ts';
import type { State } from '../state/state.ts';
import { statedFigures } from './dependants.ts';

export interface ClaimAt {
  readonly publication: Publication;
  readonly claim: Claim;
}

/**
 * Visible claims supported by any of some devices or parts, or by something inside these devices: directly, by a figure
 * over them, or through other claims.
 */
export function claimsUnder(
  state: State,
  devices: ReadonlySet<string>,
  parts: ReadonlySet<string>,
): readonly ClaimAt[] {
  const all = state
    .publications()
    .flatMap((publication) => publication.claims.map((claim) => ({ publication, claim })));
  // A figure over many devices is asked about the few that are touched, and not listed.
  const touched = new Set(
    statedFigures(state)
      .filter(({ covers }) => [...devices].some(covers))
      .map(({ claim }) => claim),
  );
  const rests = (id: string) =>
    parts.has(id) || touched.has(id) || devices.has(id.split(/[/:]/u, 1)[0] as string);
  // Claims supported by claims: again until nothing is added.
  for (let before = -1; before !== touched.size; ) {
    before = touched.size;
    for (const { publication, claim } of all) {
      const id = claimIdOf(publication, claim);
      if (claim.supportedBy.some(rests)) touched.add(id);
    }
  }
  return all.filter(({ publication, claim }) => touched.has(claimIdOf(publication, claim)));
}

import type { Dossier } from '../model/dossier.ts';
import { unpackDossier } from './compact.ts';
import type { Additions, SpecimenRow } from './state.ts';

/**
 * The dossier as it stands: as last filed, then what was recorded since. An addition that a later file took
 * over (same observation id, equal identification) stands once.
 */
export function mergeAdditions(filed: Dossier, added: Additions): Dossier {
  if (added.observations.length === 0 && added.identifications.length === 0) return filed;
  const known = new Set(filed.observations.map(({ id }) => id));
  const judged = new Set(filed.identifications.map((one) => JSON.stringify(one)));
  return {
    ...filed,
    observations: [...filed.observations, ...added.observations.filter(({ id }) => !known.has(id))],
    identifications: [
      ...filed.identifications,
      ...added.identifications.filter((one) => !judged.has(JSON.stringify(one))),
    ],
  };
}

/** The current dossier of a specimen row. */
export function dossierOf(row: SpecimenRow): Dossier {
  return mergeAdditions(unpackDossier(row.filed), row.added);
}

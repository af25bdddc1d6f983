import type { Dossier, Observation, Photo, Withdrawal } from '../model/dossier.ts';
import { unmarked } from '../model/visibility.ts';
import type { Additions, SpecimenRow } from './facts.ts';

/**
 * The current dossier: as last filed, then what was recorded since. An addition that a later file took over (same
 * observation id, equal identification) appears once.
 */
export function mergeAdditions(filed: Dossier, added: Additions): Dossier {
  const { observations, identifications, judgements, withdrawals, photos } = added;
  if (
    observations.length + identifications.length + judgements.length + withdrawals.length + photos.length ===
    0
  )
    return filed;
  const known = new Set(filed.observations.map(({ id }) => id));
  const all = [...filed.observations, ...observations.filter(({ id }) => !known.has(id))];
  const withdrawnById = new Map(withdrawals.map(({ observation, withdrawn }) => [observation, withdrawn]));
  const judged = union(filed.judgements ?? [], judgements);
  return {
    ...filed,
    observations: all.map((observation) => withWithdrawal(observation, withdrawnById.get(observation.id))),
    // A file that takes an identification over says anew who may see it.
    identifications: union(filed.identifications, identifications, unmarked),
    ...(judged.length > 0 ? { judgements: judged } : {}),
    photos: withPhotos(filed.photos, photos),
  };
}

/** Photos as last recorded, in the order of the file, those that it does not have behind them. */
function withPhotos(filed: Dossier['photos'], recorded: readonly Photo[]): Dossier['photos'] {
  if (recorded.length === 0) return filed;
  const anew = new Map(recorded.map((photo) => [photo.id, photo]));
  const known = new Set(filed.map(({ id }) => id));
  return [
    ...filed.map((photo) => anew.get(photo.id) ?? photo),
    ...recorded.filter(({ id }) => !known.has(id)),
  ];
}

/** A withdrawal that the file itself contains stays as it is in the file. */
function withWithdrawal(observation: Observation, withdrawn: Withdrawal | undefined): Observation {
  return withdrawn === undefined || observation.withdrawn ? observation : { ...observation, withdrawn };
}

/** Both lists, without the items of the second that are in the first. */
function union<T>(filed: readonly T[], added: readonly T[], saying: (item: T) => unknown = same): T[] {
  const known = new Set(filed.map((item) => JSON.stringify(saying(item))));
  return [...filed, ...added.filter((item) => !known.has(JSON.stringify(saying(item))))];
}

const same = <T>(item: T): T => item;

/** The current dossier of a specimen row. */
export function dossierOf(row: SpecimenRow): Dossier {
  return mergeAdditions(row.filed.unpack(), row.added);
}

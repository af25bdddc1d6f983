import type { HeldDossiers } from '../dossier/check/context.ts';
import { latestDay } from '../dossier/check/future-dates.ts';
import { localIds } from '../dossier/check/local-ids.ts';
import type { Dossier } from '../model/dossier.ts';
import { componentMeant, lastOfId, specimenOfId } from '../model/ids.ts';
import { dossierOf } from '../state/merge.ts';
import type { State } from '../state/state.ts';
import { visibleNow } from '../state/visibility/audience.ts';

/**
 * What an import is checked against: everything, whoever asks, since ids must not clash with hidden ones. Near names
 * are only those that the asker may see.
 */
export function heldIn(desk: State, state: State, clock: Date): HeldDossiers {
  const row = (id: string) => desk.specimenRow(id);
  return {
    record: (collection, id) => desk.facts.records[collection].get(id),
    ids: (collection) => [...state.facts.records[collection].keys()],
    hasId(id) {
      if (desk.describes(id)) return true;
      const specimen = row(specimenOfId(id));
      return specimen !== undefined && hasLocal(dossierOf(specimen), lastOfId(id));
    },
    dossierAsFiled: (id) => mapped(row(id), ({ filed }) => filed.unpack()),
    dossierNow: (id) => mapped(row(id), dossierOf),
    visibleNow: (id) => visibleNow(desk.facts, id),
    specimensOf: (id) => desk.specimensOf(id).map((one) => one.id),
    specimensCiting: (id) => desk.linkedFrom(id, 'CITES'),
    today: latestDay(clock),
  };
}

function hasLocal(dossier: Dossier, local: string): boolean {
  return (
    localIds(dossier).some(({ id }) => id === local) ||
    componentMeant(dossier.components, local) !== undefined
  );
}

function mapped<T, U>(value: T | undefined, by: (value: T) => U): U | undefined {
  return value === undefined ? undefined : by(value);
}

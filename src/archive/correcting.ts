import { createHash } from 'node:crypto';
import { amend } from '../dossier/amend.ts';
import { type Amendment, subjectOf, type TouchedPublication } from '../model/correction.ts';
import type { Authorship, Change } from '../model/entry.ts';
import { lastOfId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { isOpen } from '../model/visibility.ts';
import type { Facts, SpecimenRow } from '../state/facts.ts';
import { dossierOf } from '../state/merge.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { heldIn } from './held.ts';

// What a correction needs besides what what-if works out: its id, its embargo, and what of it readers are told.

/** @throws CasebackError NOT_FOUND when a state does not hold what an amendment is about */
export async function mustSee(state: State, amendment: Amendment): Promise<void> {
  if ('value' in amendment) resolved(state, amendment.value.of, ['Part', 'Component', 'Net', 'Device']);
  else if ('withdraw' in amendment) resolved(state, amendment.withdraw.observation, ['Observation']);
  else resolved(state, subjectOf(amendment), ['Specimen']);
}

/**
 * An id for a correction that says nothing of how many there are: the instant is in it, so that it does not show either that the same
 * was corrected before, the same day, where readers do not see it.
 */
export function correctionId(desk: State, amendment: Amendment, by: Authorship, clock: Date): string {
  const instant = clock.toISOString();
  const day = instant.slice(0, 10);
  const known = new Set(desk.corrections.map(({ id }) => id));
  for (let attempt = 0; ; attempt++) {
    const digest = createHash('sha256')
      .update(JSON.stringify([instant, amendment, by, attempt]))
      .digest('hex');
    const id = `correction-${day}-${digest.slice(0, 8)}`;
    if (!known.has(id)) return id;
  }
}

/**
 * The changes of a correction as a version under embargo: an identification has an embargo of its own, everything else waits with
 * the record or dossier that it changes, beside what readers see until then.
 * @throws CasebackError BAD_INPUT when readers see no such thing, when a version is waiting already, or the instant has passed
 */
export function heldBack(
  changes: readonly Change[],
  subject: string,
  embargoUntil: string,
  { facts, now }: { readonly facts: Facts; readonly now: string },
): readonly Change[] {
  const refuse = (why: string) => new CasebackError('BAD_INPUT', why);
  if (!(Date.parse(embargoUntil) > Date.parse(now)))
    throw refuse(`The embargo would end on ${embargoUntil}, which is not ahead; leave it out`);
  const visible =
    facts.specimens.get(subject) ?? facts.records.parts.get(subject) ?? facts.records.devices.get(subject);
  if (!visible || !isOpen(visible, now))
    throw refuse(
      `Readers do not see the newest version of "${subject}", so a correction of it cannot wait for an instant; correct it without an embargo`,
    );
  const hidden = { visibility: 'embargoed', embargoUntil } as const;
  return changes.map((change): Change => {
    switch (change.kind) {
      case 'identification-set': {
        const { specimen, identification } = change.payload;
        return { ...change, payload: { specimen, identification: { ...identification, ...hidden } } };
      }
      case 'record-put':
        return {
          ...change,
          payload: { ...change.payload, record: { ...change.payload.record, ...hidden } },
        };
      case 'dossier-put':
        return { ...change, payload: { ...change.payload, ...hidden } };
      case 'observation-recorded':
      case 'observation-withdrawn': {
        const { actor, reason } = change;
        const dossier = dossierOf(facts.specimens.get(change.payload.specimen) as SpecimenRow);
        const observations =
          change.kind === 'observation-recorded'
            ? [...dossier.observations, change.payload.observation]
            : dossier.observations.map((one) =>
                one.id === change.payload.observation
                  ? { ...one, withdrawn: { by: actor, on: now, reason } }
                  : one,
              );
        return { actor, reason, kind: 'dossier-put', payload: { ...dossier, observations, ...hidden } };
      }
      default:
        return change;
    }
  });
}

/**
 * Touched publications with the numbers of what readers see, where readers see them; sentences that they do not see stand apart, so
 * that nothing told to readers counts what is hidden.
 */
export async function asReadersSee(
  reader: State,
  touched: readonly TouchedPublication[],
  amendment: Amendment,
  summary: string,
  by: Authorship,
  now: Date,
): Promise<readonly TouchedPublication[]> {
  if (touched.length === 0) return touched;
  const shown = await touchedForReaders(reader, amendment, summary, by, now);
  return touched.flatMap((one) => {
    const publication = reader.publication(one.publication);
    if (!publication) return [one];
    const isSeen = (claim: string) => publication.claims.some(({ id }) => id === lastOfId(claim));
    const seen = shown.find((other) => other.publication === one.publication);
    const hidden = one.claims.filter(({ claim }) => !isSeen(claim));
    return [
      ...(seen ? [seen] : []),
      ...(hidden.length > 0 ? [{ ...one, claims: hidden, notice: null }] : []),
    ];
  });
}

async function touchedForReaders(
  reader: State,
  amendment: Amendment,
  summary: string,
  by: Authorship,
  now: Date,
): Promise<readonly TouchedPublication[]> {
  const { tryOut } = await import('../evidence/what-if.ts');
  const { touchedPublications } = await import('../evidence/notice.ts');
  try {
    await mustSee(reader, amendment);
    const tried = await tryOut(reader, amend(amendment, heldIn(reader, reader, now), by));
    return touchedPublications(reader, tried.difference, summary, by.reason);
  } catch (error) {
    // Of what they see nothing can be changed so: it is about what is hidden.
    if (error instanceof CasebackError) return [];
    throw error;
  }
}

import type { Publication } from '../model/catalogue.ts';
import type { Amendment, TouchedPublication } from '../model/correction.ts';
import { parseThingId, recordOfId } from '../model/ids.ts';
import type { State } from '../state/state.ts';
import { fixed } from '../text/rounding.ts';
import type { ClaimChange, Difference } from './difference.ts';
import { observationText } from './support.ts';

/** Names of the things an amendment is about, such as a device's name; undefined where there is none. */
export type CalledBy = (id: string) => string | undefined;

/** An amendment as a sentence that can be printed: things by their names, ids where they have none. */
export function amendmentText(amendment: Amendment, called: CalledBy): string {
  const nameFor = (id: string) => called(id) ?? id;
  const deviceOf = (id: string) => nameFor(recordOfId(id));
  if ('identify' in amendment) {
    const { specimen, component, candidates } = amendment.identify;
    const names = candidates.map(
      ({ part, category, maker, probability }) =>
        `${part ?? category ?? `a part of ${maker}`} (${probability})`,
    );
    return `${component} of the ${deviceOf(specimen)} is now identified as ${names.join(' or ')}.`;
  }
  if ('withdraw' in amendment) {
    const { observation } = amendment.withdraw;
    return `An observation of the ${deviceOf(observation)} is withdrawn (${nameFor(observation)}).`;
  }
  if ('observe' in amendment) {
    const { specimen, about, ...seen } = amendment.observe;
    return `A further observation of the ${deviceOf(specimen)} is on record, of ${about.join(', ')} (${observationText({ ...seen, about })}).`;
  }
  const { of, field, is } = amendment.value;
  const value = is === null ? 'not known' : typeof is === 'object' ? valueText(is) : String(is);
  const local = parseThingId(of)?.local;
  const thing = local === undefined ? nameFor(of) : `${local} of the ${deviceOf(of)}`;
  return `The ${field.split('.').at(-1)} of ${thing} is ${value}.`;
}

function valueText(value: object | undefined): string {
  const { value: number, unit } = (value ?? {}) as { readonly value?: number; readonly unit?: string };
  return number !== undefined && unit !== undefined ? `${number} ${unit}` : JSON.stringify(value);
}

/** The publications that a change touches; those that have appeared with a text for a notice. */
export function touchedPublications(
  state: State,
  { claims }: Difference,
  summary: string,
  reason: string,
): readonly TouchedPublication[] {
  const byPublication = Map.groupBy(claims, ({ publicationId }) => publicationId);
  return [...byPublication].map(([id, touched]) => {
    const publication = state.publication(id);
    return {
      publication: id,
      title: touched[0].publicationTitle,
      notice:
        publication && hasAppeared(publication, state.now)
          ? noticeFor(touched, publication.published, summary, reason)
          : null,
      claims: touched.map(({ id: claim, sentence, before, after, newFindings, movedFindings }) => ({
        claim,
        sentence,
        before,
        after,
        findings: [...newFindings, ...movedFindings].map(({ message }) => message),
      })),
    };
  });
}

/** Whether anybody outside the desk can have read a publication: it has a date that has come, and is no draft or under embargo. */
function hasAppeared({ published, visibility, embargoUntil }: Publication, now: string): boolean {
  if (published === undefined || published > now.slice(0, published.length)) return false;
  return (
    visibility === 'published' ||
    (visibility === 'embargoed' && Date.parse(embargoUntil ?? '') <= Date.parse(now))
  );
}

/** Text ready for print; the editor may shorten it without looking anything up. */
function noticeFor(
  claims: readonly ClaimChange[],
  published: string | undefined,
  summary: string,
  reason: string,
): string {
  const when = published === undefined ? '' : ` (${published})`;
  const lines = claims.map((claim) => {
    const before =
      claim.before === claim.after ? 'as before' : `where it gave ${probabilityText(claim.before)} before`;
    const number =
      claim.after === null ? '' : ` The evidence under it gives ${probabilityText(claim.after)}, ${before}.`;
    const wording = !claim.fits && claim.proposal ? ` To correct it, ${claim.proposal}.` : '';
    return `We wrote: “${claim.sentence}” ${standing(claim)}${number}${wording}`;
  });
  return [
    `Correction to “${claims[0].publicationTitle}”${when}. ${summary}`,
    ...lines,
    `Reason: ${reason}`,
  ].join('\n\n');
}

function standing({ fits, newFindings }: ClaimChange): string {
  if (fits) return 'The wording still fits.';
  return newFindings.length > 0
    ? 'That may no longer stand as it was written.'
    : 'It did not fit the evidence before and does not now.';
}

function probabilityText(probability: number | null): string {
  return probability === null ? 'no number' : `a probability of ${fixed(probability, 2)}`;
}

import type { View } from '../graph/view.ts';
import type { Amendment, TouchedPiece } from '../model/correction.ts';
import type { ClaimChange, Difference } from './difference.ts';

/** What an amendment says, in a sentence. */
export function spokenAmendment(amendment: Amendment): string {
  if ('identify' in amendment) {
    const { specimen, component, candidates } = amendment.identify;
    const names = candidates.map(
      ({ part, category, maker, probability }) =>
        `${part ?? category ?? `a part of ${maker}`} (${probability})`,
    );
    return `${component} of ${specimen} is now taken for ${names.join(' or ')}.`;
  }
  if ('withdraw' in amendment) return `The observation ${amendment.withdraw.observation} is withdrawn.`;
  if ('observe' in amendment) {
    const { specimen, id, about } = amendment.observe;
    return `A further observation, ${id}, of ${about.join(', ')} in ${specimen} is on record.`;
  }
  const { of, field, is } = amendment.value;
  const value = is === null ? 'not known' : typeof is === 'object' ? spokenValue(is) : String(is);
  return `${field} of ${of} is ${value}.`;
}

function spokenValue(value: object | undefined): string {
  const { value: number, unit } = (value ?? {}) as { readonly value?: number; readonly unit?: string };
  return number !== undefined && unit !== undefined ? `${number} ${unit}` : JSON.stringify(value);
}

/** The published pieces that a change touches, each with a text for its notice. */
export function touchedPieces(
  view: View,
  { claims }: Difference,
  summary: string,
  reason: string,
): readonly TouchedPiece[] {
  const byPiece = Map.groupBy(claims, ({ pieceId }) => pieceId);
  return [...byPiece].map(([piece, touched]) => ({
    piece,
    title: touched[0].pieceTitle,
    notice: noticeFor(touched, view.piece(piece)?.published, summary, reason),
    claims: touched.map(({ id, sentence, before, after, newFindings }) => ({
      claim: id,
      sentence,
      before,
      after,
      findings: newFindings.map(({ says }) => says),
    })),
  }));
}

/** Text ready for print; the editor shortens it, and nothing in it has to be looked up. */
function noticeFor(
  claims: readonly ClaimChange[],
  published: string | undefined,
  summary: string,
  reason: string,
): string {
  const when = published === undefined ? '' : ` (${published})`;
  const lines = claims.map((claim) => {
    const before =
      claim.before === claim.after ? 'as before' : `where it gave ${spoken(claim.before)} before`;
    const number = `The evidence under it gives ${spoken(claim.after)}, ${before}.`;
    const wording = !claim.fits && claim.proposal ? ` To put it right, ${claim.proposal}.` : '';
    return `We wrote: “${claim.sentence}” ${standing(claim)} ${number}${wording}`;
  });
  return [`Correction to “${claims[0].pieceTitle}”${when}. ${summary}`, ...lines, `Reason: ${reason}`].join(
    '\n\n',
  );
}

function standing({ fits, newFindings }: ClaimChange): string {
  if (fits) return 'The wording still fits.';
  return newFindings.length > 0
    ? `That may no longer stand as it was written. ${newFindings.map(({ says }) => says).join(' ')}`
    : 'It did not fit the evidence before and does not now.';
}

function spoken(probability: number | null): string {
  return probability === null ? 'no number' : `a probability of ${probability.toFixed(2)}`;
}

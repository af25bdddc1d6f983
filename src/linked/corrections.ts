import type { Amendment, Correction } from '../model/correction.ts';
import { thingId } from '../model/ids.ts';
import { agent, type LinkedNode, type Linking, nothingLeft, some, typed } from './nodes.ts';
import { recordIri } from './places.ts';

/** A correction: who changed what, when and why, and the sentences that it touched. */
export function correctionNode(link: Linking, correction: Correction): LinkedNode {
  const { id, summary, amendment, publications, by, reason, on, visibility, embargoUntil, ...rest } =
    correction;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Correction'),
    summary,
    reason,
    endedAt: on,
    associatedWith: agent(by),
    corrects: link.to(correctedBy(amendment)),
    amendment,
    touches: some(
      publications.flatMap(({ publication: _, title: __, notice, claims, ...left }) => {
        nothingLeft(left);
        return claims.map(({ claim, sentence: ___, before, after, findings, ...more }) => {
          nothingLeft(more);
          return {
            id: recordIri(id, `touched-${claim}`),
            type: 'TouchedClaim',
            claim: link.to(claim),
            probabilityBefore: before ?? undefined,
            probabilityAfter: after ?? undefined,
            message: some(findings),
            notice: notice ?? undefined,
          };
        });
      }),
    ),
    ...link.marks({ visibility, embargoUntil }),
  };
}

/** Id of what a correction changed. */
function correctedBy(amendment: Amendment): string {
  if ('identify' in amendment) return thingId(amendment.identify.specimen, amendment.identify.component);
  if ('observe' in amendment) return thingId(amendment.observe.specimen, amendment.observe.id);
  return 'withdraw' in amendment ? amendment.withdraw.observation : amendment.value.of;
}

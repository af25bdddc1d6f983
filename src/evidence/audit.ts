import { type Claim, claimIdOf, type Publication } from '../model/catalogue.ts';
import { recordOfId, specimenNamed } from '../model/ids.ts';
import { Pace } from '../state/pace.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { type Support, supportOf } from './support.ts';
import { proposedWording, type Wording, wordingOf } from './wording.ts';

/** What may be wrong with a sentence. */
export const FINDING_KINDS = ['overstated', 'understated', 'unsupported', 'withdrawn'] as const;
export type FindingKind = (typeof FINDING_KINDS)[number];

export interface ClaimFinding {
  readonly kind: FindingKind;
  /** In plain words, with the numbers. */
  readonly message: string;
}

/** A sentence beside the evidence under it. */
export interface AuditedClaim {
  /** `publication/claim`. */
  readonly id: string;
  readonly publication: Publication;
  readonly claim: Claim;
  readonly wording: Wording;
  readonly support: Support;
  /** The number its wording is compared with: of the evidence, or what its author gave where that is less. */
  readonly probability: number | null;
  /** The wording that would fit; null without a number. */
  readonly proposal: string | null;
  /** Empty when the wording fits the evidence. */
  readonly findings: readonly ClaimFinding[];
}

/**
 * Every sentence of the visible publications compared with its evidence: whether it says more, or less, lacks support,
 * or is supported by something withdrawn.
 * @param publicationId one publication; all of them when left out
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export async function auditClaims(
  state: State,
  publicationId?: string,
  signal?: AbortSignal,
): Promise<readonly AuditedClaim[]> {
  const publication =
    publicationId === undefined ? undefined : resolved(state, publicationId, ['Publication']).thing;
  const audited: AuditedClaim[] = [];
  const pace = new Pace();
  for (const one of publication ? [publication] : state.publications()) {
    for (const claim of one.claims) {
      audited.push(await auditClaim(state, one, claim, signal));
      await pace.rest();
      if (signal?.aborted) return audited;
    }
  }
  return audited;
}

/** One sentence held against its evidence in a state. */
export async function auditClaim(
  state: State,
  publication: Publication,
  claim: Claim,
  signal?: AbortSignal,
): Promise<AuditedClaim> {
  const support = await supportOf(state, claim, signal);
  const words = wordingOf(claim.sentence);
  const known = [support.probability, claim.probability].filter((p) => typeof p === 'number');
  const probability = known.length === 0 ? null : Math.min(...known);
  return {
    id: claimIdOf(publication, claim),
    publication,
    claim,
    wording: words,
    support,
    probability,
    proposal: probability === null ? null : proposedWording(probability),
    findings: [
      ...withdrawn(support),
      ...unsupported(support),
      ...wordingFindings(words, support, claim),
      ...sweepingFindings(state, words, claim),
    ],
  };
}

function withdrawn({ items }: Support): ClaimFinding[] {
  return items.flatMap(({ id, trouble }) =>
    trouble === null
      ? []
      : [{ kind: 'withdrawn' as const, message: `It is supported by ${id}: ${trouble}.` }],
  );
}

/** A source or an entire unit shows nothing in particular: somebody must have seen, measured, counted or concluded. */
function unsupported({ items }: Support): ClaimFinding[] {
  const hasEvidence = items.some(({ kind }) => !['source', 'specimen', 'record', 'nothing'].includes(kind));
  if (hasEvidence) return [];
  const on = items.length === 0 ? 'nothing' : `${items.map(({ id }) => id).join(', ')} alone`;
  const message = `It is supported by ${on}: name the observation, component, decision or figure that shows it.`;
  return [{ kind: 'unsupported', message }];
}

function wordingFindings(words: Wording, support: Support, claim: Claim): ClaimFinding[] {
  const how = words.words === null ? 'It is stated flatly' : `It says "${words.words}"`;
  const range = `which takes a probability of ${probabilityText(words.low)} to ${probabilityText(words.high)}`;
  const { probability: found, low, high } = support;
  const own = claim.probability;
  const findings: ClaimFinding[] = [];
  if (found !== null && found < words.low) {
    const bounds =
      low === high
        ? ''
        : ` (between ${probabilityText(low ?? 0)} and ${probabilityText(high ?? 1)} if doubts hang together)`;
    const message = `${how}, ${range}; the evidence gives ${probabilityText(found)}${bounds}. To fit, ${proposedWording(found)}.`;
    findings.push({ kind: 'overstated', message });
  } else if (own !== undefined && own < words.low) {
    const message = `${how}, ${range}; its author gave ${probabilityText(own)}. To fit, ${proposedWording(own)}.`;
    findings.push({ kind: 'overstated', message });
  }
  const least = Math.min(found ?? 1, own ?? 1);
  if ((found !== null || own !== undefined) && least > words.high) {
    const message = `${how}, ${range}; the evidence gives ${probabilityText(least)}. To fit, ${proposedWording(least)}.`;
    findings.push({ kind: 'understated', message });
  }
  return findings;
}

/** "Every" and "never" need a count, or at least every opened unit of the devices in question. */
function sweepingFindings(state: State, { sweeping }: Wording, claim: Claim): ClaimFinding[] {
  if (sweeping === null || (claim.figures ?? []).length > 0) return [];
  const named = new Set(claim.supportedBy.map(specimenNamed));
  const left = [...new Set([...named].map(recordOfId))].flatMap((device) => {
    const specimens = state.specimensOf(device);
    return specimens.some(({ id }) => named.has(id)) ? specimens.filter(({ id }) => !named.has(id)) : [];
  });
  if (left.length === 0) return [];
  const others = left.map(({ id }) => id).join(', ');
  const message = `It says "${sweeping}", but other opened units of the same device are not under it: ${others}. Look at them too, or give a figure to count.`;
  return [{ kind: 'overstated', message }];
}

function probabilityText(probability: number): string {
  return probability.toFixed(2);
}

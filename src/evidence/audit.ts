import { type Claim, claimIdOf, type Publication } from '../model/catalogue.ts';
import { Pace } from '../state/pace.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { fixed } from '../text/rounding.ts';
import { type CheckedSentence, checkSentence } from './sentence/check-sentence.ts';
import type { Statement } from './sentence/statement.ts';
import { type Support, supportOf } from './support.ts';
import { proposedWording, type Wording, wordingOf } from './wording.ts';

/** What may be wrong with a sentence. */
export const FINDING_KINDS = [
  'overstated',
  'understated',
  'unsupported',
  'contradicted',
  'withdrawn',
] as const;
export type FindingKind = (typeof FINDING_KINDS)[number];

export interface ClaimFinding {
  readonly kind: FindingKind;
  /** What in the sentence or under it the finding is about; the same before and after a change that only moves its numbers. */
  readonly about: string;
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
  /** What the sentence says in particular, each compared with what is under it. */
  readonly statements: readonly Statement[];
  /** What of the sentence was compared with nothing, in so many words. */
  readonly notChecked: readonly string[];
  /** Empty when nothing was found against the sentence. */
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
  const checked = await checkSentence(state, claim, support, signal);
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
    statements: checked.statements,
    notChecked: checked.notChecked,
    findings: [
      ...withdrawn(support),
      ...unsupported(support, checked),
      ...wordingFindings(words, support, claim),
      ...trendFindings(support),
      ...statementFindings(checked),
    ],
  };
}

function withdrawn({ items }: Support): ClaimFinding[] {
  return items.flatMap(({ id, trouble }) =>
    trouble === null
      ? []
      : [{ kind: 'withdrawn' as const, about: id, message: `It is supported by ${id}: ${trouble}.` }],
  );
}

/** What shows nothing in particular: a source, an entire device or unit, a photo, a name. */
const GENERAL = new Set(['source', 'device', 'specimen', 'record', 'nothing']);

/**
 * Somebody must have seen, measured, counted or concluded it. An entire device carries what is recorded of it as a whole: its mass,
 * and that something is not in it.
 */
function unsupported({ items }: Support, { statements, isForeign }: CheckedSentence): ClaimFinding[] {
  const about = 'support';
  const hasEvidence = items.some(({ kind }) => !GENERAL.has(kind));
  if (hasEvidence && !isForeign) return [];
  if (hasEvidence) {
    const message = `Nothing that it says, not a word of it, is in what supports it (${items.map(({ id }) => id).join(', ')}): name what shows it.`;
    return [{ kind: 'unsupported', about, message }];
  }
  if (statements.some(({ kind, result }) => result === 'carried' && kind !== 'device')) return [];
  // Every sentence is filed with support, so all of it has been taken back from readers; what it was is not theirs to know.
  if (items.length === 0) {
    const message = 'Its support was withdrawn: nothing that is published supports it any more.';
    return [{ kind: 'withdrawn', about, message }];
  }
  const message = `It is supported by ${items.map(({ id }) => id).join(', ')} alone: name the observation, component, decision or figure that shows it.`;
  return [{ kind: 'unsupported', about, message }];
}

/** A test of direction has no probability: it finds the direction or it does not. */
function trendFindings({ items }: Support): ClaimFinding[] {
  return items.flatMap(({ id, found, description }) =>
    found === false
      ? [{ kind: 'overstated' as const, about: id, message: `Its ${id} is not found: ${description}.` }]
      : [],
  );
}

function statementFindings({ statements }: CheckedSentence): ClaimFinding[] {
  return statements.flatMap(({ kind, text, result, message }): ClaimFinding[] => {
    if (result === 'carried') return [];
    const said = { about: `${kind} ${text}`, message: `It says “${text}”: ${message}.` };
    // A quantifier says more than what was seen; that is a fault of the wording.
    if (kind === 'quantifier') return [{ kind: 'overstated', ...said }];
    return [{ kind: result, ...said }];
  });
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
    findings.push({ kind: 'overstated', about: 'wording', message });
  } else if (own !== undefined && own < words.low) {
    const message = `${how}, ${range}; its author gave ${probabilityText(own)}. To fit, ${proposedWording(own)}.`;
    findings.push({ kind: 'overstated', about: 'wording', message });
  }
  const least = Math.min(found ?? 1, own ?? 1);
  if ((found !== null || own !== undefined) && least > words.high) {
    const message = `${how}, ${range}; the evidence gives ${probabilityText(least)}. To fit, ${proposedWording(least)}.`;
    findings.push({ kind: 'understated', about: 'wording', message });
  }
  return findings;
}

function probabilityText(probability: number): string {
  return fixed(probability, 2);
}

import { z } from 'zod';
import { type AuditedClaim, auditClaim, FINDING_KINDS } from '../evidence/audit.ts';
import { workedFigure } from '../evidence/figures.ts';
import type { Publication } from '../model/catalogue.ts';
import { type Figure, figureSchema } from '../model/figure.ts';
import { lastOfId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { Pace } from '../state/pace.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

// What a publication says and what the archive gives for it, as data: what is calculated again to see whether a pack is still so.

const chance = z.number().min(0).max(1);
const number = chance.nullable();
const words = z.string().max(20_000);
const id = z.string().min(1).max(500);

const findingSchema = z.strictObject({ kind: z.enum(FINDING_KINDS), about: words, message: words });
const supportSchema = z.strictObject({
  id,
  kind: words,
  description: words,
  probability: number,
  trouble: words.nullable(),
});
const packedFigureSchema = z.strictObject({
  /** `publication/claim figure 1`. */
  id,
  figure: figureSchema,
  states: words,
  found: words,
  probability: number,
  isFound: z.boolean().nullable(),
  /** Path of its table in the pack. */
  table: id,
});
const sentenceSchema = z.strictObject({
  id,
  sentence: words,
  by: words.nullable(),
  /** Its words of likelihood, where it has any, and the probabilities that the wording takes. */
  wording: z.strictObject({ words: words.nullable(), low: chance, high: chance }),
  /** What its author gave. */
  given: number,
  /** What the evidence gives, with the least and the most if doubts hang together. */
  probability: number,
  low: number,
  high: number,
  findings: z.array(findingSchema),
  support: z.array(supportSchema),
  figures: z.array(packedFigureSchema),
});

/** A sentence and what the archive gave for it. Probabilities are 0 to 1; null where there is no number. */
export type PackedSentence = z.infer<typeof sentenceSchema>;
/** A figure that a sentence states, and what the archive gave for it. */
export type PackedFigure = z.infer<typeof packedFigureSchema>;

export const statementSchema = z.strictObject({
  caseback: z.literal('pack/1'),
  publication: z.strictObject({ id, kind: words, title: words, published: words.nullable() }),
  state: z.strictObject({
    audience: z.enum(['reader', 'desk']),
    /** ISO 8601 in UTC: at which the archive was asked. */
    instant: z.iso.datetime(),
    /** Sealed, as in addresses under /cite/. */
    name: z.string().max(200).nullable(),
  }),
  sentences: z.array(sentenceSchema).max(10_000),
});

/** What a pack says of a publication, and of the state it was made from: its file `pack.json`. */
export type Statement = z.infer<typeof statementSchema>;

/** The state of the archive that a pack is made from, as it is named in it. */
export interface PackState {
  /** ISO 8601 in UTC: that of the asking, never that of an entry, which readers may not be told. */
  readonly instant: string;
  /** Sealed name of the state, as in addresses under /cite/; null where there is none. */
  readonly name: string | null;
}

/**
 * What a publication says and what a state gives for it.
 * @throws CasebackError NOT_FOUND when nothing visible has the id; the signal's reason
 */
export async function statementOf(
  view: State,
  publicationId: string,
  { instant, name }: PackState,
  signal?: AbortSignal,
): Promise<Statement> {
  const { thing } = resolved(view, publicationId, ['Publication']);
  const { id, kind, title, published = null } = thing;
  const sentences: PackedSentence[] = [];
  const pace = new Pace(signal);
  for (const claim of thing.claims) {
    await pace.rest();
    sentences.push(await sentenceOf(view, thing, claim, signal));
  }
  return {
    caseback: 'pack/1',
    publication: { id, kind, title, published },
    state: { audience: view.audience, instant, name },
    sentences,
  };
}

/** One sentence and what a state gives for it. */
export async function sentenceOf(
  view: State,
  publication: Publication,
  claim: Publication['claims'][number],
  signal?: AbortSignal,
): Promise<PackedSentence> {
  const audited = await auditClaim(view, publication, claim, signal);
  const figures: PackedFigure[] = [];
  for (const [at, figure] of (claim.figures ?? []).entries()) {
    const packed = await figureOf(view, audited, figure, at + 1);
    if (packed) figures.push(packed);
  }
  const { support, findings } = audited;
  return {
    id: audited.id,
    sentence: claim.sentence,
    by: claim.by ?? null,
    wording: { words: audited.wording.words, low: audited.wording.low, high: audited.wording.high },
    given: claim.probability ?? null,
    probability: support.probability,
    low: support.low,
    high: support.high,
    findings: findings.map(({ kind, about, message }) => ({ kind, about, message })),
    support: support.items.map(({ id, kind, description, probability, trouble }) => ({
      id,
      kind,
      description,
      probability,
      trouble,
    })),
    figures,
  };
}

/** A figure, worked out; nothing where it names what nothing visible has, which must not show what that is. */
async function figureOf(
  view: State,
  { id }: AuditedClaim,
  figure: Figure,
  at: number,
): Promise<PackedFigure | undefined> {
  try {
    const { states, found, probability, isFound = null } = await workedFigure(view, figure);
    const table = `figures/${lastOfId(id)}-figure-${at}.csv`;
    return { id: `${id} figure ${at}`, figure, states, found, probability, isFound, table };
  } catch (error) {
    if (error instanceof CasebackError && error.code === 'NOT_FOUND') return undefined;
    throw error;
  }
}

import { createHash } from 'node:crypto';
import type { NamedPattern } from '../model/catalogue.ts';
import type { DecisionJudgement } from '../model/decision.ts';
import { decisionId, parseThingId, specimenOfId, thingId } from '../model/ids.ts';
import { fallenIn } from '../model/standing.ts';
import type { PatternDevice, PatternMatch } from '../patterns/answer.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { tidy } from '../statistics/tidy.ts';

/** How a decision stands. Reopened: it was rejected, and the evidence has changed since. */
export const STANDINGS = ['proposed', 'endorsed', 'doubted', 'rejected', 'reopened'] as const;
export type Standing = (typeof STANDINGS)[number];

/** A design decision that a named pattern suggests of a device: a conclusion, never something seen. */
export interface Decision {
  /** Device id, colon, pattern id. */
  readonly id: string;
  readonly deviceId: string;
  readonly patternId: string;
  /** Name of the pattern. */
  readonly name: string;
  /** The design idea in one sentence. */
  readonly idea: string;
  /**
   * Probability, 0 to 1, that the designers decided so: that the shape is there, times how often the shape means the
   * idea (the pattern's strength). Editors' judgements do not change the number; they are given beside it.
   */
  readonly probability: number;
  /** Probability, 0 to 1, that the shape is there, from the identifications that support it. */
  readonly shape: number;
  readonly strength: number;
  /** Whether `shape` is exact or an estimate. */
  readonly method: PatternDevice['method'];
  /** Every way in which the pattern fits, most certain first. */
  readonly matches: readonly PatternMatch[];
  /** Reasons a designer may have had. */
  readonly reasons: readonly string[];
  /** Other explanations of the same shape. */
  readonly against: readonly string[];
  readonly standing: Standing;
  /** Editors' judgements, first to last. */
  readonly judgements: readonly DecisionJudgement[];
}

/** What supports a decision, by global id. */
export interface DecisionEvidence {
  /** Components, boards and other things the matches bind, of dossiers alone. */
  readonly things: readonly string[];
  /** Observations under the identifications and connections used, and those about the components; none withdrawn or corrected. */
  readonly observations: readonly string[];
}

/** A decision from what a pattern found in a device. @param judgements editors' judgements, in order */
export function decisionOf(
  pattern: NamedPattern,
  found: PatternDevice,
  judgements: readonly DecisionJudgement[],
  evidence: () => string,
): Decision {
  return {
    id: decisionId(found.deviceId, pattern.id),
    deviceId: found.deviceId,
    patternId: pattern.id,
    name: pattern.name,
    idea: pattern.idea,
    probability: tidy(found.probability * pattern.strength),
    shape: found.probability,
    strength: pattern.strength,
    method: found.method,
    matches: found.matches,
    reasons: pattern.reasons,
    against: pattern.against,
    standing: standingOf(judgements, evidence),
    judgements,
  };
}

/**
 * The last verdict counts; a rejection only as long as there is no new evidence. A reader who sees less than the editor
 * who rejected it does not learn that there is more.
 */
function standingOf(judgements: readonly DecisionJudgement[], evidence: () => string): Standing {
  const last = judgements.at(-1);
  if (last?.verdict !== 'rejected') return last?.verdict ?? 'proposed';
  return addsNothing(evidence(), last.evidence) ? 'rejected' : 'reopened';
}

/** Whether all evidence of now was known then. @param known as {@link evidenceDigest} gave it then */
function addsNothing(evidence: string, known: string): boolean {
  const separated = (digests: string) =>
    digests.split(' ').map((one): [string, string | undefined] => {
      const [key, digest] = one.split('=');
      return [key, digest];
    });
  // Of one component several, where readers saw it otherwise than the desk.
  const digests = Map.groupBy(separated(known), ([key]) => key);
  const now = separated(evidence);
  const isKnown = ([key, digest]: [string, string | undefined]) =>
    digests.get(key)?.some(([, one]) => one === digest) ?? digest !== undefined;
  return now.every(isKnown) && now.some(([key]) => digests.has(key));
}

/** Things and observations under a set of matches. @param opened visible specimens by id */
export function decisionEvidence(
  matches: readonly PatternMatch[],
  opened: (specimenId: string) => OpenedSpecimen | undefined,
): DecisionEvidence {
  const things = new Set<string>();
  const observations = new Set<string>();
  for (const bound of boundBySpecimen(matches)) {
    const specimen = opened(bound.specimenId);
    if (!specimen) continue;
    for (const local of bound.locals) things.add(thingId(specimen.id, local));
    for (const id of observationsUnder(specimen, bound.locals)) observations.add(thingId(specimen.id, id));
  }
  return { things: [...things], observations: [...observations] };
}

/** Local ids of the observations under some components of a specimen and the connections between them. */
function observationsUnder(specimen: OpenedSpecimen, locals: ReadonlySet<string>): ReadonlySet<string> {
  const found = new Set<string>();
  for (const local of locals) {
    for (const id of specimen.identified.get(local)?.basis ?? []) found.add(id);
    for (const { id } of specimen.observations.get(local) ?? []) found.add(id);
    for (const { between, basis } of specimen.connections.get(local) ?? [])
      if (between.every((end) => locals.has(end))) for (const id of basis) found.add(id);
  }
  for (const id of fallenIn(specimen.dossier.observations).keys()) found.delete(id);
  return found;
}

/**
 * Digests of all that supports a decision, separated by spaces. For a pattern within a device one for each match: the
 * pattern's text, what the match binds, how sure it is, what the bound components are identified as, and the
 * observations underneath. For a pattern that spans the archive, whose matches come and go with other devices, one for
 * each component of the device itself, `component=digest`, both hashed.
 */
export function evidenceDigest(
  pattern: NamedPattern,
  matches: readonly PatternMatch[],
  opened: (specimenId: string) => OpenedSpecimen | undefined,
): string {
  const under = ({ specimenId, locals }: Bound) => {
    const specimen = opened(specimenId);
    if (!specimen) return [specimenId];
    const taken = [...locals].sort().map((local) => [local, specimen.identified.get(local)?.candidates]);
    return [specimenId, taken, [...observationsUnder(specimen, locals)].sort()];
  };
  const ofMatch = (match: PatternMatch) => {
    const bound = match.bindings.map(({ variable, ids }) => [variable, ids]);
    return digest([pattern.text, bound, match.probability, boundBySpecimen([match]).map(under)]);
  };
  const ofComponent = (specimenId: string, local: string) =>
    `${digest([specimenId, local])}=${digest([pattern.text, under({ specimenId, locals: new Set([local]) })])}`;
  const own = new Set(matches.map(({ specimenId }) => specimenId));
  const digests =
    pattern.scope === 'archive'
      ? boundBySpecimen(matches)
          .filter(({ specimenId }) => own.has(specimenId))
          .flatMap(({ specimenId, locals }) => [...locals].map((local) => ofComponent(specimenId, local)))
      : matches.map(ofMatch);
  return [...new Set(digests)].sort().join(' ');
}

/** Digests of evidence, each as {@link evidenceDigest} gives it, in one. */
export function joinedEvidence(all: readonly string[]): string {
  return [...new Set(all.flatMap((one) => one.split(' ')))].sort().join(' ');
}

/** 64 bits, enough to distinguish a few hundred matches. */
function digest(value: unknown): string {
  return createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 16);
}

interface Bound {
  readonly specimenId: string;
  readonly locals: ReadonlySet<string>;
}

/** Local ids that matches bind, by specimen, specimens in order of id. */
function boundBySpecimen(matches: readonly PatternMatch[]): readonly Bound[] {
  const bound = new Map<string, Set<string>>();
  for (const { bindings } of matches) {
    for (const { ids } of bindings) {
      for (const id of ids) {
        const local = parseThingId(id)?.local;
        if (local === undefined) continue;
        const specimen = specimenOfId(id);
        const locals = bound.get(specimen);
        if (locals) locals.add(local);
        else bound.set(specimen, new Set([local]));
      }
    }
  }
  return [...bound]
    .map(([specimenId, locals]) => ({ specimenId, locals }))
    .sort((a, b) => (a.specimenId < b.specimenId ? -1 : 1));
}

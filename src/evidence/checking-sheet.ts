import { decisionEvidence } from '../decisions/decision.ts';
import { checkOfDecision } from '../decisions/decision-check.ts';
import { decisionById } from '../decisions/decisions.ts';
import type { Claim, Publication } from '../model/catalogue.ts';
import type { Correction } from '../model/correction.ts';
import type { Observation } from '../model/dossier.ts';
import { lastOfId, parseThingId, specimenOfId, thingId } from '../model/ids.ts';
import { fallenIn, fallenText } from '../model/standing.ts';
import { Pace } from '../state/pace.ts';
import { resolve } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { type AuditedClaim, auditClaims } from './audit.ts';
import { correctionsIn } from './corrections.ts';
import { photosOfEvidence, type ShownPhoto } from './photos-showing.ts';
import { observationText, type SupportItem, supportOf } from './support.ts';

/** One line of evidence; `depth` is its level: 0 for what the sentence itself names. */
export interface EvidenceLine {
  readonly depth: number;
  readonly id: string;
  readonly kind: string;
  readonly description: string;
  readonly probability: number | null;
  /** Who saw or judged it, and when, as far as it is known. */
  readonly by: string | null;
  /** Why it no longer supports the sentence. */
  readonly trouble: string | null;
}

export interface CheckedSentence {
  readonly audit: AuditedClaim;
  readonly evidence: readonly EvidenceLine[];
  /** Photos that show what supports it, in the order of the evidence. */
  readonly photos: readonly ShownPhoto[];
}

/** Everything that somebody who checks a publication needs before it goes to print. */
export interface CheckingSheet {
  readonly publication: Publication;
  /** The instant as of which the evidence is shown, ISO 8601. */
  readonly asOf: string;
  readonly sentences: readonly CheckedSentence[];
  readonly corrections: readonly Correction[];
}

/**
 * The checking sheet of a publication: every sentence, its support down to observation, photo and source, and who judged.
 * @throws CasebackError NOT_FOUND when nothing visible has the id; the signal's reason
 */
export async function checkingSheet(
  state: State,
  publicationId: string,
  signal?: AbortSignal,
): Promise<CheckingSheet> {
  const audited = await auditClaims(state, publicationId, signal);
  const sentences: CheckedSentence[] = [];
  const pace = new Pace(signal);
  for (const audit of audited) {
    await pace.rest();
    const lines: EvidenceLine[] = [];
    for (const item of audit.support.items) lines.push(...(await linesOf(state, item, signal)));
    sentences.push({ audit, evidence: lines, photos: photosOfLines(state, lines) });
  }
  return {
    publication: state.publication(publicationId) as Publication,
    asOf: state.now,
    sentences,
    corrections: correctionsIn(state).filter(({ publications }) =>
      publications.some(({ publication }) => publication === publicationId),
    ),
  };
}

/** Photos of what stands in the evidence and has not fallen. */
function photosOfLines(state: State, lines: readonly EvidenceLine[]): readonly ShownPhoto[] {
  return photosOfEvidence(
    state,
    lines.flatMap(({ id, trouble }) => (trouble === null ? [id] : [])),
  );
}

/**
 * Photos that show what supports a sentence, those of its checking sheet.
 * @throws the signal's reason
 */
export async function photosOfClaim(
  state: State,
  claim: Claim,
  signal?: AbortSignal,
): Promise<readonly ShownPhoto[]> {
  const lines: EvidenceLine[] = [];
  for (const item of (await supportOf(state, claim, signal)).items)
    lines.push(...(await linesOf(state, item, signal)));
  return photosOfLines(state, lines);
}

/** Evidence for one supporting item, line by line. @param above sentences it is under, so that none is unfolded twice */
async function linesOf(
  state: State,
  item: SupportItem,
  signal?: AbortSignal,
  above: readonly string[] = [],
): Promise<readonly EvidenceLine[]> {
  const head = { ...item, depth: 0, by: null };
  const specimen = specimenAt(state, item.id);
  const local = lastOfId(item.id);
  switch (item.kind) {
    case 'component':
      return [head, ...(specimen ? underComponent(specimen, local, 1) : [])];
    case 'observation': {
      const observation = specimen?.dossier.observations.find(({ id }) => id === local);
      if (!specimen || !observation) return [head];
      return [{ ...head, by: signed(observation) }, ...photoLines(specimen, observation, 1)];
    }
    case 'decision':
      return [head, ...(await underDecision(state, item.id, signal))];
    case 'source': {
      const source = state.source(item.id);
      const where = [source?.kind, source?.url, source?.accessed && `looked at ${source.accessed}`];
      return [{ ...head, description: [item.description, ...where.filter(Boolean)].join(', ') }];
    }
    case 'claim': {
      const found = resolve(state, item.id);
      const claim = found?.kind === 'Claim' ? found.thing : undefined;
      const line = { ...head, by: claim?.by ?? null };
      if (!claim || above.includes(item.id)) return [line];
      const { items } = await supportOf(state, claim, signal);
      const under: EvidenceLine[] = [];
      for (const one of items) under.push(...(await linesOf(state, one, signal, [...above, item.id])));
      return [line, ...under.map((one) => ({ ...one, depth: one.depth + 1 }))];
    }
    default:
      return [head];
  }
}

function specimenAt(state: State, id: string): OpenedSpecimen | undefined {
  return parseThingId(id) ? state.specimen(specimenOfId(id)) : undefined;
}

function signed({ by, on, method }: Observation): string | null {
  return [by, on, method].filter((one) => one !== undefined).join(', ') || null;
}

/** What a component is identified as, and what was seen of it. */
function underComponent(specimen: OpenedSpecimen, local: string, depth: number): readonly EvidenceLine[] {
  const identification = specimen.identified.get(local);
  const lines: EvidenceLine[] = (identification?.candidates ?? []).map((candidate) => ({
    depth,
    id: thingId(specimen.id, local),
    kind: 'identification',
    description: `${local} identified as ${candidate.part ?? candidate.category ?? candidate.maker} (${identification?.state})`,
    probability: candidate.probability,
    by: [identification?.by, identification?.on, identification?.reason].filter(Boolean).join(', ') || null,
    trouble: null,
  }));
  const under = new Set(identification?.basis ?? []);
  for (const { id } of specimen.observations.get(local) ?? []) under.add(id);
  for (const id of under) lines.push(...observationLines(specimen, id, depth + 1));
  return lines;
}

function observationLines(specimen: OpenedSpecimen, id: string, depth: number): readonly EvidenceLine[] {
  const observation = specimen.dossier.observations.find((one) => one.id === id);
  if (!observation) return [];
  const fallen = fallenIn(specimen.dossier.observations).get(id);
  const line = {
    depth,
    id: thingId(specimen.id, id),
    kind: 'observation',
    description: observationText(observation),
    probability: null,
    by: signed(observation),
    trouble: fallen ? fallenText(fallen) : null,
  };
  return [line, ...photoLines(specimen, observation, depth + 1)];
}

function photoLines(
  specimen: OpenedSpecimen,
  { photo: id }: Observation,
  depth: number,
): readonly EvidenceLine[] {
  const photo = id === undefined ? undefined : specimen.dossier.photos.find((one) => one.id === id);
  if (!photo) return [];
  const { caption, file, licence, sha256, credit } = photo;
  const description = [caption, file, licence, `SHA-256 ${sha256.slice(0, 12)}…`].filter(Boolean).join(', ');
  const named = { id: thingId(specimen.id, photo.id), kind: 'photo', description };
  return [{ ...named, depth, probability: null, by: credit, trouble: null }];
}

/** The most certain match of a decision, its arithmetic, what editors said, and the observations underneath. */
async function underDecision(
  state: State,
  id: string,
  signal?: AbortSignal,
): Promise<readonly EvidenceLine[]> {
  const decision = await decisionById(state, id, signal);
  const [match] = decision?.matches ?? [];
  if (!decision || !match) return [];
  const at = { depth: 1, trouble: null };
  const bound = match.bindings.map(({ variable, ids }) => `${variable} = ${ids.join(', ')}`).join('; ');
  const lines: EvidenceLine[] = [
    { ...at, id, kind: 'match', description: bound, probability: match.probability, by: null },
  ];
  const check = checkOfDecision(state, decision);
  if (check) {
    const wanted = check.missing.map(({ name }) => name).join(', ');
    const { sentence, verdict } = check.result ?? {};
    const description = sentence
      ? `${sentence} (${verdict?.replaceAll('-', ' ')})`
      : (check.problem ?? `wanted: ${wanted}`);
    lines.push({
      ...at,
      id: check.check,
      kind: 'check',
      description,
      probability: check.probability,
      by: null,
    });
  }
  for (const { verdict, by, on, reason } of decision.judgements)
    lines.push({
      ...at,
      id,
      kind: 'judgement',
      description: `${verdict}: ${reason}`,
      probability: null,
      by: `${by}, ${on}`,
    });
  const evidence = decisionEvidence([match], (one) => state.specimen(one));
  for (const thing of evidence.things) {
    const opened = specimenAt(state, thing);
    if (opened) lines.push(...underComponent(opened, lastOfId(thing), 1));
  }
  return lines;
}

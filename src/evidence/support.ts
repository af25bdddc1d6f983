import { decisionById } from '../decisions/decisions.ts';
import type { Claim } from '../model/catalogue.ts';
import type { Identification, Observation } from '../model/dossier.ts';
import type { Figure } from '../model/figure.ts';
import { lastOfId, parseDecisionId, parseThingId, specimenOfId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { fallenIn, fallenText } from '../model/standing.ts';
import { isTerm, lineage } from '../model/taxonomy.ts';
import { writtenUnit } from '../model/written-unit.ts';
import { type LabelWeights, likeliestCategory } from '../state/labels.ts';
import { resolve } from '../state/resolve.ts';
import { localThing, type OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { tidy } from '../statistics/tidy.ts';
import { workedFigure } from './figures.ts';
import { kindsIn } from './sentence/kinds.ts';
import { partIdsNamed } from './sentence/names.ts';

/** Kinds of things that may support a sentence. */
export type SupportKind =
  | 'observation'
  | 'component'
  | 'board'
  | 'specimen'
  | 'device'
  | 'part'
  | 'decision'
  | 'claim'
  | 'figure'
  | 'source'
  | 'record'
  | 'nothing';

/** One thing that supports a sentence. */
export interface SupportItem {
  /** Global id, or `figure 1` for a figure that the sentence states. */
  readonly id: string;
  readonly kind: SupportKind;
  /** What it is, in words. */
  readonly description: string;
  /** Probability, 0 to 1; null for what has none, such as a source. */
  readonly probability: number | null;
  /** Why it no longer supports the sentence, such as a withdrawn observation. */
  readonly trouble: string | null;
  /** Of a trend alone: whether the test finds the direction stated, which is a verdict and no probability. */
  readonly found?: boolean;
}

/** What supports a sentence and how likely that makes it. */
export interface Support {
  readonly items: readonly SupportItem[];
  /**
   * Probability, 0 to 1, that all its support is right, the items taken as independent: their product. Null when no item
   * has a number.
   */
  readonly probability: number | null;
  /** The least and most that it can be if they are not (Fréchet's bounds): 1 less all doubts, and the weakest item. */
  readonly low: number | null;
  readonly high: number | null;
}

/** Claims supported by claims are followed this far. */
const MAX_DEPTH = 16;

/** What supports a claim, each item with its probability in a state. */
export async function supportOf(
  state: State,
  claim: Claim,
  signal?: AbortSignal,
  depth = 0,
): Promise<Support> {
  const found: SupportItem[] = [];
  for (const id of claim.supportedBy) found.push(await itemOf(state, id, claim, signal, depth));
  for (const [i, figure] of (claim.figures ?? []).entries()) {
    found.push(await figureItem(state, `figure ${i + 1}`, figure));
  }
  // A published sentence may be supported by a record still hidden; neither its id nor that it is missing may show.
  const items = state.audience === 'desk' ? found : found.filter(({ kind }) => kind !== 'nothing');
  return { items, ...together(items) };
}

/** A figure; one that names what nothing visible has carries nothing. */
async function figureItem(state: State, id: string, figure: Figure): Promise<SupportItem> {
  try {
    const { states, found, probability, isFound } = await workedFigure(state, figure);
    const item = {
      id,
      kind: 'figure',
      description: `${states}: ${found}`,
      probability,
      trouble: null,
    } as const;
    return isFound === undefined ? item : { ...item, found: isFound };
  } catch (error) {
    if (!(error instanceof CasebackError && error.code === 'NOT_FOUND')) throw error;
    const trouble = `it can no longer be calculated: ${error.message}`;
    return { id, kind: 'nothing', description: 'a figure', probability: 0, trouble };
  }
}

function together(items: readonly SupportItem[]): Omit<Support, 'items'> {
  const chances = items.flatMap(({ probability }) => (probability === null ? [] : [probability]));
  if (chances.length === 0) return { probability: null, low: null, high: null };
  const doubts = chances.reduce((sum, p) => sum + (1 - p), 0);
  return {
    probability: tidy(chances.reduce((product, p) => product * p, 1)),
    low: tidy(Math.max(0, 1 - doubts)),
    high: tidy(Math.min(...chances)),
  };
}

async function itemOf(
  state: State,
  id: string,
  claim: Claim,
  signal: AbortSignal | undefined,
  depth: number,
): Promise<SupportItem> {
  if (isTerm(id)) return termItem(state, id, claim);
  if (parseDecisionId(id)) return decisionItem(state, id, signal);
  const found = resolve(state, id);
  switch (found?.kind) {
    case 'Specimen':
      return plain(id, 'specimen', `the unit opened on ${found.thing.openedOn}`);
    case 'Part':
      return partItem(state, id, claim);
    case 'Claim': {
      if (depth >= MAX_DEPTH) return nothing(id);
      const { probability, items } = await supportOf(state, found.thing, signal, depth + 1);
      const lost = items.find(({ trouble }) => trouble !== null);
      const trouble = lost ? `it is supported by ${lost.id}: ${lost.trouble}` : null;
      return { id, kind: 'claim', description: found.thing.sentence, probability, trouble };
    }
    case 'Device':
      return plain(id, 'device', found.thing.name);
    case 'Source':
      return plain(id, 'source', found.thing.title);
    case 'Maker':
    case 'ProductLine':
    case 'Pattern':
      return plain(id, 'record', found.thing.name);
    case 'Observation':
      return observationItem(found.opened, id, found.thing);
    case 'Component':
      return componentItem(state, found.opened, id, found.thing.id, claim);
    case 'Board':
      return plain(id, 'board', found.thing.name ?? `${found.thing.kind} board ${found.thing.id}`);
    case 'Photo':
      return plain(id, 'record', found.thing.caption ?? 'a photo');
    case 'Subsystem':
      return plain(id, 'record', `subsystem ${found.thing.name ?? found.thing.kind}`);
    case 'Net':
      return plain(id, 'record', `net ${found.thing.label ?? found.thing.id}`);
    case 'Teardown':
      return plain(id, 'record', 'the opening');
    // A whole publication, a stored question, or a decision, which was dealt with above, says nothing in particular.
    case 'Publication':
    case 'Feed':
    case 'ListMapping':
    case 'Decision':
    case undefined:
      return nothing(id);
    default:
      return found satisfies never;
  }
}

function plain(id: string, kind: SupportKind, description: string): SupportItem {
  return { id, kind, description, probability: null, trouble: null };
}

function nothing(id: string): SupportItem {
  const trouble = 'nothing visible has this id any more';
  return { id, kind: 'nothing', description: '', probability: 0, trouble };
}

async function decisionItem(state: State, id: string, signal: AbortSignal | undefined): Promise<SupportItem> {
  const decision = await decisionById(state, id, signal);
  if (!decision) {
    const { device } = parseDecisionId(id) ?? { device: '' };
    if (!state.device(device)) return nothing(id);
    const trouble = 'the pattern no longer fits the device';
    return { id, kind: 'decision', description: 'no such decision', probability: 0, trouble };
  }
  const { name, probability, standing, judgements } = decision;
  const last = judgements.at(-1);
  const rejected = standing === 'rejected';
  return {
    id,
    kind: 'decision',
    description: `${name} (${standing})`,
    probability: rejected ? 0 : probability,
    trouble: rejected ? `rejected by ${last?.by}: ${last?.reason}` : null,
  };
}

/** An observation fully supports a sentence, until it is withdrawn or a later one corrects it. */
function observationItem(opened: OpenedSpecimen, id: string, observation: Observation): SupportItem {
  const fallen = fallenIn(opened.dossier.observations).get(observation.id);
  const trouble = fallen ? fallenText(fallen) : null;
  return {
    id,
    kind: 'observation',
    description: observationText(observation),
    probability: trouble ? 0 : 1,
    trouble,
  };
}

/** An observation in a few words. */
export function observationText({ kind, text, marking, value }: Observation): string {
  const seen = [
    ...(marking === undefined ? [] : [`"${marking.replaceAll('\n', ' / ')}"`]),
    ...(value === undefined ? [] : [`${value.value} ${writtenUnit(value.unit)}`]),
    ...(text === undefined ? [] : [text]),
  ];
  return `${kind}: ${seen.join('; ') || 'no words'}`;
}

/**
 * A component counts as the part that the claim names, beside it or in the sentence, or as the kind, the narrowest that it may be;
 * where the claim names none that it may be, as the kind of thing it most likely is.
 */
function componentItem(
  state: State,
  opened: OpenedSpecimen,
  id: string,
  local: string,
  claim: Claim,
): SupportItem {
  const identification = opened.identified.get(local);
  const named = [...claim.supportedBy, ...partIdsNamed(state, claim.sentence)].find(
    (on) => partChance(identification, on) > 0,
  );
  if (named !== undefined) {
    const probability = tidy(partChance(identification, named));
    return { id, kind: 'component', description: `${local} is ${named}`, probability, trouble: null };
  }
  const labels: LabelWeights = opened.named.get(local) ?? new Map();
  const term = [...claim.supportedBy.filter(isTerm), ...kindsStated(claim.sentence)].find(
    (one) => (labels.get(one) ?? 0) > 0,
  );
  const kind = term
    ? { term, probability: labels.get(term) as number }
    : (likeliestCategory(labels) ?? likeliestTerm(labels));
  const withdrawn = identification === undefined && identifiedOnce(opened, local);
  return {
    id,
    kind: 'component',
    description: kind ? `${local} is of the kind ${kind.term}` : `${local} is not known`,
    probability: kind ? tidy(kind.probability) : 0,
    trouble: withdrawn
      ? 'its identification was withdrawn, or all observations under it were withdrawn or corrected'
      : kind
        ? null
        : 'nobody knows what it is',
  };
}

/** Kinds that a sentence says there are, the narrowest first. */
function kindsStated(sentence: string): readonly string[] {
  return kindsIn(sentence)
    .flatMap(({ term, isDenied }) => (isDenied ? [] : [term]))
    .sort((a, b) => lineage(b).length - lineage(a).length);
}

/** The likeliest term of a component of which no term is as likely as not; the narrowest of several. */
function likeliestTerm(
  labels: LabelWeights,
): { readonly term: string; readonly probability: number } | undefined {
  const [first] = [...labels]
    .map(([term, probability]) => ({ term, probability }))
    .filter(({ term, probability }) => term !== 'Component' && probability > 0)
    .sort((a, b) => b.probability - a.probability || lineage(b.term).length - lineage(a.term).length);
  return first;
}

/** A term of the taxonomy named beside components: one of them must be of that kind, possibly. */
function termItem(state: State, id: string, claim: Claim): SupportItem {
  const components = componentsOf(state, claim);
  const mayBe = components.some(({ opened, local }) => (opened.named.get(local)?.get(id) ?? 0) > 0);
  if (components.length === 0 || mayBe) return plain(id, 'record', 'the kind that the sentence names');
  const names = components.map(({ local }) => local).join(', ');
  const trouble = `none of the components under the sentence (${names}) may be of that kind`;
  return { id, kind: 'record', description: 'the kind that the sentence names', probability: 0, trouble };
}

/** Components that a claim names. */
function componentsOf(state: State, claim: Claim) {
  return claim.supportedBy.flatMap((on) => {
    const opened = parseThingId(on) ? state.specimen(specimenOfId(on)) : undefined;
    const found = opened && localThing(opened, lastOfId(on));
    return opened && found?.kind === 'Component' ? [{ opened, local: found.thing.id }] : [];
  });
}

function identifiedOnce({ dossier }: OpenedSpecimen, local: string): boolean {
  return dossier.identifications.some(({ component }) => component === local);
}

function partChance(identification: Identification | undefined, part: string): number {
  return (identification?.candidates ?? []).reduce(
    (sum, one) => (one.part === part ? sum + one.probability : sum),
    0,
  );
}

/**
 * A part named beside components must be what one of them is identified as, or what such a part relabels; named alone
 * it is a fact of the catalogue.
 */
function partItem(state: State, id: string, claim: Claim): SupportItem {
  const components = componentsOf(state, claim);
  const mayBe = ({ opened, local }: (typeof components)[number]) =>
    (opened.identified.get(local)?.candidates ?? []).some(
      ({ part, probability }) => probability > 0 && part !== undefined && comesFrom(state, part, id),
    );
  if (components.length === 0 || components.some(mayBe)) return plain(id, 'part', 'as the catalogue has it');
  const names = components.map(({ local }) => local).join(', ');
  const trouble = `none of the components under the sentence (${names}) is identified as it`;
  return { id, kind: 'part', description: 'named in the sentence', probability: 0, trouble };
}

/** Whether a part is another, or that other under a new label. */
function comesFrom(state: State, part: string, other: string): boolean {
  const seen = new Set<string>();
  for (let at: string | undefined = part; at !== undefined && !seen.has(at); at = state.part(at)?.relabels) {
    if (at === other) return true;
    seen.add(at);
  }
  return false;
}

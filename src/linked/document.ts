import { type Decision, type DecisionEvidence, decisionEvidence } from '../decisions/decision.ts';
import { decisionById } from '../decisions/decisions.ts';
import { auditClaims } from '../evidence/audit.ts';
import { correctionsIn } from '../evidence/corrections.ts';
import type { Lose } from '../export/export-file.ts';
import { piecesInTurns, type Scope } from '../export/graph/graph.ts';
import type { Provenance } from '../export/tables/csvw.ts';
import { specimenOfId } from '../model/ids.ts';
import { isTerm, TERMS } from '../model/taxonomy.ts';
import { visibleOf } from '../model/visibility.ts';
import { Pace } from '../state/pace.ts';
import { notFound, type Resolved, resolve, resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import {
  deviceNode,
  feedNode,
  listMappingNode,
  makerNode,
  partNode,
  patternNode,
  productLineNode,
  sourceNode,
} from './catalogue.ts';
import { correctionNode } from './corrections.ts';
import { decisionNodes } from './decisions.ts';
import { type LinkedNode, Linking } from './nodes.ts';
import { type LinkedPlace, NOWHERE, recordIri } from './places.ts';
import { publicationNodes } from './publications.ts';
import { specimenNodes } from './specimen.ts';
import { conceptNode, schemeNode } from './taxonomy.ts';
import { contextOf } from './vocabulary.ts';

/** A document of JSON-LD 1.1: plain JSON, ready to be written. */
export interface JsonLdDocument {
  /** The context itself, or the address of the one that is published. */
  readonly '@context': string | Readonly<Record<string, unknown>>;
  readonly '@graph': readonly LinkedNode[];
}

/**
 * The sentences of a publication with their support: claims with what the evidence gives them, then figures, decisions, identifications,
 * observations and photos under them, each thing once, and corrections that touched them. Nothing that the state does not have is in it.
 * @param place where addresses begin; names without an address on the web when left out, and the context is in the document
 * @throws CasebackError NOT_FOUND; the signal's reason
 */
export async function linkedPublication(
  state: State,
  publicationId: string,
  place: LinkedPlace = NOWHERE,
  signal?: AbortSignal,
): Promise<JsonLdDocument> {
  const { thing: publication } = resolved(state, publicationId, ['Publication']);
  const link = new Linking(state);
  const audited = await auditClaims(state, publicationId, signal);
  signal?.throwIfAborted();
  const under = new Under(state, place, signal);
  for (const { supportedBy } of publication.claims) for (const id of supportedBy) await under.take(id);
  const corrections = correctionsIn(state).filter(({ publications }) =>
    publications.some((one) => one.publication === publicationId),
  );
  return documentOf(place, [
    ...publicationNodes(link, publication, audited),
    ...under.nodes,
    ...corrections.map((correction) => correctionNode(link, correction)),
  ]);
}

/**
 * A single record: whatever has an id, with what was seen of it and concluded about it. A publication comes with the support of its
 * sentences, a decision with its evidence. Of devices and specimens with everything in them, see {@link jsonLdOf}.
 * @throws CasebackError NOT_FOUND; the signal's reason
 */
export async function linkedRecord(
  state: State,
  id: string,
  place: LinkedPlace = NOWHERE,
  signal?: AbortSignal,
): Promise<JsonLdDocument> {
  if (resolve(state, id)?.kind === 'Publication') return linkedPublication(state, id, place, signal);
  const under = new Under(state, place, signal);
  await under.take(id);
  const correction = correctionsIn(state).find((one) => one.id === id);
  const nodes = correction ? [correctionNode(new Linking(state), correction)] : under.nodes;
  if (nodes.length === 0) throw notFound(state, id);
  return documentOf(place, nodes);
}

/** The taxonomy as a concept scheme with its concepts. */
export function taxonomyDocument(place: LinkedPlace): JsonLdDocument {
  return documentOf(place, [schemeNode(place), ...TERMS.map((term) => conceptNode(term, place))]);
}

function documentOf(place: LinkedPlace, nodes: readonly LinkedNode[]): JsonLdDocument {
  return JSON.parse(
    written({ '@context': place.context ?? contextOf(place), '@graph': nodes }, () => undefined),
  );
}

/** What is under a sentence or a record: each thing once, in the order in which it was met. */
class Under {
  readonly nodes: LinkedNode[] = [];
  readonly #state: State;
  readonly #place: LinkedPlace;
  readonly #signal: AbortSignal | undefined;
  readonly #link: Linking;
  readonly #pace: Pace;
  readonly #taken = new Set<string>();
  readonly #specimens = new Map<string, readonly LinkedNode[]>();

  constructor(state: State, place: LinkedPlace, signal: AbortSignal | undefined) {
    this.#state = state;
    this.#place = place;
    this.#signal = signal;
    this.#link = new Linking(state);
    this.#pace = new Pace(signal);
  }

  async take(id: string): Promise<void> {
    if (this.#taken.has(id)) return;
    this.#taken.add(id);
    await this.#pace.rest();
    if (isTerm(id)) {
      this.nodes.push(conceptNode(id, this.#place));
      return;
    }
    const found = resolve(this.#state, id);
    if (!found) return;
    switch (found.kind) {
      case 'Specimen':
        this.#takeInside(id, (node) => node.id === recordIri(id));
        return;
      case 'Component':
      case 'Board':
      case 'Observation':
      case 'Photo':
      case 'Subsystem':
      case 'Net':
      case 'Teardown':
        await this.#takeThing(found.id);
        return;
      case 'Decision': {
        const { decision, evidence } = (await this.#found(id)) ?? {};
        const judgements = this.#state.judgementsOf(id);
        const worked = decision && evidence && { decision, evidence };
        this.nodes.push(...decisionNodes(this.#link, found.device.id, found.pattern, judgements, worked));
        for (const one of [...(evidence?.things ?? []), ...(evidence?.observations ?? [])])
          await this.take(one);
        return;
      }
      case 'Claim':
        this.nodes.push(
          ...publicationNodes(this.#link, found.publication).filter((node) => node.id === recordIri(id)),
        );
        for (const on of found.thing.supportedBy) await this.take(on);
        return;
      default:
        this.nodes.push(...recordNodes(this.#state, this.#link, found));
    }
  }

  async #found(
    id: string,
  ): Promise<{ readonly decision: Decision; readonly evidence: DecisionEvidence } | undefined> {
    const decision = await decisionById(this.#state, id, this.#signal);
    return (
      decision && {
        decision,
        evidence: decisionEvidence(decision.matches, (one) => this.#state.specimen(one)),
      }
    );
  }

  /** A thing of a specimen, with what was seen of it and concluded about it, and the photos of these. */
  async #takeThing(id: string): Promise<void> {
    const iri = recordIri(id);
    const about = this.#takeInside(
      specimenOfId(id),
      (node) => node.id === iri || [node.about].flat().includes(iri),
    );
    const shown = about.flatMap(({ derivedFrom, generatedBy }) => [
      ...((derivedFrom as readonly string[] | undefined) ?? []),
      ...(((generatedBy as LinkedNode | undefined)?.used as readonly string[] | undefined) ?? []),
    ]);
    this.#takeInside(specimenOfId(id), ({ id: own }) => own !== undefined && shown.includes(own));
  }

  /** Those of the nodes of a specimen that were not taken before. */
  #takeInside(specimen: string, wanted: (node: LinkedNode) => boolean): readonly LinkedNode[] {
    const row = this.#state.specimenRow(specimen);
    const opened = this.#state.specimen(specimen);
    if (!row || !opened) return [];
    const all = this.#specimens.get(specimen) ?? specimenNodes(this.#link, row, opened);
    this.#specimens.set(specimen, all);
    const chosen = all.filter(wanted);
    for (const node of chosen) {
      if (node.id === undefined || this.#taken.has(node.id)) continue;
      this.#taken.add(node.id);
      this.nodes.push(node);
    }
    return chosen;
  }
}

/** A record of the catalogue. */
function recordNodes(state: State, link: Linking, found: Resolved): readonly LinkedNode[] {
  switch (found.kind) {
    case 'Maker':
      return [makerNode(link, found.thing)];
    case 'ProductLine':
      return [productLineNode(link, found.thing)];
    case 'Device': {
      const specimens = state.specimensOf(found.id).map(({ id }) => recordIri(id));
      const node = deviceNode(link, found.thing, visibleOf(state.deviceRecord(found.id) ?? {}));
      return [specimens.length > 0 ? { ...node, specimen: specimens } : node];
    }
    case 'Part':
      return [partNode(link, found.thing)];
    case 'Source':
      return [sourceNode(link, found.thing)];
    case 'Pattern':
      return [patternNode(link, found.thing)];
    case 'Feed':
      return [feedNode(link, found.thing)];
    case 'ListMapping':
      return [listMappingNode(link, found.thing)];
    case 'Publication':
      return publicationNodes(link, found.thing);
    default:
      return [];
  }
}

/**
 * What a scope holds as pieces of one document, never the whole of it at once.
 * @param how where addresses begin, what is said of the document, and who is told of what cannot stand in it
 * @throws the signal's reason
 */
export async function* jsonLdOf(
  state: State,
  scope: Scope,
  { place, provenance, lose }: { place: LinkedPlace; provenance: Provenance; lose: Lose },
  signal?: AbortSignal,
): AsyncGenerator<string> {
  const link = new Linking(state);
  const context = JSON.stringify(place.context ?? contextOf(place));
  const first = [datasetNode(scope, provenance), schemeNode(place)].map((node) => written(node, lose));
  yield `{"@context":${context},\n"@graph":[\n${first.join(',\n')}`;
  const corrections = new Map(correctionsIn(state).map((one) => [one.id, one]));
  // Nodes of pieces say what is in a scope and in which order; what they hold is written from the records.
  for await (const { nodes } of piecesInTurns(state, scope, lose, signal)) {
    const [head] = nodes;
    if (head === undefined) continue;
    yield nodesAt(head.id, head.kind)
      .map((node) => `,\n${written(node, lose)}`)
      .join('');
  }
  yield '\n]}\n';

  function nodesAt(id: string, kind: string): readonly LinkedNode[] {
    if (kind === 'Term') return [conceptNode(id, place)];
    const correction = kind === 'Correction' ? corrections.get(id) : undefined;
    if (correction) return [correctionNode(link, correction)];
    const row = state.specimenRow(id);
    if (row) return specimenNodes(link, row, state.peek(row));
    const found = resolve(state, id);
    if (found?.kind === 'Decision')
      return decisionNodes(link, found.device.id, found.pattern, state.judgementsOf(id));
    return found ? recordNodes(state, link, found) : [];
  }
}

/** What is said of an export as a whole. */
function datasetNode(scope: Scope, { date, licence }: Provenance): LinkedNode {
  const of = scope.of === 'archive' ? 'everything' : `${scope.of} ${scope.id}`;
  return {
    type: 'schema:Dataset',
    name: `Caseback: records of ${of}`,
    date: { '@value': date, '@type': date.length > 10 ? 'xsd:dateTime' : 'xsd:date' },
    licence,
  };
}

/** JSON of a thing. A half of a surrogate pair is no character, and cannot stand in RDF. */
function written(thing: object, lose: Lose): string {
  return JSON.stringify(thing, (field, value: unknown) => {
    if (typeof value !== 'string' || value.isWellFormed()) return value;
    const record = (thing as LinkedNode).id ?? '';
    lose({ record, field, why: 'it has half of a character (a lone surrogate); U+FFFD stands for it' });
    return value.toWellFormed();
  });
}

import { correctionsIn, subjectOf } from '../../evidence/corrections.ts';
import { claimIdOf, type Part, type Publication } from '../../model/catalogue.ts';
import { parseDecisionId } from '../../model/ids.ts';
import { isTerm, lineage, meaningOf, TERM_PARENTS, TERMS, termInWords } from '../../model/taxonomy.ts';
import { unmarked, type Visible, visibleOf } from '../../model/visibility.ts';
import { type Resolved, resolve } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import type { ExportEdge, Piece } from './things.ts';

// Records of the catalogue, terms, decisions and corrections as nodes and edges.

/** Terms of the taxonomy, in its order. */
export function termsBelow(): readonly string[] {
  return TERMS;
}

export function termPiece(term: string): Piece | undefined {
  if (!isTerm(term)) return undefined;
  const above = TERM_PARENTS.flatMap(([child, parent]) => (child === term && parent ? [parent] : []));
  return {
    nodes: [
      {
        id: term,
        kind: 'Term',
        name: termInWords(term),
        details: { is: meaningOf(term), above: lineage(term).slice(1) },
      },
    ],
    edges: above.map((target) => link(term, 'UNDER', target)),
  };
}

/** A record of the catalogue by its id, a publication with its sentences; undefined for anything else. */
export function recordPiece(state: State, id: string): Piece | undefined {
  const found = resolve(state, id);
  switch (found?.kind) {
    case 'Maker':
    case 'Source':
    case 'Pattern':
    case 'Feed':
    case 'ListMapping':
      return { nodes: [nodeOf(state, found, nameOf(found.thing))], edges: [] };
    case 'ProductLine':
      return {
        nodes: [nodeOf(state, found, found.thing.name)],
        edges: [link(id, 'MADE_BY', found.thing.maker)],
      };
    case 'Part':
      return {
        nodes: [nodeOf(state, found, found.thing.name ?? found.thing.number)],
        edges: partEdges(id, found.thing),
      };
    case 'Device': {
      const { maker, productLine, succeeds, name } = found.thing;
      const marks = state.audience === 'desk' ? visibleOf(state.deviceRecord(id) ?? {}) : {};
      return {
        nodes: [
          { ...nodeOf(state, found, name), details: { ...withoutId(found.thing), ...marks }, device: id },
        ],
        edges: [
          link(id, 'MADE_BY', maker),
          ...(productLine ? [link(id, 'IN_LINE', productLine)] : []),
          ...succeeds.map((before) => link(id, 'SUCCEEDS', before)),
        ],
      };
    }
    case 'Publication':
      return publicationPiece(state, found.thing);
    case 'Claim':
      return publicationPiece(state, found.publication);
    default:
      return undefined;
  }
}

function partEdges(id: string, { maker, relabels, categories }: Part): readonly ExportEdge[] {
  return [
    link(id, 'MADE_BY', maker),
    ...categories.map((term) => link(id, 'IS_A', term)),
    ...(relabels ? [link(id, 'RELABELS', relabels)] : []),
  ];
}

function publicationPiece(state: State, publication: Publication): Piece {
  const { id, claims, title } = publication;
  const { claims: _, ...rest } = publication;
  return {
    nodes: [
      { id, kind: 'Publication', name: title, details: shown(state, withoutId(rest)) },
      ...claims.map((claim) => ({
        id: claimIdOf(publication, claim),
        kind: 'Claim',
        name: claim.sentence,
        details: shown(state, withoutId(claim)),
      })),
    ],
    edges: claims.flatMap((claim) => {
      const claimId = claimIdOf(publication, claim);
      return [
        link(id, 'ASSERTS', claimId),
        ...claim.supportedBy.map((on) => link(claimId, 'SUPPORTED_BY', on)),
      ];
    }),
  };
}

/** Ids of the decisions that editors have judged or sentences rest on, by id. */
export function decisionsNamed(state: State): readonly string[] {
  const named = new Set<string>(state.facts.judgements.keys());
  for (const { claims } of state.publications())
    for (const { supportedBy } of claims)
      for (const id of supportedBy) if (parseDecisionId(id)) named.add(id);
  return [...named].toSorted();
}

/** A decision with what editors made of it; undefined where the state lacks its device or pattern. */
export function decisionPiece(state: State, id: string): Piece | undefined {
  const found = resolve(state, id);
  if (found?.kind !== 'Decision') return undefined;
  const { device, pattern } = found;
  const judgements = state.judgementsOf(id).map(({ evidence: _, ...judgement }) => judgement);
  return {
    nodes: [{ id, kind: 'Decision', name: pattern.name, device: device.id, details: { judgements } }],
    edges: [link(id, 'DECISION_OF', device.id), link(id, 'BY_PATTERN', pattern.id)],
  };
}

/** Corrections of the archive, first to last. */
export function correctionPiece(state: State): readonly Piece[] {
  return correctionsIn(state).map((correction) => {
    const { id, summary } = correction;
    return {
      nodes: [{ id, kind: 'Correction', name: summary, details: shown(state, withoutId(correction)) }],
      edges: [
        link(id, 'CORRECTS', subjectOf(correction.amendment)),
        ...correction.publications.flatMap(({ claims }) =>
          claims.map(({ claim }) => link(id, 'TOUCHES', claim)),
        ),
      ],
    };
  });
}

export function link(
  source: string,
  label: string,
  target: string,
  details?: Readonly<Record<string, unknown>>,
): ExportEdge {
  return {
    source,
    label,
    target,
    directed: true,
    ...(details && Object.keys(details).length > 0 ? { details } : {}),
  };
}

function nodeOf(
  state: State,
  { kind, id, thing }: Extract<Resolved, { thing: object }>,
  name: string | undefined,
) {
  return { id, kind, name, details: shown(state, withoutId(thing)) };
}

/** What an audience is told: who may see a thing is the desk's own business. */
export function shown(state: State, thing: object): Readonly<Record<string, unknown>> {
  return { ...(state.audience === 'desk' ? thing : unmarked(thing as Visible)) };
}

export function withoutId(thing: object): Readonly<Record<string, unknown>> {
  const { id: _, ...rest } = thing as { readonly id?: string };
  return rest;
}

function nameOf(thing: object): string | undefined {
  const { name, title } = thing as { readonly name?: string; readonly title?: string };
  return name ?? title;
}

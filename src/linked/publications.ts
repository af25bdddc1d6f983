import type { AuditedClaim } from '../evidence/audit.ts';
import { type Claim, claimIdOf, type Publication } from '../model/catalogue.ts';
import type { Figure } from '../model/figure.ts';
import { currentIdentification } from './conclusions.ts';
import { agent, dated, type LinkedNode, type Linking, nothingLeft, some, typed } from './nodes.ts';
import { recordIri } from './places.ts';

// Publications and their sentences.

/** Classes of schema.org for kinds of publications; a newsletter has none. */
const KINDS: Readonly<Record<Publication['kind'], readonly string[]>> = {
  article: ['schema:Article'],
  video: ['schema:VideoObject'],
  newsletter: [],
  figure: ['schema:ImageObject'],
};

/** A publication, then its sentences. @param audited sentences compared with their evidence, where that was done */
export function publicationNodes(
  link: Linking,
  publication: Publication,
  audited: readonly AuditedClaim[] = [],
): readonly LinkedNode[] {
  const { id, kind, title, published, visibility, embargoUntil, claims, note, ...rest } = publication;
  nothingLeft(rest);
  const compared = new Map(audited.map((one) => [one.id, one]));
  return [
    {
      id: recordIri(id),
      ...typed('Publication', ...KINDS[kind]),
      kindOfThing: kind,
      name: title,
      published: dated(published),
      asserts: some(claims.map((claim) => recordIri(claimIdOf(publication, claim)))),
      note,
      ...link.marks({ visibility, embargoUntil }),
    },
    ...claims.map((claim) =>
      claimNode(link, publication, claim, compared.get(claimIdOf(publication, claim))),
    ),
  ];
}

function claimNode(
  link: Linking,
  publication: Publication,
  claim: Claim,
  audited: AuditedClaim | undefined,
): LinkedNode {
  const {
    id: _,
    sentence,
    supportedBy,
    figures,
    probability,
    by,
    note,
    visibility,
    embargoUntil,
    ...rest
  } = claim;
  nothingLeft(rest);
  const id = claimIdOf(publication, claim);
  return {
    id: recordIri(id),
    ...typed('Claim'),
    sentence,
    inPublication: recordIri(publication.id),
    supportedBy: link.toAll(supportedBy),
    derivedFrom: some([
      ...supportedBy.flatMap((on) => entitiesAt(link, on)),
      ...(figures ?? []).map((_figure, i) => recordIri(id, `figure-${i + 1}`)),
    ]),
    figure: some(
      (figures ?? []).map((figure, i) => {
        const worked = audited?.support.items.find((item) => item.id === `figure ${i + 1}`);
        return figureNode(link, figure, recordIri(id, `figure-${i + 1}`), worked);
      }),
    ),
    statedProbability: probability,
    judgedBy: agent(by),
    ...(audited && {
      probability: audited.support.probability ?? undefined,
      probabilityLow: audited.support.low ?? undefined,
      probabilityHigh: audited.support.high ?? undefined,
      finding: some(
        audited.findings.map(({ kind, message }) => ({ type: 'Finding', kindOfThing: kind, message })),
      ),
    }),
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

/**
 * What a sentence is derived from by PROV. That is an entity: terms, makers and teardowns support a sentence and are none. A component brings the
 * identification that counts, which leads to observations.
 */
function entitiesAt(link: Linking, id: string): readonly string[] {
  const found = link.find(id);
  if (!found) return [];
  switch (found.kind) {
    case 'Teardown':
    case 'Maker':
    case 'ProductLine':
    case 'Feed':
    case 'ListMapping':
      return [];
    case 'Component': {
      const concluded = currentIdentification(found.opened, found.thing.id);
      return [recordIri(found.id), ...(concluded === undefined ? [] : [concluded])];
    }
    default:
      return [recordIri(found.id)];
  }
}

type WorkedOut = AuditedClaim['support']['items'][number];

function figureNode(link: Linking, figure: Figure, id: string, worked: WorkedOut | undefined): LinkedNode {
  const subject =
    'share' in figure
      ? figure.share
      : 'count' in figure
        ? figure.count
        : 'trend' in figure
          ? figure.trend
          : undefined;
  return {
    id,
    ...typed('Figure'),
    kindOfThing:
      'share' in figure ? 'share' : 'count' in figure ? 'count' : 'trend' in figure ? 'trend' : 'comparison',
    states: figure,
    subject: subject
      ? link.toAll(Object.values(subject))
      : link.to('compare' in figure ? figure.compare : undefined),
    device: 'compare' in figure ? link.toAll(figure.devices) : undefined,
    inWords: worked?.description || undefined,
    probability: worked?.probability ?? undefined,
  };
}

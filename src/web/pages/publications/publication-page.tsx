import type { VNode } from 'preact';
import { definePage } from '../../frame/page.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { Probability } from '../../parts/probability.tsx';
import { capital, inWords, percent } from '../../parts/words.ts';
import { PublicationPage, type PublicationPageQuery } from './publications.graphql.ts';

type Publication = NonNullable<PublicationPageQuery['publication']>;
type Claim = Publication['claims'][number];
type Support = NonNullable<Claim['supportedBy']>[number];
type Audited = NonNullable<PublicationPageQuery['auditClaims']>['nodes'][number];

export const page = definePage<PublicationPageQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(PublicationPage, { id: parts.publication }, signal)).data;
  },
  heading: ({ publication }) =>
    publication ? { title: publication.title } : { title: 'No such publication', status: 404 },
  View({ data: { publication, auditClaims } }) {
    if (!publication) return <NotFound what="publication" list="/publications" />;
    const audited = new Map(auditClaims?.nodes.map((one) => [one.claim.id, one]));
    return (
      <>
        <h1 tabIndex={-1}>{publication.title}</h1>
        <p class="lead">
          {[capital(inWords(publication.kind)), publication.published ?? 'in the making', publication.note]
            .filter(Boolean)
            .join(' · ')}
        </p>
        <p>
          <a href={`/publications/${publication.id}/sheet`}>Checking sheet, for print</a>
        </p>
        <ol class="sentences">
          {publication.claims.map((claim) => (
            <li key={claim.id}>
              <Sentence claim={claim} audited={audited.get(claim.id)} />
            </li>
          ))}
        </ol>
      </>
    );
  },
});

/** A sentence, what was found against it, and what carries it. */
function Sentence({
  claim,
  audited,
}: {
  readonly claim: Claim;
  readonly audited: Audited | undefined;
}): VNode {
  const support = claim.supportedBy ?? [];
  return (
    <article aria-labelledby={claim.id}>
      <h2 id={claim.id}>{claim.sentence}</h2>
      {audited && audited.probability !== null && (
        <p>
          By the evidence <Probability value={audited.probability} />{' '}
          <span class="quiet">
            {audited.likelihoodWords ? `“${audited.likelihoodWords}”` : 'A flat statement'} is right from{' '}
            {percent(audited.low)} to {percent(audited.high)}.
          </span>
        </p>
      )}
      {audited?.findings.map(({ message }) => (
        <p key={message} class="notice">
          {message}
        </p>
      ))}
      {audited && audited.findings.length > 0 && audited.proposal && <p>Would fit: {audited.proposal}</p>}
      {audited && audited.notChecked.length > 0 && (
        <p class="quiet">Compared with nothing: {audited.notChecked.join('; ')}</p>
      )}
      {support.length > 0 ? (
        <p class="quiet">
          Supported by{' '}
          {support.map((one, i) => (
            <span key={one.id}>
              {i > 0 && ', '}
              <SupportLink support={one} />
            </span>
          ))}
        </p>
      ) : (
        <p class="quiet">Nothing that you may see supports it.</p>
      )}
    </article>
  );
}

function SupportLink({ support }: { readonly support: Support }): VNode {
  switch (support.__typename) {
    case 'Component':
      return (
        <a href={`/devices/${support.device?.id}?picked=${encodeURIComponent(support.id)}`}>
          {support.device?.name} {support.designator}
        </a>
      );
    case 'Device':
      return <a href={`/devices/${support.id}`}>{support.name}</a>;
    case 'Decision':
      return (
        <a href={`/devices/${support.device?.id}/decisions`}>
          {support.device?.name}: {support.name}
        </a>
      );
    case 'Observation':
      return (
        <a href={`/devices/${support.specimen.device?.id}/record`}>
          an observation of {support.specimen.device?.name}
          {support.text ? ` (${support.text})` : ''}
        </a>
      );
    case 'Source':
      return support.url?.startsWith('https://') ? (
        <a href={support.url}>{support.title}</a>
      ) : (
        <span>{support.title}</span>
      );
    default:
      return <code>{support.id}</code>;
  }
}

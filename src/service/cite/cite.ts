import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { notOfState } from '../../api-schema/question.ts';
import { archiveItem } from '../../citation/csl.ts';
import type { Feed } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import { isInvented } from '../../questions/citation.ts';
import type { State } from '../../state/state.ts';
import { audienceOf } from '../access/asker.ts';
import { askFeed, type FeedAsker } from '../feeds/ask.ts';
import { keptFor } from '../feeds/caching.ts';
import { conditional } from '../feeds/conditional.ts';
import { shareWithOrigins } from '../feeds/cross-origin.ts';
import { digestOf, represented } from '../feeds/representations.ts';
import { dateBy } from '../graphql/instants.ts';
import { PersistedDocuments } from '../server/documents.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { readUrlParameters } from '../server/parameters.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { citedStatesOf, stateCited } from './cited-states.ts';

interface Cited {
  readonly Params: { readonly id: string };
  readonly Querystring: Readonly<Record<string, unknown>>;
}

/** What an earlier state costs to make, in units of one plain field; as `asOf` of the schema. */
const EARLIER = 5_000;
/** How long a copy may be shown without asking again, s: something may be recalled, and is hidden in what was cited, too. */
const MAX_AGE = 300;
const FORMS = {
  json: 'application/json; charset=utf-8',
  csv: 'text/csv; charset=utf-8; header=present',
  'csl.json': 'application/vnd.citationstyles.csl+json; charset=utf-8',
} as const;
type Form = keyof typeof FORMS;

/**
 * Answers that can be cited, at `/cite/ID?state=…`, ID being that of a feed or a documentId: they stay what they were in that state, as
 * far as whoever asks may see it. Without a state the asker is led to the address of the present one.
 */
export async function cite(
  app: FastifyInstance,
  {
    readiness,
    options,
    rate,
    executor,
  }: { readiness: Readiness; options: CheckedOptions; rate: Rate; executor: FeedAsker['executor'] },
): Promise<void> {
  const { limits, access } = options;
  const documents = new PersistedDocuments(options.documents, options.documentsOnly);

  /** @throws CasebackError NOT_FOUND, for what is hidden as for what never was; BAD_INPUT for what is not of one state */
  const questionFor = ({ params: { id }, query }: FastifyRequest<Cited>, view: State): Feed => {
    const given = readUrlParameters({ documentId: id, variables: query.variables });
    const variables = { ...given.variables };
    const feed = view.feed(id);
    const found = feed
      ? { ...feed, variables: { ...feed.variables, ...variables } }
      : documentOf(id, variables, [view, readiness.archive().state(view.audience)]);
    const other = notOfState(found.question);
    if (other !== undefined)
      throw new CasebackError(
        'BAD_INPUT',
        `"${id}" asks for ${other}, which is not of one state of the archive, and so cannot be cited`,
      );
    return found;
  };

  /** A document as if it were a feed. */
  const documentOf = (id: string, variables: Feed['variables'], views: readonly State[]): Feed => {
    for (const view of views) {
      const question = documents.textOf(id, view);
      if (question !== undefined)
        return { id, title: `Answer to ${id}`, question, variables, maxAge: MAX_AGE, origins: [] };
    }
    throw new CasebackError(
      'NOT_FOUND',
      id.startsWith('sha256:')
        ? `No document with the documentId ${id} was known in that state`
        : `No feed "${id}" was there in that state; "feeds { nodes { id } }" lists those of the present`,
    );
  };

  const answer = (form: Form) => async (request: FastifyRequest<Cited>, reply: FastifyReply) => {
    const archive = readiness.archive();
    const audience = audienceOf(request.who);
    const { id } = request.params;
    const { state, variables } = request.query;
    // Those that the feed lists today: an origin may have been taken away since.
    const shared = archive.state(audience).feed(id);
    if (shared) shareWithOrigins(request, reply, shared);
    const states = await citedStatesOf(archive);
    const addressOf = (name: string, ending: string) => {
      const asked = new URLSearchParams();
      if (typeof variables === 'string' && variables !== '') asked.set('variables', variables);
      asked.set('state', name);
      return `/cite/${id}${ending}?${asked}`;
    };
    if (state === undefined || state === '') {
      const view = archive.state(audience);
      questionFor(request, view);
      reply.header('cache-control', 'no-store');
      return reply.redirect(addressOf(states.nameOf(view), `.${form}`), 303);
    }
    if (typeof state !== 'string') throw new CasebackError('BAD_INPUT', 'state is given twice; give it once');
    const cited = states.read(state);
    rate.charge(askerOf(request), EARLIER);
    const view = await stateCited(archive, cited, audience);
    const instant = new Date(cited.at).toISOString();
    dateBy(view, instant);
    const question = questionFor(request, view);
    const address = addressOf(state, '.json');
    const item = archiveItem({
      instant,
      isExact: true,
      isInvented: isInvented(view),
      answer: { id: question.id, title: question.title },
      address: access.publicUrl ? new URL(address, access.publicUrl).href : address,
    });
    const body = Buffer.from(
      form === 'csl.json'
        ? JSON.stringify([item])
        : await answered(form, question, item, { archive, view, charge: chargeTo(request) }),
    );
    const etag = `"${digestOf(form, body)}"`;
    reply.header('link', `<${item.URL}>; rel="cite-as"`);
    keptFor(MAX_AGE, request, reply, options);
    return conditional(request, reply, { etag }, () => reply.type(FORMS[form]).send(body));
  };

  const chargeTo = (request: FastifyRequest) => (work: number) => rate.charge(askerOf(request), work);

  const answered = async (
    form: 'json' | 'csv',
    feed: Feed,
    citation: object,
    {
      archive,
      view,
      charge,
    }: { archive: ReturnType<Readiness['archive']>; view: State; charge: (work: number) => void },
  ) => {
    const data = await askFeed({ executor, limits }, archive, view, feed, charge);
    const { body } = await represented(feed, data, form, limits.answerBytes);
    if (form === 'csv') return body;
    // The answer as the feed gives it, with how to cite it on top.
    return Buffer.concat([Buffer.from(`{"citation":${JSON.stringify(citation)},`), body.subarray(1)]);
  };

  // A refusal holds for this moment alone.
  app.addHook('onError', async (_request, reply) => {
    reply.header('cache-control', 'no-store');
  });
  for (const form of Object.keys(FORMS) as Form[])
    app.get<Cited>(`/cite/:id(^(?:sha256:[0-9a-f]{64}|[a-z0-9-]+)).${form}`, answer(form));
}

import { readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import helmet from '@fastify/helmet';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { marked } from 'marked';
import { sheetOf } from '../../questions/evidence.ts';
import { audienceOf } from '../access/asker.ts';
import type { Readiness } from '../server/health.ts';
import { EXPLORER_HEADERS, PAGE_HEADERS } from '../server/security.ts';
import { assets } from './assets.ts';
import { Html, html } from './html.ts';
import { inTime } from './in-time.ts';
import { layout } from './layout.ts';
import { pictureAtService, sheetBody } from './sheet.ts';
import { startAnswers } from './start-answers.ts';
import { startPage, waitingPage } from './start-page.ts';

const root = join(import.meta.dirname, '../../..');
const DOCUMENTS = [
  ['/docs', 'README.md', 'Guide'],
  ['/docs/developers', 'DEVELOPERS.md', 'For developers'],
  ['/docs/pattern-language', 'src/gql/CONFORMANCE.md', 'The pattern language'],
  ['/docs/pattern-engine', 'src/gql/README.md', 'The pattern engine'],
  ['/docs/nets', 'src/nets/README.md', 'What follows from nets'],
  ['/docs/classes', 'src/classes/README.md', 'What a chip may be'],
] as const;
/** Files that documents link to, shown as they are. */
const TABLES = [
  'schema/trade-file-classes.yaml',
  'schema/trade-file-headings.yaml',
  'schema/trade-file-nets.yaml',
] as const;
/** Addresses of what documents link to, by file. */
const ADDRESSES: ReadonlyMap<string, string> = new Map([
  ...DOCUMENTS.map(([address, file]) => [file, address] as const),
  ...TABLES.map((file) => [file, `/docs/${file}`] as const),
]);

/**
 * Pages for people: start page, explorer, guide, checking sheets; and the schema as text.
 * @param time how long a page may take to make, milliseconds
 */
export async function pages(
  app: FastifyInstance,
  { readiness, schema, time }: { readiness: Readiness; schema: () => string; time: number },
): Promise<void> {
  await app.register(helmet, PAGE_HEADERS);
  await app.register(assets);
  const answers = startAnswers(app.log);

  app.get('/', async (request, reply) => {
    if (readiness.state !== 'ready') {
      reply.header('refresh', '2').header('retry-after', '2').code(503);
      return sendPage(reply, waitingPage(readiness.state));
    }
    const view = readiness.archive().state(audienceOf(request.who));
    return sendPage(reply, startPage(await inTime(reply, time, (signal) => answers(view, signal))));
  });
  app.get('/explorer', { helmet: EXPLORER_HEADERS }, (_request, reply) => sendPage(reply, explorerPage()));
  let printed: string | undefined;
  app.get('/schema.graphql', (_request, reply) => {
    printed ??= schema();
    return reply.type('text/plain; charset=utf-8').send(printed);
  });
  app.get<{ Params: { publication: string } }>('/publications/:publication/sheet', async (request, reply) => {
    if (readiness.state !== 'ready') {
      reply.header('retry-after', '2').code(503);
      return sendPage(reply, waitingPage(readiness.state));
    }
    const { publication } = request.params;
    const view = readiness.archive().state(audienceOf(request.who));
    const title = view.publication(publication)?.title;
    if (title === undefined) {
      reply.code(404);
      const body = html`<h1>No such publication</h1><p>No publication “${publication}” is in the archive. Ids stand in <code>{ publications { nodes { id } } }</code>.</p>`;
      return sendPage(reply, layout({ title: 'No such publication · Caseback', at: '', body }));
    }
    // A state may be older than the request: it is handed out until something in it changes.
    const found = await inTime(reply, time, (signal) => sheetOf(view, publication, signal));
    const sheet = { ...found, asOf: new Date().toISOString() };
    const body = sheetBody(sheet, pictureAtService);
    return sendPage(reply, layout({ title: `${title} · checking sheet`, at: '', body }));
  });
  for (const [address, file, title] of DOCUMENTS) {
    app.get(address, async (_request, reply) => {
      const body = new Html(documentBody(file, readFileSync(join(root, file), 'utf8')));
      return sendPage(reply, layout({ title: `${title} · Caseback`, at: address, body }));
    });
  }
  for (const file of TABLES)
    app.get(`/docs/${file}`, (_request, reply) =>
      reply.type('text/plain; charset=utf-8').send(readFileSync(join(root, file), 'utf8')),
    );
}

/** The page of the explorer. All its files come from this service, so that it works without a network. */
function explorerPage(): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Explorer · Caseback</title>
<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/assets/graphiql.css">
<link rel="stylesheet" href="/assets/explorer.css">
</head>
<body>
<header class="bar"><a href="/">Caseback</a> <span>Explorer: write a question, press Ctrl+Enter; Ctrl+Space completes</span></header>
<div id="explorer">The explorer needs JavaScript. Questions can also be sent to <code>/graphql</code> or asked on the command line.</div>
<script src="/assets/react.js" defer></script>
<script src="/assets/react-dom.js" defer></script>
<script src="/assets/graphiql.js" defer></script>
<script src="/assets/explorer.js" defer></script>
</body>
</html>
`;
}

/**
 * A document of ours as HTML, with links between documents turned into those between pages; what leads to code, which is not served, is no
 * link.
 * @param file where it stands
 */
function documentBody(file: string, markdown: string): string {
  const linked = markdown.replaceAll(
    /\[([^[\]\n]+)\]\(([^\s():#/][^\s():#]*)(#[^\s()]*)?\)/gu,
    (_, label, to, part = '') => {
      const address = ADDRESSES.get(posix.join(posix.dirname(file), to));
      return address === undefined ? label : `[${label}](${address}${part})`;
    },
  );
  return `<div class="document">${marked.parse(linked, { async: false })}</div>`;
}

function sendPage(reply: FastifyReply, page: Html): FastifyReply {
  return reply.type('text/html; charset=utf-8').header('cache-control', 'no-cache').send(page.text);
}

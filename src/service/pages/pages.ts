import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { marked } from 'marked';
import { checkingSheet } from '../../evidence/checking-sheet.ts';
import type { CheckedOptions } from '../base/options.ts';
import { Html, html } from '../html/html.ts';
import { layout } from '../html/layout.ts';
import type { Readiness } from '../http/readiness.ts';
import { EXPLORER_POLICY, PAGE_POLICY } from '../http/security.ts';
import { assets } from './assets.ts';
import { explorerPage } from './explorer.ts';
import { sheetBody } from './sheet/page.ts';
import { startAnswers } from './start/answers.ts';
import { startPage, waitingPage } from './start/page.ts';

const root = join(import.meta.dirname, '../../..');
const DOCUMENTS = [
  ['/docs', 'README.md', 'Guide'],
  ['/docs/developers', 'DEVELOPERS.md', 'For developers'],
] as const;

/** Pages for people: start page, explorer, guide; and the schema as text. */
export async function pages(
  app: FastifyInstance,
  { readiness, options, schema }: { readiness: Readiness; options: CheckedOptions; schema: string },
): Promise<void> {
  await app.register(assets);
  const answers = startAnswers(app.log);

  app.get('/', async (_request, reply) => {
    if (readiness.state !== 'ready') {
      reply.header('refresh', '2').header('retry-after', '2').code(503);
      return sendPage(reply, waitingPage(readiness.state));
    }
    const archive = readiness.archive();
    return sendPage(reply, startPage(await answers(archive, archive.view(options.audience))));
  });
  app.get('/explorer', (_request, reply) => {
    return sendPage(reply, explorerPage(), EXPLORER_POLICY);
  });
  app.get('/schema.graphql', (_request, reply) => reply.type('text/plain; charset=utf-8').send(schema));
  app.get<{ Params: { publication: string } }>('/publications/:publication/sheet', async (request, reply) => {
    if (readiness.state !== 'ready') {
      reply.header('retry-after', '2').code(503);
      return sendPage(reply, waitingPage(readiness.state));
    }
    const { publication } = request.params;
    const view = readiness.archive().view(options.audience);
    const title = view.publication(publication)?.title;
    if (title === undefined) {
      reply.code(404);
      const body = html`<h1>No such publication</h1><p>No publication “${publication}” is in the archive. Ids stand in <code>{ publications { nodes { id } } }</code>.</p>`;
      return sendPage(reply, layout({ title: 'No such publication · Caseback', at: '', body }));
    }
    const body = sheetBody(await checkingSheet(view, publication));
    return sendPage(reply, layout({ title: `${title} · checking sheet`, at: '', body }));
  });
  for (const [address, file, title] of DOCUMENTS) {
    app.get(address, async (_request, reply) => {
      const body = new Html(documentBody(readFileSync(join(root, file), 'utf8')));
      return sendPage(reply, layout({ title: `${title} · Caseback`, at: address, body }));
    });
  }
}

/** A document of ours as HTML, with links between documents turned into those between pages. */
function documentBody(markdown: string): string {
  const linked = markdown
    .replaceAll('](DEVELOPERS.md', '](/docs/developers')
    .replaceAll('](README.md', '](/docs');
  return `<div class="document">${marked.parse(linked, { async: false })}</div>`;
}

function sendPage(reply: FastifyReply, page: Html, policy = PAGE_POLICY): FastifyReply {
  return reply
    .type('text/html; charset=utf-8')
    .headers({
      'cache-control': 'no-cache',
      'content-security-policy': policy,
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
    })
    .send(page.text);
}

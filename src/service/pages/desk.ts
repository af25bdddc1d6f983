import { createReadStream } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { extname, join } from 'node:path';
import helmet from '@fastify/helmet';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { type AskApi, DESK_FILES, type DeskBundle, type WrittenPage } from '../../desk/bundle.ts';
import type { Readiness } from '../server/health.ts';
import { DESK_HEADERS } from '../server/security.ts';
import { Html, html } from './html.ts';
import { inTime } from './in-time.ts';
import { BENCH_CAUTIONS } from './layout.ts';
import { waitingPage } from './start-page.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
};
/** Their names change with their content. */
const FOR_EVER = 'public, max-age=31536000, immutable';

/**
 * The pages of the desk, each written as HTML that can be read before any script runs, and the files that bring them to life. What
 * they show is asked of the public API, as the browser asks it later, with the rights of whoever wants the page.
 * @param time how long a page may take to make, milliseconds
 */
export async function desk(
  app: FastifyInstance,
  {
    bundle,
    readiness,
    time,
  }: { readonly bundle: DeskBundle; readonly readiness: Readiness; readonly time: number },
): Promise<void> {
  await app.register(helmet, DESK_HEADERS);
  for (const path of bundle.paths)
    app.get(path, async (request, reply) => {
      reply
        .type('text/html; charset=utf-8')
        .header('cache-control', 'no-cache')
        .header('vary', 'authorization, cookie');
      if (readiness.state !== 'ready') {
        reply.header('refresh', '2').header('retry-after', '2').code(503);
        return reply.send(waitingPage(readiness.state).text);
      }
      const surroundings = { who: request.who.name ?? null, cautions: BENCH_CAUTIONS };
      const written = await inTime(reply, time, (signal) =>
        bundle.write(request.url, askFor(app, request, bundle), surroundings, signal),
      );
      if (!written) return reply.callNotFound();
      return reply.code(written.status).send(documentOf(written, bundle).text);
    });

  const files = await readdir(join(bundle.folder, 'assets'));
  for (const name of files)
    app.get(`${DESK_FILES}assets/${name}`, { config: { isForAll: true } }, (_request, reply) =>
      reply
        .type(TYPES[extname(name)] ?? 'application/octet-stream')
        .header('cache-control', FOR_EVER)
        .send(createReadStream(join(bundle.folder, 'assets', name))),
    );
}

/** Asks the API as if the browser of this request did. */
function askFor(app: FastifyInstance, request: FastifyRequest, { answerIn }: DeskBundle): AskApi {
  const { authorization, cookie, host } = request.headers;
  return async ({ text }, variables) => {
    const response = await app.inject({
      method: 'POST',
      url: '/graphql',
      remoteAddress: request.ip,
      headers: {
        'content-type': 'application/json',
        accept: 'application/graphql-response+json',
        'sec-fetch-site': 'same-origin',
        ...(host === undefined ? {} : { host }),
        ...(authorization === undefined ? {} : { authorization }),
        ...(cookie === undefined ? {} : { cookie }),
      },
      payload: JSON.stringify({ query: text, variables }),
    });
    return answerIn(response.json());
  };
}

function documentOf({ title, html: body, told, file }: WrittenPage, bundle: DeskBundle): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title} · Caseback</title>
<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
${bundle.styles.map((style) => html`<link rel="stylesheet" href="${style}">\n`)}
<script type="module" src="${bundle.script}"></script>
${bundle.ahead(file).map((one) => html`<link rel="modulepreload" href="${one}">\n`)}
</head>
<body>
<div id="desk">${new Html(body)}</div>
<script type="application/json" id="told">${new Html(dataBlock(told))}</script>
</body>
</html>
`;
}

/** JSON for a data block: nothing in it can end the element (HTML Standard, "restrictions for contents of script elements"). */
const dataBlock = (told: unknown) => JSON.stringify(told).replaceAll('<', '\\u003c');

import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Scope } from '../../export/graph/graph.ts';
import { memberId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { chunksOf, EXPORTS, type ExportSet, exportsOf, today, zipped } from '../../questions/exports.ts';
import { audienceOf } from '../access/asker.ts';
import type { Readiness } from '../server/health.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { addressOf, savedAs, zipNameOf } from './addresses.ts';
import { type Made, sendMade } from './sending.ts';

/** Nothing in a file runs, loads or is framed, whatever is written into it. */
const POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";
/** What a file costs, in units of one plain field: one of everything, one of a device or specimen. */
const COST = { everything: 5_000, one: 100 };
/** Files of everything that may be under way at once, in all and to one asker: each keeps a state, and has its turns. */
const MOST = { all: 8, each: 2 };

interface Named {
  readonly file: string;
  readonly device?: string;
  readonly specimen?: string;
}

/**
 * Exports as files, sent as they are made: `/exports/archive/FILE` of everything that the asker sees, `/exports/device/ID/FILE`,
 * `/exports/specimen/ID/FILE`; `KIND.zip` is all files of a kind. `/exports` lists them.
 */
export async function exports(
  app: FastifyInstance,
  {
    readiness,
    rate,
    publicUrl,
  }: { readonly readiness: Readiness; readonly rate: Rate; readonly publicUrl: URL | undefined },
): Promise<void> {
  const underWay = new UnderWay();
  // A refusal holds for this moment alone.
  app.addHook('onError', async (_request, reply) => {
    reply.header('cache-control', 'no-store');
  });

  app.get('/exports', async (request, reply) => {
    const sets = await exportsOf(readiness.archive().state(audienceOf(request.who)), undefined, {
      date: today(),
    });
    reply.headers({ 'cache-control': 'no-cache', vary: 'authorization, cookie' });
    return { exports: sets.map(listed) };
  });

  const answer = async (request: FastifyRequest<{ Params: Named }>, reply: FastifyReply) => {
    const { file: name, device, specimen } = request.params;
    const view = readiness.archive().state(audienceOf(request.who));
    const id = device !== undefined && specimen !== undefined ? memberId(device, specimen) : device;
    const date = today();
    const sets = await exportsOf(view, id, { date }, publicUrl?.href);
    const found = fileIn(sets, name, date);
    const asker = askerOf(request);
    rate.charge(asker, id === undefined ? COST.everything : COST.one);
    if (id === undefined) underWay.enter(asker, reply);
    reply.headers({
      'cache-control': 'no-cache',
      vary: 'authorization, cookie',
      'content-security-policy': POLICY,
      'content-disposition': `attachment; filename="${savedAs(found.scope, name)}"`,
    });
    const { link, mediaType, chunks } = found;
    if (link !== undefined) reply.header('link', link);
    const key = JSON.stringify([view.audience, found.scope, name, date]);
    return sendMade(request, reply, { facts: view.facts, key, mediaType, chunks });
  };
  app.get<{ Params: Named }>('/exports/archive/:file', answer);
  app.get<{ Params: Named }>('/exports/device/:device/:file', answer);
  app.get<{ Params: Named }>('/exports/specimen/:device/:specimen/:file', answer);
}

interface Found {
  readonly scope: Scope;
  readonly mediaType: string;
  readonly chunks: Made['chunks'];
  /** The field Link (RFC 8288). */
  readonly link?: string;
}

/** A file of an export, or the ZIP of all of a kind. @throws CasebackError NOT_FOUND that names those there are */
function fileIn(sets: readonly ExportSet[], name: string, date: string): Found {
  for (const { format, scope, files } of sets) {
    if (name === zipNameOf(format))
      return { scope, mediaType: 'application/zip', chunks: (signal) => zipped(files, date, signal) };
    const file = files.find((one) => one.name === name);
    if (!file) continue;
    const { mediaType, describedBy } = file;
    const described = files.find((one) => one.name === describedBy);
    return {
      scope,
      mediaType,
      chunks: (signal) => chunksOf(file, signal),
      // Model for Tabular Data and Metadata on the Web, section 5.2.
      ...(described && { link: `<${described.name}>; rel="describedby"; type="${described.mediaType}"` }),
    };
  }
  const names = sets.flatMap(({ format, files }) => [...files.map((one) => one.name), zipNameOf(format)]);
  throw new CasebackError('NOT_FOUND', `No export has that file; there are ${names.join(', ')}`);
}

/** A kind of exports as the list has it. */
function listed({ format, scope, files }: ExportSet): object {
  return {
    kind: format,
    about: EXPORTS[format],
    zip: addressOf(scope, zipNameOf(format)),
    files: files.map(({ name, mediaType }) => ({ name, mediaType, address: addressOf(scope, name) })),
  };
}

/** Counts files that are under way, so that they stay within bounds. */
class UnderWay {
  #all = 0;
  readonly #by = new Map<string, number>();

  /** Counts one until its answer is sent or its asker has gone. @throws CasebackError UNAVAILABLE, TOO_MANY */
  enter(asker: string, reply: FastifyReply): void {
    const own = this.#by.get(asker) ?? 0;
    if (own >= MOST.each || this.#all >= MOST.all) {
      reply.header('retry-after', '30');
      throw own >= MOST.each
        ? new CasebackError(
            'TOO_MANY',
            `${MOST.each} files of everything are under way to you; wait for one to end`,
          )
        : new CasebackError('UNAVAILABLE', 'Many files of everything are under way; ask again soon');
    }
    this.#all++;
    this.#by.set(asker, own + 1);
    reply.raw.once('close', () => {
      this.#all--;
      const left = (this.#by.get(asker) ?? 1) - 1;
      if (left > 0) this.#by.set(asker, left);
      else this.#by.delete(asker);
    });
  }
}

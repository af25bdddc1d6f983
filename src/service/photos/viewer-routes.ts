import type { FastifyInstance, FastifyRequest } from 'fastify';
import { memberId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { annotationsOf, photoCollection, photoManifest, photoPlace } from '../../questions/photos.ts';
import { audienceOf } from '../access/asker.ts';
import { inTime } from '../pages/in-time.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { baseOf, PHOTO, type PhotoNamed, photoIdOf, sendDocument } from './answering.ts';

/** Work of a document, in units of one plain field: of one photo or specimen, of a device, of all devices. */
const COST = { one: 50, device: 200, all: 1_000 };
/** Contexts of the documents, by which whoever asks for JSON-LD tells kinds of it apart. */
const ANNOTATION = { profile: 'http://www.w3.org/ns/anno.jsonld', always: true } as const;
const PRESENTATION = { profile: 'http://iiif.io/api/presentation/3/context.json' } as const;

/**
 * Documents about photos for viewers of open standards: `GET /photos/PHOTO/annotations.json`, the regions as W3C Web Annotations, and of
 * the IIIF Presentation API 3.0 `GET /photos/SPECIMEN/manifest.json`, `GET /photos/DEVICE/collection.json` and `GET
 * /photos/collection.json`.
 */
export async function viewerRoutes(
  app: FastifyInstance,
  {
    readiness,
    options,
    rate,
  }: { readonly readiness: Readiness; readonly options: CheckedOptions; readonly rate: Rate },
): Promise<void> {
  const { time } = options.limits;
  app.addHook('onError', async (_request, reply) => {
    reply.header('cache-control', 'no-store');
  });

  const stateFor = (request: FastifyRequest) => readiness.archive().state(audienceOf(request.who));
  // Records have the names that linked data gives them, so that both speak of the same things.
  const placeFor = (request: FastifyRequest) =>
    photoPlace(baseOf(request, options), options.access.publicUrl?.href ?? null);

  app.get<{ Params: PhotoNamed }>(`${PHOTO}/annotations.json`, async (request, reply) => {
    const state = stateFor(request);
    rate.charge(askerOf(request), COST.one);
    const document = await annotationsOf(state, photoIdOf(request.params), await placeFor(request));
    return sendDocument(request, reply, document, ANNOTATION);
  });

  app.get<{ Params: Pick<PhotoNamed, 'device' | 'specimen'> }>(
    '/photos/:device/:specimen/manifest.json',
    async (request, reply) => {
      const state = stateFor(request);
      rate.charge(askerOf(request), COST.one);
      const { device, specimen } = request.params;
      const document = await photoManifest(state, memberId(device, specimen), await placeFor(request));
      return sendDocument(request, reply, document, PRESENTATION);
    },
  );

  app.get<{ Params: Pick<PhotoNamed, 'device'> }>(
    '/photos/:device/collection.json',
    async (request, reply) => {
      const state = stateFor(request);
      rate.charge(askerOf(request), COST.device);
      const document = await photoCollection(state, request.params.device, await placeFor(request));
      return sendDocument(request, reply, document, PRESENTATION);
    },
  );

  app.get<{ Querystring: { readonly page?: string | string[] } }>(
    '/photos/collection.json',
    async (request, reply) => {
      const { page: asked } = request.query;
      if (asked !== undefined && !/^[1-9]\d{0,6}$/u.test(String(asked)))
        throw new CasebackError('BAD_INPUT', 'page is a whole number from 1');
      const page = asked === undefined ? undefined : Number(asked);
      const state = stateFor(request);
      rate.charge(askerOf(request), COST.all);
      const place = await placeFor(request);
      const document = await inTime(reply, time, (signal) =>
        photoCollection(state, undefined, place, page, signal),
      );
      return sendDocument(request, reply, document, PRESENTATION);
    },
  );
}

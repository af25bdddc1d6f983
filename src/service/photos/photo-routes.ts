import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { hasRole } from '../../access/roles.ts';
import { pictureAt } from '../../iiif/addresses.ts';
import { IMAGE_API, imageInformation } from '../../iiif/image.ts';
import { boxOfRegion } from '../../model/photo-region.ts';
import { CasebackError } from '../../model/problems.ts';
import { MOST_BYTES } from '../../photos/bytes.ts';
import { partOf, sizesOf } from '../../photos/sizes.ts';
import { photoOfBoard } from '../../questions/drawings.ts';
import { cropNamed, type FoundPhoto, photoNamed } from '../../questions/photos.ts';
import { audienceOf } from '../access/asker.ts';
import { authorship, entrySource } from '../graphql/changes/input.ts';
import { inTime } from '../pages/in-time.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import {
  baseOf,
  openTo,
  PHOTO,
  type PhotoNamed,
  photoIdOf,
  sendDocument,
  sendWhenWanted,
} from './answering.ts';

/** Work of a picture and of a photo brought in, in units of one plain field. */
const COST = { picture: 20, board: 200, photo: 5_000 };

/**
 * Photos under their ids. `GET …/info.json` and `GET …/{region}/{size}/0/default.jpg` are those of the IIIF Image API 3.0, level 0, so
 * that any viewer of that standard opens them; `GET …/of/COMPONENT.jpg` is the part that shows a component, `GET …/regions/{name}.jpg` any
 * region, small; `GET …/board.jpg` is the photo laid on its board by its known points; `GET …/file` is the file without where and with which camera it was taken, `GET
 * …/original` the file as it came, for whoever has an account. `PUT …` brings in the file of a photo that a dossier names.
 */
export async function photoRoutes(
  app: FastifyInstance,
  {
    readiness,
    options,
    rate,
  }: { readonly readiness: Readiness; readonly options: CheckedOptions; readonly rate: Rate },
): Promise<void> {
  const { time } = options.limits;
  // Photos come as they are; their kind is decided by what is in them.
  for (const type of ['image/jpeg', 'image/png', 'image/webp', 'application/octet-stream'])
    app.addContentTypeParser(type, { parseAs: 'buffer', bodyLimit: MOST_BYTES }, (_request, body, done) =>
      done(null, body),
    );
  app.addHook('onError', async (_request, reply) => {
    reply.header('cache-control', 'no-store');
  });

  const found = (request: FastifyRequest<{ Params: PhotoNamed }>): FoundPhoto =>
    photoNamed(readiness.archive().state(audienceOf(request.who)), photoIdOf(request.params));

  app.get<{ Params: PhotoNamed }>(`${PHOTO}/info.json`, async (request, reply) => {
    const { file, photo, id } = found(request);
    const address = pictureAt(baseOf(request, options), id);
    return sendDocument(request, reply, imageInformation(address, file, photo.licence), {
      profile: IMAGE_API,
    });
  });

  const picture = async (
    request: FastifyRequest<{ Params: PhotoNamed & { readonly region: string; readonly size: string } }>,
    reply: FastifyReply,
  ) => {
    const { file, id } = found(request);
    const { region, size } = request.params;
    const name = region === 'full' && isWhole(file, size) ? size : `${region}/${size}`;
    rate.charge(askerOf(request), COST.picture);
    openTo(request, reply);
    const etag = `"${file.served.sha256.slice(0, 24)}-${Buffer.from(name).toString('base64url')}"`;
    return sendWhenWanted(request, reply, etag, 'image/jpeg', async () => {
      const content = await inTime(reply, time, async () => (await renditions()).get(file, name));
      if (!content) throw nothing(id, `${region}/${size}`);
      return content;
    });
  };
  app.get<{ Params: PhotoNamed & { readonly region: string; readonly size: string } }>(
    `${PHOTO}/:region/:size/0/default.jpg`,
    picture,
  );

  app.get<{ Params: PhotoNamed }>(`${PHOTO}/board.jpg`, async (request, reply) => {
    const { file, id } = found(request);
    const archive = readiness.archive();
    const on = await photoOfBoard(archive.state(audienceOf(request.who)), id, archive.photos);
    rate.charge(askerOf(request), COST.board);
    openTo(request, reply);
    const etag = `"${file.served.sha256.slice(0, 24)}-${on.name}"`;
    return sendWhenWanted(request, reply, etag, 'image/jpeg', () => inTime(reply, time, () => on.content()));
  });

  app.get<{ Params: PhotoNamed & { readonly thing: string } }>(
    `${PHOTO}/of/:thing(^[^/]+).jpg`,
    async (request, reply) => {
      const { file, photo, id } = found(request);
      const { thing } = request.params;
      const region = photo.regions.find(({ of }) => of === thing);
      if (!region) throw new CasebackError('NOT_FOUND', `The photo "${id}" has no region of "${thing}"`);
      const box = boxOfRegion(region);
      rate.charge(askerOf(request), COST.picture);
      openTo(request, reply);
      const { left, top, width, height } = partOf(file, box);
      const etag = `"${file.served.sha256.slice(0, 24)}-${[left, top, width, height].join('-')}"`;
      return sendWhenWanted(request, reply, etag, 'image/jpeg', async () => {
        const content = await inTime(reply, time, async () => (await renditions()).part(file, box));
        if (!content) throw missing(id);
        return content;
      });
    },
  );

  app.get<{ Params: PhotoNamed & { readonly name: string } }>(
    `${PHOTO}/regions/:name(^[0-9a-f]{24}).jpg`,
    async (request, reply) => {
      const photo = found(request);
      const crop = cropNamed(photo, request.params.name);
      rate.charge(askerOf(request), COST.picture);
      openTo(request, reply);
      return sendWhenWanted(request, reply, `"${crop.name}"`, 'image/jpeg', async () => {
        const content = await inTime(reply, time, async () => (await renditions()).crop(photo.file, crop));
        if (!content) throw missing(photo.id);
        return content;
      });
    },
  );

  app.get<{ Params: PhotoNamed }>(`${PHOTO}/file`, async (request, reply) => {
    const { file, id } = found(request);
    rate.charge(askerOf(request), COST.picture);
    openTo(request, reply);
    return sendWhenWanted(request, reply, `"${file.served.sha256}"`, file.type, async () => {
      const content = await (await renditions()).served(file);
      if (!content) throw missing(id);
      return content;
    });
  });

  app.get<{ Params: PhotoNamed }>(`${PHOTO}/original`, async (request, reply) => {
    if (audienceOf(request.who) !== 'desk')
      throw new CasebackError(
        'NOT_ALLOWED',
        'The files as they came are for whoever has an account; ask for …/file',
      );
    const { file, id } = found(request);
    reply.headers({ 'cache-control': 'private, no-cache', vary: 'authorization, cookie' });
    return sendWhenWanted(request, reply, `"${file.sha256}"`, file.type, async () => {
      const content = await (await renditions()).original(file);
      if (!content) throw missing(id);
      return content;
    });
  });

  app.put<{ Params: PhotoNamed; Querystring: { readonly reason?: string } }>(
    PHOTO,
    { bodyLimit: MOST_BYTES, config: { bodyBytes: MOST_BYTES } },
    async (request, reply) => {
      const { who } = request;
      if (options.readOnly) throw new CasebackError('NOT_ALLOWED', 'This service takes no changes');
      if (!hasRole(who.role, 'contributor'))
        throw new CasebackError(
          'NOT_ALLOWED',
          `Bringing in photos takes the role contributor, and yours is ${who.role}; ask an administrator`,
        );
      if (!Buffer.isBuffer(request.body))
        throw new CasebackError(
          'BAD_INPUT',
          'A photo comes as the body of the request, with Content-Type image/jpeg, image/png or image/webp',
        );
      rate.charge(askerOf(request), COST.photo);
      const archive = readiness.archive();
      const by = authorship({ reason: request.query.reason ?? 'photo brought in' }, who);
      const { inspectApart } = await import('../../photos/inspect-apart.ts');
      const inspected = await inspectApart(request.body);
      const id = photoIdOf(request.params);
      const entry = await archive.keepPhoto(id, inspected, by, audienceOf(who));
      await (await renditions()).make(inspected.file);
      const { sha256, width, height, bytes, served } = inspected.file;
      return reply.code(entry ? 201 : 200).send({
        id,
        sha256,
        widthPx: width,
        heightPx: height,
        bytes,
        servedSha256: served.sha256,
        alike: await alikeOf(id, audienceOf(who)),
        entry: entry ? entrySource(entry) : null,
      });
    },
  );

  /** Ids of photos of which it is likely a copy, for whoever brought it in. */
  const alikeOf = async (id: string, audience: ReturnType<typeof audienceOf>) => {
    const { alikeTo } = await import('../../questions/alike.ts');
    return alikeTo(readiness.archive().state(audience), id).map(({ id: photo, likeness, bits }) => ({
      photo,
      likeness,
      bits,
    }));
  };

  const renditions = async () => {
    const { photos } = readiness.archive();
    if (photos) return photos.renditions();
    throw new CasebackError('UNAVAILABLE', 'This service was started without a place for photos');
  };
}

const isWhole = (file: FoundPhoto['file'], size: string) =>
  size === 'max' || sizesOf(file).some(({ width, height }) => size === `${width},${height}`);

const nothing = (id: string, what: string) =>
  new CasebackError(
    'NOT_FOUND',
    `Of the photo "${id}" there is no ${what}; its info.json lists what there is`,
  );
const missing = (id: string) =>
  new CasebackError(
    'UNAVAILABLE',
    `The file of the photo "${id}" is missing or is not the one that was kept; "caseback verify" says more`,
  );

import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { hasRole } from '../../access/roles.ts';
import { memberId, thingId } from '../../model/ids.ts';
import { boxOfRegion } from '../../model/photo-region.ts';
import { CasebackError } from '../../model/problems.ts';
import { digestOf, MOST_BYTES } from '../../photos/bytes.ts';
import { partOf, sizesOf } from '../../photos/sizes.ts';
import { photoOfBoard } from '../../questions/drawings.ts';
import { type FoundPhoto, photoNamed } from '../../questions/photos.ts';
import { audienceOf } from '../access/asker.ts';
import { conditional } from '../feeds/conditional.ts';
import { authorship, entrySource } from '../graphql/changes/input.ts';
import { inTime } from '../pages/in-time.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { imageInformation } from './iiif.ts';

/** Nothing in a picture runs, loads or is framed, whatever is written into it. */
const POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";
/** Work of a picture and of a photo brought in, in units of one plain field. */
const COST = { picture: 20, board: 200, photo: 5_000 };

interface Named {
  readonly device: string;
  readonly specimen: string;
  readonly photo: string;
}

const PHOTO = '/photos/:device/:specimen/:photo';

/**
 * Photos under their ids. `GET …/info.json` and `GET …/{region}/{size}/0/default.jpg` are those of the IIIF Image API 3.0, level 0, so
 * that any viewer of that standard opens them; `GET …/of/COMPONENT.jpg` is the part that shows a component, `GET …/board.jpg` is the photo laid on its board by its known points; `GET …/file` is the file without where and with which camera it was taken, `GET
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

  const found = (request: FastifyRequest<{ Params: Named }>): FoundPhoto =>
    photoNamed(readiness.archive().state(audienceOf(request.who)), idOf(request.params));

  app.get<{ Params: Named }>(`${PHOTO}/info.json`, async (request, reply) => {
    const { file, photo, id } = found(request);
    const body = JSON.stringify(imageInformation(addressOf(request, options, id), file, photo.licence));
    openTo(request, reply);
    return conditional(request, reply, { etag: `"${digestOf(Buffer.from(body)).slice(0, 32)}"` }, () =>
      reply.type(jsonTypeFor(request)).send(body),
    );
  });

  const picture = async (
    request: FastifyRequest<{ Params: Named & { readonly region: string; readonly size: string } }>,
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
  app.get<{ Params: Named & { readonly region: string; readonly size: string } }>(
    `${PHOTO}/:region/:size/0/default.jpg`,
    picture,
  );

  app.get<{ Params: Named }>(`${PHOTO}/board.jpg`, async (request, reply) => {
    const { file, id } = found(request);
    const archive = readiness.archive();
    const on = await photoOfBoard(archive.state(audienceOf(request.who)), id, archive.photos);
    rate.charge(askerOf(request), COST.board);
    openTo(request, reply);
    const etag = `"${file.served.sha256.slice(0, 24)}-${on.name}"`;
    return sendWhenWanted(request, reply, etag, 'image/jpeg', () => inTime(reply, time, () => on.content()));
  });

  app.get<{ Params: Named & { readonly thing: string } }>(
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

  app.get<{ Params: Named }>(`${PHOTO}/file`, async (request, reply) => {
    const { file, id } = found(request);
    rate.charge(askerOf(request), COST.picture);
    openTo(request, reply);
    return sendWhenWanted(request, reply, `"${file.served.sha256}"`, file.type, async () => {
      const content = await (await renditions()).served(file);
      if (!content) throw missing(id);
      return content;
    });
  });

  app.get<{ Params: Named }>(`${PHOTO}/original`, async (request, reply) => {
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

  app.put<{ Params: Named; Querystring: { readonly reason?: string } }>(
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
      const id = idOf(request.params);
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

/** JSON-LD for whoever asks for that, else JSON (IIIF Image API 3.0, section 5.1). */
const jsonTypeFor = ({ headers }: FastifyRequest) =>
  headers.accept?.includes('application/ld+json')
    ? 'application/ld+json;profile="http://iiif.io/api/image/3/context.json"'
    : 'application/json';

const idOf = ({ device, specimen, photo }: Named) => thingId(memberId(device, specimen), photo);

const isWhole = (file: FoundPhoto['file'], size: string) =>
  size === 'max' || sizesOf(file).some(({ width, height }) => size === `${width},${height}`);

/** Address under which people reach the service, with that of a photo behind it. */
function addressOf(request: FastifyRequest, { access }: CheckedOptions, id: string): string {
  const { publicUrl } = access;
  const own = publicUrl?.href ?? `${request.protocol}://${request.host}/`;
  return `${own.replace(/\/$/u, '')}/photos/${id}`;
}

/**
 * Viewers on pages of others read what is published (IIIF Image API 3.0, section 7.2 of its guidelines on cross-origin requests); what
 * somebody sees by signing in is shown nowhere else.
 */
function openTo(request: FastifyRequest, reply: FastifyReply): void {
  reply.headers({
    'cache-control': 'no-cache',
    vary: 'accept, authorization, cookie',
    'content-security-policy': POLICY,
  });
  if (audienceOf(request.who) === 'reader')
    reply.headers({ 'access-control-allow-origin': '*', 'cross-origin-resource-policy': 'cross-origin' });
}

/** Sends what a content is made for only when the asker does not have it. */
async function sendWhenWanted(
  request: FastifyRequest,
  reply: FastifyReply,
  etag: string,
  type: string,
  content: () => Promise<Uint8Array>,
): Promise<FastifyReply> {
  if (request.headers['if-none-match'] !== undefined || request.headers['if-match'] !== undefined) {
    let isWanted = false;
    conditional(request, reply, { etag }, () => {
      isWanted = true;
      return reply;
    });
    if (!isWanted) return reply;
  }
  reply.header('etag', etag);
  return reply.type(type).send(await content());
}

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

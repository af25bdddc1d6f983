import type { FastifyReply, FastifyRequest } from 'fastify';
import { memberId, thingId } from '../../model/ids.ts';
import { digestOf } from '../../photos/bytes.ts';
import { audienceOf } from '../access/asker.ts';
import { conditional } from '../feeds/conditional.ts';
import type { CheckedOptions } from '../server/options.ts';

// What answers about photos have in common.

/** A photo in the path of an address. */
export interface PhotoNamed {
  readonly device: string;
  readonly specimen: string;
  readonly photo: string;
}

/** Address of a photo. */
export const PHOTO = '/photos/:device/:specimen/:photo';

/** Id of the photo in a path. */
export const photoIdOf = ({ device, specimen, photo }: PhotoNamed): string =>
  thingId(memberId(device, specimen), photo);

/** Nothing in an answer runs, loads or is framed, whatever is written into it. */
const POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";

/** Address under which people reach the service; ends with `/`. */
export function baseOf(request: FastifyRequest, { access }: CheckedOptions): string {
  const own = access.publicUrl?.href ?? `${request.protocol}://${request.host}/`;
  return own.endsWith('/') ? own : `${own}/`;
}

/**
 * Viewers on pages of others read what is published (IIIF Image API 3.0, section 7.2 of its guidelines on cross-origin requests); what
 * somebody sees by signing in is shown nowhere else.
 */
export function openTo(request: FastifyRequest, reply: FastifyReply): void {
  reply.headers({
    'cache-control': 'no-cache',
    vary: 'accept, authorization, cookie',
    'content-security-policy': POLICY,
  });
  if (audienceOf(request.who) === 'reader')
    reply.headers({ 'access-control-allow-origin': '*', 'cross-origin-resource-policy': 'cross-origin' });
}

/**
 * A document about photos, with the digest of what it says as its entity tag.
 * @param profile of JSON-LD, by the address of its context
 * @param always whether it is JSON-LD for everybody, else for whoever asks for that alone
 */
export function sendDocument(
  request: FastifyRequest,
  reply: FastifyReply,
  document: object,
  { profile, always = false }: { readonly profile: string; readonly always?: boolean },
): FastifyReply {
  const body = JSON.stringify(document);
  const isLinked = always || (request.headers.accept?.includes('application/ld+json') ?? false);
  const type = isLinked ? `application/ld+json;profile="${profile}"` : 'application/json';
  openTo(request, reply);
  return conditional(request, reply, { etag: `"${digestOf(Buffer.from(body)).slice(0, 32)}"` }, () =>
    reply.type(type).send(body),
  );
}

/** Sends what a content is made for only when the asker does not have it. */
export async function sendWhenWanted(
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

import type { FastifyReply, FastifyRequest } from 'fastify';
import type { CheckedOptions } from '../server/options.ts';
import { varyBy } from './cross-origin.ts';

/** Says who may keep an answer, and for how long (RFC 9111, section 5.2.2). */
export function keptFor(
  seconds: number,
  { who }: FastifyRequest,
  reply: FastifyReply,
  { access }: CheckedOptions,
): void {
  reply.header('cache-control', `${who.by === undefined ? 'public' : 'private'}, max-age=${seconds}`);
  if (!access.accounts) return;
  varyBy(reply, 'Authorization');
  varyBy(reply, 'Cookie');
}

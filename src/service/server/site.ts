import type { FastifyRequest } from 'fastify';
import type { CheckedOptions } from './options.ts';

/** Address under which whoever asks reaches the service, without a path: the public one, else that of the request. */
export function siteOf(request: FastifyRequest, { access }: Pick<CheckedOptions, 'access'>): string {
  return access.publicUrl?.origin ?? `${request.protocol}://${request.host}`;
}

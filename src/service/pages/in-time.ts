import type { FastifyReply } from 'fastify';
import { CasebackError } from '../../model/problems.ts';

/**
 * What a page is made of, or a refusal where that takes too long; the work ends then, and when whoever wanted the page has gone.
 * @param most milliseconds
 * @throws CasebackError OUT_OF_BUDGET; what the work throws
 */
export async function inTime<T>(
  reply: FastifyReply,
  most: number,
  work: (signal: AbortSignal) => Promise<T>,
): Promise<T> {
  const ends = new AbortController();
  const gone = () => ends.abort();
  reply.raw.once('close', gone);
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      const message = `The page took longer than ${most.toLocaleString('en')} ms to make; try again later, or ask /graphql for less at once`;
      reject(new CasebackError('OUT_OF_BUDGET', message));
      ends.abort();
    }, most);
  });
  try {
    return await Promise.race([work(ends.signal), late]);
  } finally {
    clearTimeout(timer);
    reply.raw.off('close', gone);
  }
}

import type { FastifyBaseLogger } from 'fastify';

/** How long what was said is not said again, ms. */
const QUIET = 10_000;

interface Said {
  /** Kept back since. */
  count: number;
  /** The last that was kept back. */
  last?: () => void;
}

const saidBy = new WeakMap<FastifyBaseLogger, Map<string, Said>>();

/**
 * Logs an error that every request meets while something is out of reach: the first at once, then the last of every ten seconds,
 * with how many there were.
 * @param code what counts as the same
 */
export function logSparingly(log: FastifyBaseLogger, code: string, details: object, message: string): void {
  let said = saidBy.get(log);
  if (!said) {
    said = new Map();
    saidBy.set(log, said);
  }
  const before = said.get(code);
  if (!before) {
    log.error(details, message);
    startQuiet(said, code);
    return;
  }
  before.count++;
  before.last = () => log.error({ ...details, times: before.count }, message);
}

function startQuiet(said: Map<string, Said>, code: string): void {
  const mine: Said = { count: 0 };
  said.set(code, mine);
  setTimeout(() => {
    if (mine.last) {
      mine.last();
      startQuiet(said, code);
    } else said.delete(code);
  }, QUIET).unref();
}

import type { Who } from '../../access/roles.ts';
import type { Audience } from '../../state/visibility/audience.ts';

/** Whoever sent a request. */
export interface Asker extends Who {
  readonly displayName: string | null;
  /** What shows who it is; `local` for the account of this machine, undefined for a visitor. */
  readonly by: 'token' | 'session' | 'local' | undefined;
  /** When they are signed out if nothing else happens, ISO 8601 in UTC; undefined where that never happens. */
  readonly expires: string | undefined;
}

/** Somebody who has not signed in. */
export const VISITOR: Asker = {
  name: undefined,
  displayName: null,
  role: 'reader',
  by: undefined,
  expires: undefined,
};

/** Readers see what is published; whoever works on the archive sees everything. */
export function audienceOf({ role }: Who): Audience {
  return role === 'reader' ? 'reader' : 'desk';
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Set before any route runs. */
    who: Asker;
  }
  interface FastifyContextConfig {
    /** Whether whoever has not signed in gets an answer here, even where reading needs an account. */
    readonly isForAll?: true;
    /** Largest body here, bytes, where it is not that of other requests. */
    readonly bodyBytes?: number;
  }
}

// The one call of autocannon that we use; the package ships no types of its own.
declare module 'autocannon' {
  export interface Result {
    readonly requests: { readonly average: number; readonly total: number };
    /** Percentiles, ms. */
    readonly latency: Readonly<Record<'p50' | 'p90' | 'p99' | 'p99_9', number>>;
    readonly non2xx: number;
    readonly errors: number;
    /** Bodies that `verifyBody` refused. */
    readonly mismatches: number;
  }
  interface Asked {
    readonly method: 'POST';
    readonly path: string;
    readonly headers: Readonly<Record<string, string>>;
    readonly body: string;
    /** Called before each request is sent; answers the one to send. */
    readonly setupRequest?: (request: Asked) => Asked;
  }
  export default function autocannon(options: {
    readonly url: string;
    readonly connections: number;
    readonly duration: number;
    readonly requests: readonly Asked[];
    readonly verifyBody?: (body: string) => boolean;
  }): PromiseLike<Result>;
}

// The one call of autocannon that we use; the package ships no types of its own.
declare module 'autocannon' {
  interface Result {
    readonly requests: { readonly average: number; readonly total: number };
    readonly non2xx: number;
    readonly errors: number;
  }
  export default function autocannon(options: {
    readonly url: string;
    readonly connections: number;
    readonly duration: number;
    readonly requests: readonly {
      readonly method: 'POST';
      readonly path: string;
      readonly headers: Readonly<Record<string, string>>;
      readonly body: string;
    }[];
  }): PromiseLike<Result>;
}

import { type AppendOptions, type Head, type Journal, NO_HASH, type ReadOptions } from './journal.ts';

/** A journal without entries, whose store is made when the first ones come: what is refused leaves nothing behind. */
export function madeWhenWritten(make: () => Journal): Journal {
  let made: Journal | undefined;
  return {
    async append(changes, options?: AppendOptions) {
      if (changes.length === 0 && options?.key === undefined) return [];
      made ??= make();
      return made.append(changes, options);
    },
    async *read(options?: ReadOptions) {
      if (made) yield* made.read(options);
    },
    async *readStored(options?: ReadOptions) {
      if (made) yield* made.readStored(options);
    },
    head: async (): Promise<Head> => made?.head() ?? { sequence: 0, hash: NO_HASH },
    identity: async () => made?.identity(),
    appended: async (key) => made?.appended(key),
    keys: async () => made?.keys() ?? [],
    secret: async () => made?.secret(),
    watch: (hint) => made?.watch(hint) ?? (() => undefined),
    close: async () => made?.close(),
  };
}

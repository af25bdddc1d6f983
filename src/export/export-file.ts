import type { Loss } from './graph/things.ts';

// What an export consists of, for whoever writes, sends or lists it. Code that makes files is not loaded from here.

/** What a state can be exported as, each with what it is. */
export const EXPORTS = {
  csv: 'tables after RFC 4180 with CSVW metadata',
  graphml: 'one graph',
  parquet: 'the tables with typed columns, for analysts',
  'json-ld': 'linked data (JSON-LD 1.1) on PROV-O, SKOS and schema.org',
} as const;
export type ExportFormat = keyof typeof EXPORTS;
export const EXPORT_FORMATS = Object.keys(EXPORTS) as readonly ExportFormat[];

/** A file of an export, made piece by piece each time it is asked for. */
export interface ExportFile {
  readonly name: string;
  readonly mediaType: string;
  /** Name of the file beside it that describes it. */
  readonly describedBy?: string;
  /** Whether it is bytes that are no text. */
  readonly isBinary?: true;
  /** Whether the others are read without it: it stands beside them in a folder and is left out where they are sent alone. */
  readonly isBeside?: true;
  /** Its content. @param lose told of what cannot be written, or not as it is on record @throws the signal's reason */
  readonly pieces: (lose: Lose, signal?: AbortSignal) => AsyncIterable<string | Uint8Array>;
  /** Of a table: the number of rows of one batch after the other, with the losses that `pieces` tells; nothing is written. */
  readonly rows?: (lose: Lose, signal?: AbortSignal) => AsyncIterable<number>;
}

export type Lose = (loss: Loss) => void;

/** Counts losses and keeps the first of them, since an archive may have any number. */
export class Losses {
  readonly #most: number;
  count = 0;
  readonly first: Loss[] = [];

  /** @param most that are kept */
  constructor(most: number) {
    this.#most = most;
  }

  readonly add: Lose = (loss) => {
    this.count++;
    if (this.first.length < this.#most) this.first.push(loss);
  };
}

/**
 * What files have and would lose, without writing them.
 * @param losses told of all of them
 * @returns the number of rows of those that are tables
 * @throws the signal's reason
 */
export async function survey(
  files: readonly ExportFile[],
  losses: Losses,
  signal?: AbortSignal,
): Promise<number> {
  let count = 0;
  for (const { pieces, rows } of files) {
    if (rows) for await (const some of rows(losses.add, signal)) count += some;
    else for await (const _ of pieces(losses.add, signal));
  }
  return count;
}

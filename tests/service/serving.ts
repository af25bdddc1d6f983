import type { FastifyInstance } from 'fastify';
import { Archive } from '../../src/archive.ts';
import { readDocument } from '../../src/dossier/read.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { PatternAnswer } from '../../src/patterns/answer.ts';
import type { Questions } from '../../src/service/base/domain.ts';
import type { ServiceOptions } from '../../src/service/base/options.ts';
import { createService } from '../../src/service/createService.ts';
import { CATALOGUE, DOSSIERS } from './invented.ts';

export const BY = { actor: 'bench', reason: 'test' } as const;

/** An archive in memory that holds the given records, all invented. */
export async function archiveOf(records: readonly object[] = [CATALOGUE, ...DOSSIERS]): Promise<Questions> {
  const archive = await Archive.open(new MemoryJournal());
  const documents = records.map((record, index) => {
    const { document, problems } = readDocument(Buffer.from(JSON.stringify(record)), `record-${index}.json`);
    if (!document) throw new Error(JSON.stringify(problems, undefined, 1));
    return document;
  });
  await archive.importDocuments(documents, BY).catch((e: { problems: unknown }) => {
    throw new Error(JSON.stringify(e.problems));
  });
  return archive as Questions;
}

export interface Answer {
  // Tests read deep into answers whose form the schema, not the compiler, promises.
  // biome-ignore lint/suspicious/noExplicitAny: see above
  readonly data: any;
  readonly errors?: readonly {
    readonly message: string;
    readonly path?: readonly (string | number)[];
    // biome-ignore lint/suspicious/noExplicitAny: see above
    readonly extensions: any;
  }[];
}

/** A service under test, and how to ask it. */
export interface Served {
  readonly app: FastifyInstance;
  readonly archive: Questions;
  /** Asks by POST and answers the body; fails the test when there are errors. */
  ask(query: string, variables?: object): Promise<Answer['data']>;
  /** Asks by POST and answers the whole body. */
  answer(query: string, variables?: object, operationName?: string): Promise<Answer>;
  close(): Promise<void>;
}

export async function serve(options: Partial<ServiceOptions> = {}, archive?: Questions): Promise<Served> {
  const holds = archive ?? (await archiveOf());
  const app = createService({ archive: holds, ...options });
  await app.ready();
  const answer = async (query: string, variables?: object, operationName?: string) => {
    const response = await app.inject({
      method: 'POST',
      url: '/graphql',
      headers: { accept: 'application/graphql-response+json' },
      payload: { query, variables, operationName },
    });
    return response.json() as Answer;
  };
  return {
    app,
    archive: holds,
    answer,
    ask: async (query, variables) => {
      const { data, errors } = await answer(query, variables);
      if (errors) throw new Error(JSON.stringify(errors, undefined, 1));
      return data;
    },
    close: async () => {
      await app.close();
      await holds.close();
    },
  };
}

export type { PatternAnswer };

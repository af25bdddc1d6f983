import type { FastifyInstance } from 'fastify';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import type { Journal } from '../../src/journal/journal.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { dossierSchema } from '../../src/model/dossier.ts';
import { createService } from '../../src/service/create-service.ts';
import type { ServiceOptions } from '../../src/service/server/options.ts';
import { CATALOGUE, DOSSIERS, HIDDEN } from './invented.ts';

export const BY = { actor: 'bench', reason: 'test' } as const;

/** An archive, in memory unless a blank journal is given, that holds the given records, all invented. */
export async function archiveOf(
  records: readonly object[] = [CATALOGUE, ...DOSSIERS],
  journal: Journal = new MemoryJournal(),
): Promise<Archive> {
  const archive = await Archive.open(journal);
  await archive.importDocuments(records.map(documentOf).map(withoutHiddenSupport), BY);
  // Older archives have published sentences that hidden things support; an import refuses them now.
  const whole = records
    .map(documentOf)
    .flatMap((one) => (one.kind === 'catalogue' ? one.catalogue.publications : []));
  const changes = whole
    .filter(({ claims }) => claims.some(({ supportedBy }) => supportedBy.some(isHidden)))
    .map(
      (record) => ({ ...BY, kind: 'record-put', payload: { collection: 'publications', record } }) as const,
    );
  if (changes.length > 0) await journal.append(changes);
  await archive.follow();
  return archive;
}

const isHidden = (id: string) => HIDDEN.specimens.some((one) => id === one);

function withoutHiddenSupport(document: ReadDocument): ReadDocument {
  if (document.kind !== 'catalogue') return document;
  const publications = document.catalogue.publications.map((publication) => ({
    ...publication,
    claims: publication.claims.map((claim) => ({
      ...claim,
      supportedBy: claim.supportedBy.filter((id) => !isHidden(id)),
    })),
  }));
  return { ...document, catalogue: { ...document.catalogue, publications } };
}

/** A record as the reader of files would give it. */
export function documentOf(record: object): ReadDocument {
  const read = { file: 'record', locate: () => ({ line: 1, column: 1 }) };
  return 'device' in record
    ? { ...read, kind: 'dossier', dossier: dossierSchema.parse(record) }
    : { ...read, kind: 'catalogue', catalogue: catalogueSchema.parse(record) };
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
  readonly archive: Archive;
  /** Asks by POST and answers the body; fails the test when there are errors. */
  ask(query: string, variables?: object): Promise<Answer['data']>;
  /** Asks by POST and answers the whole body. */
  answer(query: string, variables?: object, operationName?: string): Promise<Answer>;
  close(): Promise<void>;
}

export async function serve(options: Partial<ServiceOptions> = {}, archive?: Archive): Promise<Served> {
  const holds = archive ?? (await archiveOf());
  const app = createService({
    archive: holds,
    access: { local: { name: BY.actor, role: 'administrator' } },
    ...options,
  });
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

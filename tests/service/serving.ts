import type { FastifyInstance } from 'fastify';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import type { View } from '../../src/graph/view.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { dossierSchema } from '../../src/model/dossier.ts';
import { CasebackError } from '../../src/model/problems.ts';
import type { PatternAnswer, PatternMatch, PatternQuestion } from '../../src/patterns/answer.ts';
import type { Questions } from '../../src/service/base/domain.ts';
import type { ServiceOptions } from '../../src/service/base/options.ts';
import { createService } from '../../src/service/createService.ts';
import { CATALOGUE, DOSSIERS } from './invented.ts';

export const BY = { actor: 'bench', reason: 'test' } as const;

/** An archive in memory that holds the given records, all invented. */
export async function archiveOf(records: readonly object[] = [CATALOGUE, ...DOSSIERS]): Promise<Questions> {
  const archive = await Archive.open(new MemoryJournal());
  const documents = records.map(documentOf);
  await archive.importDocuments(documents, BY);
  return withPatterns(archive);
}

/** A record as the reader of files would give it. */
function documentOf(record: object): ReadDocument {
  const read = { file: 'record', locate: () => ({ line: 1, column: 1 }) };
  return 'device' in record
    ? { ...read, kind: 'dossier', dossier: dossierSchema.parse(record) }
    : { ...read, kind: 'catalogue', catalogue: catalogueSchema.parse(record) };
}

/**
 * Adds a search that knows a single pattern, a sensor connected to an analogue front end, so that these tests
 * are about the service and not about the engine.
 */
function withPatterns(archive: Archive): Questions {
  return Object.assign(archive, {
    async findPattern(view: View, { text }: PatternQuestion): Promise<PatternAnswer> {
      if (!text.startsWith('MATCH')) {
        const what = 'MATCH is expected here';
        throw new CasebackError('BAD_PATTERN', `1:1: ${what}`, [{ line: 1, column: 1, what }]);
      }
      const devices = [...view.devices()].flatMap(({ id }) => {
        const matches = view.specimensOf(id).flatMap((row) => matchesIn(view, row.id));
        const probability = Math.max(0, ...matches.map((match) => match.probability));
        const definite = matches.some((match) => match.definite);
        return matches.length > 0
          ? [{ deviceId: id, definite, probability, method: 'exact' as const, matches }]
          : [];
      });
      return {
        variables: ['s', 'a'],
        devices: devices.sort((a, b) => (a.deviceId < b.deviceId ? -1 : 1)),
        complete: true,
      };
    },
  });
}

function matchesIn(view: View, specimenId: string): PatternMatch[] {
  const specimen = view.specimen(specimenId);
  const weight = (id: string, label: string) => specimen?.labels.get(id)?.get(label) ?? 0;
  return (specimen?.dossier.connections ?? []).flatMap(({ between: [a, b] }) => {
    const [sensor, end] = weight(a, 'Sensor') > 0 ? [a, b] : [b, a];
    const probability = weight(sensor, 'Sensor') * weight(end, 'AnalogFrontEnd');
    const bindings = [
      { variable: 's', ids: [`${specimenId}/${sensor}`] },
      { variable: 'a', ids: [`${specimenId}/${end}`] },
    ];
    return probability > 0 ? [{ specimenId, bindings, probability, definite: probability >= 0.95 }] : [];
  });
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

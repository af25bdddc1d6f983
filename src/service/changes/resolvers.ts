import type { Authorship } from '../../archive.ts';
import { badFiles } from '../../dossier/plan.ts';
import { type ReadDocument, readDocument } from '../../dossier/read.ts';
import {
  IDENTIFICATION_STATES,
  identificationSchema,
  OBSERVATION_KINDS,
  observationSchema,
  specimenIdOf,
} from '../../model/dossier.ts';
import type { Problem } from '../../model/problems.ts';
import type { Context } from '../base/domain.ts';
import { enumWord } from '../base/enums.ts';
import { findInside } from '../sources/find.ts';
import { specimenSource } from '../sources/specimen.ts';
import { authorship, recordOf } from './input.ts';

interface FileInput {
  readonly name: string;
  readonly text: string;
}

interface SpecimenChange extends Authorship {
  readonly specimen: string;
}

export const resolvers = {
  Mutation: {
    importDossier: async (
      _root: unknown,
      { files, ...by }: Authorship & { readonly files: readonly FileInput[] },
      { archive, view }: Context,
    ) => {
      const documents = read(files);
      const report = await archive.importDocuments(documents, authorship(by), view.audience);
      const ids = documents.flatMap((one) => (one.kind === 'dossier' ? [specimenIdOf(one.dossier)] : []));
      const opened = [...new Set(ids)].flatMap((id) => view.specimen(id) ?? []);
      return {
        ...report,
        specimens: opened.map((one) => specimenSource(view, one)),
        entry: report.last ?? null,
      };
    },
    recordObservation: async (
      _root: unknown,
      { specimen, observation, ...by }: SpecimenChange & { observation: { readonly kind: string } },
      { archive, view }: Context,
    ) => {
      const kind = enumWord(OBSERVATION_KINDS, observation.kind);
      const record = recordOf(observationSchema, { ...observation, kind }, 'observation');
      const entry = await archive.recordObservation(specimen, record, authorship(by), view.audience);
      return { entry, observation: changed(view, specimen, record.id) };
    },
    setIdentification: async (
      _root: unknown,
      { specimen, identification, ...by }: SpecimenChange & { identification: { readonly state: string } },
      { archive, view }: Context,
    ) => {
      const state = enumWord(IDENTIFICATION_STATES, identification.state);
      const record = recordOf(identificationSchema, { ...identification, state }, 'identification');
      const entry = await archive.setIdentification(specimen, record, authorship(by), view.audience);
      return { entry, component: changed(view, specimen, record.component) };
    },
  },
};

/**
 * Reads the files of an import.
 * @throws CasebackError BAD_FILE with every problem of every file
 */
function read(files: readonly FileInput[]): readonly ReadDocument[] {
  const documents: ReadDocument[] = [];
  const problems: Problem[] = [];
  for (const { name, text } of files) {
    const result = readDocument(Buffer.from(text, 'utf8'), name);
    if (result.document) documents.push(result.document);
    else problems.push(...result.problems);
  }
  if (problems.length > 0) throw badFiles(problems);
  return documents;
}

function changed(view: Context['view'], specimen: string, localId: string) {
  const opened = view.specimen(specimen);
  return opened ? findInside(view, opened, localId) : null;
}

import { limited } from '../../../dossier/limited.ts';
import { badFiles } from '../../../dossier/plan.ts';
import {
  IDENTIFICATION_STATES,
  identificationSchema,
  OBSERVATION_KINDS,
  observationSchema,
  specimenIdOf,
} from '../../../model/dossier.ts';
import { CasebackError } from '../../../model/problems.ts';
import type { ReadersDifference } from '../../../state/visibility/readers-difference.ts';
import { componentIn, observationIn } from '../node.ts';
import { isEditor } from '../permissions.ts';
import type * as Api from '../resolver-types.ts';
import { specimenSource } from '../specimens/sources.ts';
import { enumWord } from '../words.ts';
import { authorship, entrySource, recordOf } from './input.ts';
import { visibilityIn } from './visibility.ts';

/** Ids listed of each way in which readers see something otherwise. */
const LISTED = 100;

function readersSource({ added, changed, gone }: ReadersDifference) {
  return {
    addedCount: added.length,
    added: added.slice(0, LISTED),
    changedCount: changed.length,
    changed: changed.slice(0, LISTED),
    goneCount: gone.length,
    gone: gone.slice(0, LISTED),
  };
}

/** @throws CasebackError TOO_LARGE for more than can be brought in without holding others up */
function refuseMore(files: readonly { readonly text: string }[], most: number): void {
  const bytes = files.reduce((sum, { text }) => sum + Buffer.byteLength(text), 0);
  if (bytes <= most) return;
  const [have, may] = [bytes, most].map((count) => count.toLocaleString('en'));
  throw new CasebackError(
    'TOO_LARGE',
    `The files have ${have} bytes; a service takes at most ${may} at once. Send fewer at once, or import them on its machine: caseback import FILE`,
  );
}

/** Changes of the record as the bench makes them. */
export const changes: Api.Resolvers = {
  Mutation: {
    importDossier: async (_root, { input: { files, ...by } }, context) => {
      const { archive, view, who } = context;
      const signal = context.signal();
      refuseMore(files, context.limits.filesBytes);
      const { readDocumentsApart } = await import('../../files/read-apart.ts');
      const read = await readDocumentsApart(files, signal);
      if (read.problems.length > 0) throw badFiles(await archive.problemsIn(read, view.audience, signal));
      const { documents } = read;
      const report = await archive.importDocuments(documents, authorship(by, who), {
        audience: view.audience,
        mayPublish: isEditor(context),
        signal,
      });
      const ids = documents.flatMap((one) => (one.kind === 'dossier' ? [specimenIdOf(one.dossier)] : []));
      const now = archive.state(view.audience);
      const opened = [...new Set(ids)].flatMap((id) => now.specimen(id) ?? []);
      return {
        ...report,
        cautions: limited(report.cautions),
        readers: readersSource(report.readers),
        specimens: opened.map((one) => specimenSource(now, one)),
        entry: report.last ? entrySource(report.last) : null,
      };
    },
    recall: async (_root, { input: { id, ...by } }, { archive, who }) => {
      const { ids, readers, entry } = await archive.recallRecord(id, authorship(by, who));
      return { ids, readers: readersSource(readers), entry: entrySource(entry) };
    },
    recordObservation: async (_root, { input: { specimen, observation, ...by } }, { archive, view, who }) => {
      const kind = enumWord(OBSERVATION_KINDS, observation.kind);
      const record = recordOf(observationSchema, { ...observation, kind }, 'observation');
      const entry = await archive.recordObservation(specimen, record, authorship(by, who), view.audience);
      return {
        entry: entrySource(entry),
        observation: observationIn(archive.state(view.audience), specimen, record.id),
        cautions: limited(entry.cautions),
      };
    },
    setIdentification: async (
      _root,
      { input: { specimen, identification, ...by } },
      { archive, view, who },
    ) => {
      const state = enumWord(IDENTIFICATION_STATES, identification.state);
      const visible = visibilityIn(identification);
      const record = recordOf(
        identificationSchema,
        { ...identification, ...visible, state },
        'identification',
      );
      const entry = await archive.setIdentification(specimen, record, authorship(by, who), view.audience);
      return {
        entry: entrySource(entry),
        component: componentIn(archive.state(view.audience), specimen, record.component),
        cautions: limited(entry.cautions),
      };
    },
  },
};

import { recordId } from '../model/catalogue.ts';
import { specimenIdOf } from '../model/dossier.ts';
import type { Entry } from '../model/entry.ts';
import { type Command, EXIT } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openJournal } from './dataFolder.ts';

export const command: Command = {
  summary: 'lists who changed what, when and why',
  usage: 'history [ID] [--json]',
  help: `Without an id: every entry of the journal. With one: the entries about that record, device, specimen or anything
inside it.

${DATA_HELP}
  --json            whole entries, one JSON object a line

  caseback history tarn-loop-3/a/U3`,
  options: { ...DATA_OPTION, json: { type: 'boolean' } },

  async run([id], values) {
    const journal = openJournal(dataFolder(values));
    try {
      for await (const entries of journal.read()) {
        for (const entry of entries) {
          if (id !== undefined && !concerns(entry, id)) continue;
          const line = values.json
            ? JSON.stringify(entry)
            : `${String(entry.sequence).padStart(6)}  ${entry.instant}  ${entry.actor}  ${entry.kind} ${subjectOf(entry)}  ${entry.reason}`;
          process.stdout.write(`${line}\n`);
        }
      }
    } finally {
      await journal.close();
    }
    return EXIT.fine;
  },
};

/** Global id of what an entry is about. */
function subjectOf(entry: Entry): string {
  switch (entry.kind) {
    case 'record-put':
      return recordId(entry.payload.collection, entry.payload.record);
    case 'dossier-put':
      return specimenIdOf(entry.payload);
    case 'observation-recorded':
      return `${entry.payload.specimen}/${entry.payload.observation.id}`;
    case 'identification-set':
      return `${entry.payload.specimen}/${entry.payload.identification.component}`;
    default:
      return entry satisfies never;
  }
}

/** Whether an entry is about an id, something inside it, or the dossier that holds it. */
function concerns(entry: Entry, id: string): boolean {
  const subject = subjectOf(entry);
  if (subject === id || subject.startsWith(`${id}/`)) return true;
  return entry.kind === 'dossier-put' && id.startsWith(`${subject}/`);
}

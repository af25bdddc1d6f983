import { onOneLine } from '../export/table.ts';
import { recordId } from '../model/catalogue.ts';
import { specimenIdOf } from '../model/dossier.ts';
import type { Entry } from '../model/entry.ts';
import { decisionId, isInside, recordOfId, thingId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import { type Command, EXIT, numberOf, textOf } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openKeptJournal } from './data-folder.ts';

export const command: Command = {
  usage: 'history [ID] [--data FOLDER] [--last N] [--json]',
  help: `Without an id: every entry of the journal, oldest first: sequence, instant, who, what, why. With one: the entries
about that record, device, specimen or anything inside it.

${DATA_HELP}
  --last N          only the last N entries
  --json            whole entries, one JSON object a line

  caseback history --last 20
  caseback history tarn-loop-3
  caseback history tarn-loop-3/a/U3 --json`,
  options: { ...DATA_OPTION, last: { type: 'string' }, json: { type: 'boolean' } },
  words: 1,

  async run([id], values) {
    const last = textOf(values, 'last');
    const most =
      last === undefined ? Infinity : numberOf(last, '--last', { least: 1, most: Number.MAX_SAFE_INTEGER });
    const journal = openKeptJournal(dataFolder(values));
    const lineOf = (entry: Entry) => `${values.json ? JSON.stringify(entry) : inOneLine(entry)}\n`;
    // Lines are held back only where the last ones are asked for.
    const held: string[] = [];
    let found = 0;
    const subjects = new Set<string>();
    try {
      for await (const entries of journal.read()) {
        for (const entry of entries) {
          if (id !== undefined) subjects.add(subjectOf(entry)).add(recordOfId(subjectOf(entry)));
          if (id !== undefined && !concerns(entry, id)) continue;
          found++;
          if (most === Infinity) process.stdout.write(lineOf(entry));
          else {
            held.push(lineOf(entry));
            if (held.length > most) held.shift();
          }
        }
      }
    } finally {
      await journal.close();
    }
    process.stdout.write(held.join(''));
    if (id !== undefined && found === 0) {
      const near = didYouMean(id, subjects);
      throw new CasebackError('NOT_FOUND', `no entry is about "${id}"${near ? `; ${near}` : ''}`);
    }
    return EXIT.fine;
  },
};

function inOneLine(entry: Entry): string {
  const { sequence, instant, actor, kind, reason } = entry;
  return onOneLine(
    `${String(sequence).padStart(6)}  ${instant}  ${actor}  ${kind} ${subjectOf(entry)}  ${reason}`,
  );
}

/** Global id of what an entry is about. */
function subjectOf(entry: Entry): string {
  switch (entry.kind) {
    case 'record-put':
      return recordId(entry.payload.collection, entry.payload.record);
    case 'dossier-put':
      return specimenIdOf(entry.payload);
    case 'observation-recorded':
      return thingId(entry.payload.specimen, entry.payload.observation.id);
    case 'observation-withdrawn':
      return thingId(entry.payload.specimen, entry.payload.observation);
    case 'identification-set':
      return thingId(entry.payload.specimen, entry.payload.identification.component);
    case 'identification-judged':
      return thingId(entry.payload.specimen, entry.payload.judgement.component);
    case 'decision-judged':
      return decisionId(entry.payload.device, entry.payload.pattern);
    case 'correction-made':
      return entry.payload.id;
    default:
      return entry satisfies never;
  }
}

/** Whether an entry is about an id, something inside it, or the dossier or publication that holds it. */
function concerns(entry: Entry, id: string): boolean {
  const subject = subjectOf(entry);
  if (subject === id || isInside(subject, id)) return true;
  switch (entry.kind) {
    case 'dossier-put':
    case 'record-put':
      return isInside(id, subject);
    case 'observation-recorded':
      return entry.payload.observation.about.some((local) => thingId(entry.payload.specimen, local) === id);
    case 'observation-withdrawn':
    case 'identification-set':
    case 'identification-judged':
      return false;
    case 'decision-judged':
      return entry.payload.device === id;
    case 'correction-made':
      return entry.payload.publications.some(({ publication }) => publication === id);
    default:
      return entry satisfies never;
  }
}

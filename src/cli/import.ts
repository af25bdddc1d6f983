import { Archive, type ImportReport } from '../archive.ts';
import type { ReadDocument } from '../dossier/document/document.ts';
import { badFiles, planImport } from '../dossier/plan.ts';
import { findFiles, readFile } from '../dossier/read-files.ts';
import { MemoryJournal } from '../journal/memory/journal.ts';
import type { Problem } from '../model/problems.ts';
import { type Command, EXIT, UsageError } from './command.ts';
import {
  AUTHOR_OPTIONS,
  authorship,
  DATA_HELP,
  DATA_OPTION,
  dataFolder,
  holdsArchive,
  openJournal,
} from './data-folder.ts';
import { withProgress } from './journal-reading.ts';
import { Progress } from './progress.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage: 'import FILE|FOLDER ... [--data FOLDER] [--actor NAME] [--reason TEXT] [--dry-run] [--json]',
  help: `Reads every file first; when any has an error, all are listed and nothing is written. All is written at once or,
should the machine stop in the middle, none of it. What the archive already holds in the same form is left
alone, so importing twice writes once. A data folder that is not there is made.

${DATA_HELP}
  --actor NAME      who imports (default: your login name)
  --reason TEXT     why, kept in the journal (default: "import")
  --dry-run         say what would be written, and write nothing
  --json            what was written as JSON; errors, too

  caseback import my-band.yaml --actor "A. Example" --reason "opened today"
  caseback import incoming/ --dry-run
  caseback import seed-data --data ./trial`,
  options: { ...DATA_OPTION, ...AUTHOR_OPTIONS, 'dry-run': { type: 'boolean' }, json: { type: 'boolean' } },

  async run(words, values) {
    if (words.length === 0) throw new UsageError('name the files or folders to import');
    const by = authorship(values, 'import');
    if (by.actor.trim() === '') throw new UsageError('--actor is empty; say who imports');
    const documents = readWithProgress(words);
    const folder = dataFolder(values);
    const dry = values['dry-run'] === true;
    const archive = await Archive.open(
      dry && !holdsArchive(folder) ? new MemoryJournal() : withProgress(openJournal(folder)),
    );
    try {
      const report = dry
        ? reportOf(planImport(documents, archive.held(), by))
        : await archive.importDocuments(documents, by);
      if (values.json) process.stdout.write(`${JSON.stringify({ ...report, written: !dry }, null, 2)}\n`);
      process.stderr.write(`${inWords(report, dry)}\n`);
    } finally {
      await archive.close();
    }
    return EXIT.fine;
  },
};

/**
 * Reads all files, with a progress bar on a terminal.
 * @throws CasebackError BAD_FILE with the problems of every file
 */
export function readWithProgress(paths: readonly string[]): readonly ReadDocument[] {
  const found = findFiles(paths);
  const problems: Problem[] = [...found.problems];
  const documents: ReadDocument[] = [];
  const progress = new Progress('reading files', found.files.length);
  found.files.forEach((file, i) => {
    const result = readFile(file);
    if (result.document) documents.push(result.document);
    else problems.push(...result.problems);
    progress.update(i + 1);
  });
  progress.end();
  if (problems.length > 0) throw badFiles(problems);
  return documents;
}

function reportOf(changes: ReturnType<typeof planImport>): ImportReport {
  const count = (kind: string) => changes.filter((change) => change.kind === kind).length;
  return { entries: changes.length, records: count('record-put'), dossiers: count('dossier-put') };
}

/** `37 dossiers and 215 catalogue records written`, or that nothing was new. */
export function inWords({ entries, dossiers, records }: ImportReport, dry = false): string {
  if (entries === 0)
    return `The archive already holds all of it; nothing ${dry ? 'would be' : 'was'} written`;
  return `${counted(dossiers, 'dossier')} and ${counted(records, 'catalogue record')} ${dry ? 'would be ' : ''}written`;
}

import type { Archive, Authorship, ImportReport } from '../archive.ts';
import { Archive as Archives } from '../archive.ts';
import { badFiles } from '../dossier/plan.ts';
import type { ReadDocument } from '../dossier/read.ts';
import { findFiles, readFile } from '../dossier/readFiles.ts';
import type { Problem } from '../model/problems.ts';
import { type Command, EXIT, UsageError } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder, openJournal } from './dataFolder.ts';
import { Progress } from './progress.ts';

export const command: Command = {
  summary: 'brings dossier and catalogue files into the archive, all or nothing',
  usage: 'import FILE|FOLDER ... [--actor NAME] [--reason TEXT]',
  help: `Reads every file first; when any has a problem, all problems are listed and nothing is written. What the
archive already holds in the same form is left alone, so importing twice writes once.

${DATA_HELP}
  --actor NAME      who imports (default: your login name)
  --reason TEXT     why, kept in the journal (default: "import")

  caseback import my-band.yaml --reason "opened today"
  caseback import seed-data --data /tmp/trial`,
  options: { ...DATA_OPTION, ...AUTHOR_OPTIONS },

  async run(words, values) {
    if (words.length === 0) throw new UsageError('name the files or folders to import');
    const documents = readWithProgress(words);
    const archive = await Archives.open(openJournal(dataFolder(values)));
    try {
      const report = await importDocuments(archive, documents, authorship(values, 'import'));
      process.stderr.write(`${inWords(report)}\n`);
    } finally {
      await archive.close();
    }
    return EXIT.fine;
  },
};

/**
 * Reads all files, with a progress bar on a terminal.
 * @throws CasebackError BAD_FILE with every problem of every file
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

export async function importDocuments(
  archive: Archive,
  documents: readonly ReadDocument[],
  by: Authorship,
): Promise<ImportReport> {
  return archive.importDocuments(documents, by);
}

/** `37 dossiers and 215 catalogue records written`, or that nothing was new. */
export function inWords({ entries, dossiers, records }: ImportReport): string {
  if (entries === 0) return 'The archive already holds all of it; nothing was written';
  const plural = (count: number, one: string) => `${count} ${one}${count === 1 ? '' : 's'}`;
  return `${plural(dossiers, 'dossier')} and ${plural(records, 'catalogue record')} written`;
}

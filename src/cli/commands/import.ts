import { Archive, type ImportReport } from '../../archive.ts';
import type { ReadDocument } from '../../dossier/document/document.ts';
import { badFiles, planImport } from '../../dossier/plan.ts';
import { findFiles, readFile } from '../../dossier/read-files.ts';
import { MemoryJournal } from '../../journal/memory/journal.ts';
import type { Problem } from '../../model/problems.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { AUTHOR_OPTIONS } from '../frame/common-options.ts';
import { openJournal } from '../frame/data-folder.ts';
import { withProgress } from '../frame/journal-reading.ts';
import { flag } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

export const command = defineCommand({
  name: 'import',
  about:
    'Reads every file first; when any has an error, all are listed and nothing is written. All is written at once or, should the machine stop in the middle, none of it. What the archive already has in the same form is left alone, so importing twice writes once. A data folder that does not exist is made.',
  arguments: [{ name: 'FILE', help: 'a file, or a folder of files', many: true }],
  options: { dryRun: flag('show what would be written, and write nothing'), ...AUTHOR_OPTIONS },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: [
    'import my-band.yaml --actor "A. Example" --reason "opened today"',
    'import incoming/ --dry-run',
    'import seed-data --data ./trial',
  ],

  async run(call) {
    const by = call.authorship('import');
    const documents = readWithProgress(call.arguments);
    const dry = call.options.dryRun;
    const archive = await Archive.open(
      dry && !call.hasArchive ? new MemoryJournal() : withProgress(openJournal(call.folder)),
    );
    try {
      const report = dry
        ? reportOf(planImport(documents, archive.held(), by))
        : await archive.importDocuments(documents, by);
      return {
        json: () => ({ ...report, written: !dry }),
        messages: [importSentence(report, dry)],
      };
    } finally {
      await archive.close();
    }
  },
});

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

/** `37 dossiers and 215 catalogue records written`, or that nothing is new. */
export function importSentence({ entries, dossiers, records }: ImportReport, dry = false): string {
  if (entries === 0) return `The archive already has all of it; nothing ${dry ? 'would be' : 'was'} written`;
  return `${counted(dossiers, 'dossier')} and ${counted(records, 'catalogue record')} ${dry ? 'would be ' : ''}written`;
}

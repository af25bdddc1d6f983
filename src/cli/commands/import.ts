import { Archive, type Authorship, type ImportReport, reportOf } from '../../archive.ts';
import { NOTHING_HELD } from '../../dossier/check/context.ts';
import { bySeverity } from '../../dossier/check/rules.ts';
import type { ReadDocument } from '../../dossier/document/document.ts';
import { everyProblem } from '../../dossier/every-problem.ts';
import { badFiles, planImport } from '../../dossier/plan.ts';
import { findFiles, type ReadFiles, readFiles } from '../../dossier/read-files.ts';
import { MemoryJournal } from '../../journal/memory/journal.ts';
import type { Problem } from '../../model/problems.ts';
import type { TradeImport } from '../../trade-files/import.ts';
import { cautionLines } from '../answers/cautions.ts';
import { counted } from '../answers/figures.ts';
import { tradeReportText } from '../answers/trade-report-text.ts';
import { TRADE_OPTIONS, tradeImportOf } from '../arguments/trade-files.ts';
import type { Answer } from '../frame/answer.ts';
import type { Call } from '../frame/call.ts';
import { defineCommand } from '../frame/command.ts';
import { AUTHOR_OPTIONS } from '../frame/common-options.ts';
import { openJournal } from '../frame/data-folder.ts';
import { EXIT } from '../frame/exit.ts';
import { withProgress } from '../frame/journal-reading.ts';
import { flag } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

export const command = defineCommand({
  name: 'import',
  about:
    'Takes dossiers and catalogues, or the trade files of one specimen: bills of materials and placement lists as CSV, IPC-D-356 netlists, IPC-2581 and KiCad boards, told by their content; --dry-run shows how they are understood. Reads every file first; when any has an error, all are listed and nothing is written. All is written at once or, should the machine stop in the middle, none of it. What the archive already has in the same form is left alone, so importing twice writes once. A data folder that does not exist is made.',
  arguments: [{ name: 'FILE', help: 'a file, or a folder of files', many: true }],
  options: {
    dryRun: flag('show what would be written, and write nothing'),
    ...TRADE_OPTIONS,
    ...AUTHOR_OPTIONS,
  },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: [
    'import my-band.yaml --actor "A. Example" --reason "opened today"',
    'import incoming/ --dry-run',
    'import seed-data --data ./trial',
    'import bom.csv placement.csv netlist.ipc --device my-band --specimen a --dry-run',
    'import main.kicad_pcb --device my-band --specimen a --board main --complete',
  ],

  async run(call) {
    const by = call.authorship('import');
    const trade = tradeImportOf(call.arguments, call.options, by.actor);
    if (trade) return importTradeFiles(trade, by, call.options.dryRun, await call.archive());
    const read = readShown(call.arguments);
    if (read.problems.length > 0) throw badFiles(await problemsIn(read, call));
    const { documents } = read;
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
        messages: [...cautionLines(report.cautions), importSentence(report, dry)],
      };
    } finally {
      await archive.close();
    }
  },
});

/** Trade files into the dossier of one specimen; contradictions are shown in a dry run and keep the files out otherwise. */
async function importTradeFiles(
  trade: TradeImport,
  by: Authorship,
  dry: boolean,
  archive: Archive,
): Promise<Answer> {
  const written = dry
    ? await archive.planTradeFiles(trade, by, 'desk')
    : await archive.importTradeFiles(trade, by, 'desk');
  const { report, entries, dossiers } = written;
  const contradictions = report.differences.filter(({ kind }) => kind === 'contradiction').length;
  const kept = contradictions > 0 && dry && trade.despiteContradictions !== true;
  return {
    text: () => tradeReportText(report),
    json: () => ({ ...report, entries, written: !dry && entries > 0 }),
    messages: [
      kept
        ? `${counted(contradictions, 'contradiction')} with the archive would keep the files out`
        : importSentence({ entries, dossiers, records: 0 }, dry),
    ],
    exit: kept ? EXIT.problems : EXIT.fine,
  };
}

/**
 * Reads all files, with a progress bar on a terminal.
 * @throws CasebackError BAD_FILE with the problems of every file
 */
export function readWithProgress(paths: readonly string[]): readonly ReadDocument[] {
  const { documents, problems } = readShown(paths);
  if (problems.length > 0) throw badFiles(problems);
  return documents;
}

function readShown(paths: readonly string[]): ReadFiles {
  const progress = new Progress('reading files', findFiles(paths).files.length);
  const read = readFiles(paths, (count) => progress.update(count));
  progress.end();
  return read;
}

/** All problems of files, by the archive if there is one; none is made for this. */
async function problemsIn(read: ReadFiles, call: Call): Promise<readonly Problem[]> {
  if (call.hasArchive) return (await call.archive()).problemsIn(read);
  return bySeverity(everyProblem(read, NOTHING_HELD)).errors;
}

/** `37 dossiers and 215 catalogue records written`, or that nothing is new. */
export function importSentence(
  { entries, dossiers, records }: Pick<ImportReport, 'entries' | 'dossiers' | 'records'>,
  dry = false,
): string {
  if (entries === 0) return `The archive already has all of it; nothing ${dry ? 'would be' : 'was'} written`;
  return `${counted(dossiers, 'dossier')} and ${counted(records, 'catalogue record')} ${dry ? 'would be ' : ''}written`;
}

import { Archive, type ImportReport } from '../../archive.ts';
import { NOTHING_HELD } from '../../dossier/check/context.ts';
import { bySeverity } from '../../dossier/check/rules.ts';
import type { ReadDocument } from '../../dossier/document/document.ts';
import { everyProblem } from '../../dossier/every-problem.ts';
import { badFiles } from '../../dossier/plan.ts';
import type { ReadFiles } from '../../dossier/read-files.ts';
import type { Authorship } from '../../model/entry.ts';
import type { ListMapping } from '../../model/list-mapping.ts';
import type { Problem } from '../../model/problems.ts';
import { storeListMapping } from '../../questions/list-mappings.ts';
import { resolved } from '../../state/resolve.ts';
import type { TradeImport } from '../../trade-files/import.ts';
import { cautionLines } from '../answers/cautions.ts';
import { counted } from '../answers/figures.ts';
import { readersSentences } from '../answers/readers-text.ts';
import { tradeReportText } from '../answers/trade-report-text.ts';
import { readShown } from '../arguments/documents.ts';
import { mappingOf, TRADE_OPTIONS, tradeImportOf } from '../arguments/trade-files.ts';
import type { Answer } from '../frame/answer.ts';
import type { Call } from '../frame/call.ts';
import { defineCommand } from '../frame/command.ts';
import { AUTHOR_OPTIONS } from '../frame/common-options.ts';
import { hasArchive, openJournal, type Place, written } from '../frame/data-folder.ts';
import { databaseToFill, writtenPlace } from '../frame/database.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { withProgress } from '../frame/journal-reading.ts';
import { isOfDemo, journalToMake, patternLibrary } from '../frame/new-archive.ts';
import { flag } from '../frame/options.ts';
import { alikeFor, photosFor, photosOf } from '../frame/photos.ts';
import { snapshotPlace, spareNextReading } from '../frame/snapshot-place.ts';

const OPTIONS = {
  patterns: flag(
    'the pattern library that ships with Caseback, or what is new in it; goes without files too',
  ),
  dryRun: flag('show what would be written, and write nothing'),
  ...TRADE_OPTIONS,
  ...AUTHOR_OPTIONS,
};

export const command = defineCommand({
  name: 'import',
  about:
    'Takes dossiers and catalogues, or the trade files of one specimen: bills of materials and placement lists as CSV or XLSX, IPC-D-356 netlists, IPC-2581, KiCad boards and netlists, told by their content; --dry-run shows how they are understood. Reads every file first; when any has an error, all are listed and nothing is written. All is written at once or, should the machine stop in the middle, none of it. What the archive already has in the same form is left alone, so importing twice writes once.\nDossiers and catalogues go into your own archive, never into the demo. The first import makes it, with the pattern library unless the files bring patterns.',
  arguments: [{ name: 'FILE', help: 'a file, or a folder of files', optional: true, many: true }],
  options: OPTIONS,
  uses: 'folder',
  formats: ['text', 'json'],
  examples: [
    'import makers.yaml my-band.yaml --actor "A. Example" --reason "opened today"',
    'import incoming/ --dry-run',
    'import incoming/ --data ./test-bench',
    'import --patterns --reason "new patterns"',
    'import bom.csv placement.csv netlist.ipc --device my-band --specimen a --dry-run',
    'import parts.xlsx --sheet BOM --device my-band --specimen a --dry-run',
    'import other.xlsx --mapping placement-of-the-assembler --device my-band --specimen a',
    'import main.kicad_pcb --device my-band --specimen a --board main --complete',
  ],

  async run(call) {
    const { patterns, dryRun } = call.options;
    if (call.arguments.length === 0 && !patterns)
      throw new UsageError('FILE is missing; for example: caseback import my-band.yaml');
    const { mapping: by, saveMapping } = call.options;
    const mapping = by === undefined ? undefined : resolved(await call.view(), by, ['ListMapping']).thing;
    const trade = await tradeImportOf(call.arguments, call.options, () => call.actor(), mapping);
    if (trade) {
      const kept = saveMapping === undefined ? undefined : mappingOf(saveMapping, trade, call.options);
      const asked = kept ? { ...trade, kept } : trade;
      return importTradeFiles(trade, call.authorship('import'), dryRun, await call.changing(asked), kept);
    }
    const authorship = call.authorship('import', call.ownFolder);
    const read = readShown(call.arguments);
    if (read.problems.length > 0) throw badFiles(await problemsIn(read, call));
    return importDocuments(call, read, authorship);
  },
});

/** Dossiers and catalogues into one's own archive, which the first of them make. */
async function importDocuments(call: Call<typeof OPTIONS>, read: ReadFiles, by: Authorship): Promise<Answer> {
  const { place } = call;
  const { dryRun: dry, patterns } = call.options;
  const given = patterns ? [...read.documents, ...patternLibrary(read.documents)] : read.documents;
  if (place.isDemo && place.isNamed)
    throw new UsageError(
      `${written(place.folder)} is the invented demo archive, which takes no other files; leave --demo and --data out to import into your own`,
    );
  if (call.isUsualFolder && given.some(isOfDemo))
    throw new UsageError(
      'these are files of the invented demo, which would count in every figure of your own archive; --demo asks the demo, and --data FOLDER brings them into an archive all the same',
    );
  const folder = call.ownFolder;
  const shared = place.database === undefined ? undefined : await databaseToFill(place.database, folder);
  const isToMake = shared ? shared.isBlank : place.isDemo || !hasArchive(folder);
  const opened = await Archive.open(
    shared?.journal ?? (isToMake ? journalToMake(folder, call.terminal) : withProgress(openJournal(folder))),
    undefined,
    shared || isToMake ? undefined : snapshotPlace(folder, [], call.terminal),
    photosOf({ ...place, folder }),
  );
  try {
    const archive = await call.keyed(opened, given.map(contentOf));
    // Under the key of the import that made it, it is new again.
    const isNew = isToMake || (archive.version === 0 && opened.version > 0);
    // Files that bring patterns, such as those of an export, say themselves which an archive has.
    const documents = isNew && !given.some(hasPatterns) ? [...given, ...patternLibrary()] : given;
    const { photos, problems } = await photosFor(archive, documents);
    if (problems.length > 0) throw badFiles([...(await archive.problemsIn(read)), ...problems]);
    const alike = await alikeFor(archive, documents, { photos, problems });
    const report = dry
      ? archive.planDocuments(documents, by, photos)
      : await archive.importDocuments(documents, by, { photos });
    const library = documents.length - given.length;
    return {
      json: () => ({
        ...report,
        written: !dry,
        ...(isNew ? { madeArchive: shared ? writtenPlace(place) : folder } : {}),
      }),
      messages: [
        ...cautionLines([...report.cautions, ...alike]),
        importSentence({ ...report, records: report.records - library }, dry),
        // In a new archive they see all that is published, and it begins with the library.
        ...(isNew || report.entries === 0 ? [] : readersSentences(report.readers, dry)),
        ...(isNew ? [newSentence({ ...place, folder }, library, dry)] : []),
      ],
    };
  } finally {
    if (!dry) await spareNextReading(opened);
    await opened.close();
  }
}

/** What a document says, wherever its file lies. */
function contentOf(document: ReadDocument): unknown {
  return document.kind === 'catalogue' ? document.catalogue : document.dossier;
}

function hasPatterns(document: ReadDocument): boolean {
  return document.kind === 'catalogue' && document.catalogue.patterns.length > 0;
}

/** What an import begins, and what that changes. */
function newSentence(place: Place, patterns: number, dry: boolean): string {
  const { isNamed } = place;
  const library = patterns > 0 ? `, with the ${patterns} named patterns of the library` : '';
  const what = `an archive of your own in ${writtenPlace(place)}${library}`;
  if (dry) return `This would begin ${what}`;
  return `This begins ${what}${isNamed ? '' : '; "npm start" and all commands use it from now on'}`;
}

/** Trade files into the dossier of one specimen; contradictions are shown in a dry run and keep the files out otherwise. */
async function importTradeFiles(
  trade: TradeImport,
  by: Authorship,
  dry: boolean,
  archive: Archive,
  mapping: ListMapping | undefined,
): Promise<Answer> {
  const written = dry ? await archive.planTradeFiles(trade, by) : await archive.importTradeFiles(trade, by);
  const { report, entries, dossiers, readers } = written;
  if (mapping && !dry) await storeListMapping(archive, archive.state('desk'), mapping, by);
  const contradictions = report.differences.filter(({ kind }) => kind === 'contradiction').length;
  const kept = contradictions > 0 && dry && trade.despiteContradictions !== true;
  return {
    text: () => tradeReportText(report),
    json: () => ({ ...report, entries, readers, written: !dry && entries > 0 }),
    messages: [
      kept
        ? `${counted(contradictions, 'contradiction')} with the archive would keep the files out`
        : importSentence({ entries, dossiers, records: 0 }, dry),
      ...(kept || entries === 0 ? [] : readersSentences(readers, dry)),
      ...(mapping
        ? [
            `${dry ? 'Would keep' : 'Kept'} what the columns hold as the list mapping ${mapping.id}; read others by it with --mapping ${mapping.id}`,
          ]
        : []),
    ],
    exit: kept ? EXIT.problems : EXIT.fine,
  };
}

/** All problems of files, by one's own archive if there is one; none is made for this. */
async function problemsIn(read: ReadFiles, call: Call<typeof OPTIONS>): Promise<readonly Problem[]> {
  if (call.hasArchive && !call.place.isDemo) return (await call.archive()).problemsIn(read);
  return bySeverity(everyProblem(read, NOTHING_HELD)).errors;
}

/** `37 dossiers and 215 catalogue records written`, or that nothing is new. */
export function importSentence(
  {
    entries,
    dossiers,
    records,
    photos = 0,
  }: Pick<ImportReport, 'entries' | 'dossiers' | 'records'> & { readonly photos?: number },
  dry = false,
): string {
  if (entries === 0) return `The archive already has all of it; nothing ${dry ? 'would be' : 'was'} written`;
  const kept = photos === 0 ? '' : `; ${counted(photos, 'photo')} ${dry ? 'would be kept' : 'kept'}`;
  return `${counted(dossiers, 'dossier')} and ${counted(records, 'catalogue record')} ${dry ? 'would be ' : ''}written${kept}`;
}

import { closeSync, openSync, readFileSync, readSync, statSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { MAX_FILE_BYTES, tooLarge } from '../../dossier/decode.ts';
import { badFiles } from '../../dossier/plan.ts';
import { BOARD_KINDS } from '../../model/board.ts';
import { lastOfId, memberId, recordOfId } from '../../model/ids.ts';
import { DECIMAL_SIGNS, type ListMapping, listMappingSchema } from '../../model/list-mapping.ts';
import { CasebackError, type Problem } from '../../model/problems.ts';
import { readingBy } from '../../questions/list-mappings.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import {
  LENGTH_UNITS,
  type LengthUnit,
  type TradeFile,
  type TradeReading,
} from '../../trade-files/board-design.ts';
import type { TradeImport } from '../../trade-files/import.ts';
import type { AssignedFile } from '../../trade-files/merge.ts';
import { readAnyTradeFile, tradeFormatOf } from '../../trade-files/read.ts';
import { LEFT_ASIDE } from '../../trade-files/table/columns.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { choice, flag, list, text, type ValuesOf, whole, writtenOption } from '../frame/options.ts';

/** Options of an import that say what trade files leave open. */
export const TRADE_OPTIONS = {
  device: text('ID', 'trade files: the device that they are of'),
  specimen: text(
    'ID',
    'trade files: the specimen, such as "a"; a new one when the device has none of that id',
  ),
  board: list(
    'BOARD',
    'trade files: the board that they are of, such as main; or main=FILE,flex=FILE where files are of several',
  ),
  boardKind: choice('KIND', BOARD_KINDS, {
    help: 'trade files: kind of boards that are new',
    default: 'rigid',
  }),
  opened: text('DATE', 'trade files: when a new specimen was opened'),
  unit: choice('UNIT', Object.keys(LENGTH_UNITS) as LengthUnit[], {
    help: 'trade files: unit of lengths where a list does not say one',
  }),
  column: list(
    'HEADING=FIELD',
    'trade files: what columns of lists hold, where their headings do not tell; several joined by commas; aside for none; a unit may follow the field, as in "X=centreX mil"',
  ),
  mapping: text(
    'ID',
    'trade files: the list mapping of the archive to read lists by; what is said besides comes first',
  ),
  saveMapping: text(
    'ID',
    'trade files: keep what was understood and said of the list as a list mapping of the archive',
  ),
  sheet: text('NAME', 'trade files: the sheet of a workbook, by name or number, where several may be meant'),
  headingRow: whole('N', {
    help: 'trade files: the line or row of the headings, where it is not found',
    min: 1,
    max: 1_048_576,
  }),
  decimal: choice('SIGN', DECIMAL_SIGNS, {
    help: 'trade files: decimal sign of a list whose numbers do not tell',
  }),
  complete: flag('trade files: they are known to be of this very board, so that its nets are complete'),
  despiteContradictions: flag(
    'trade files: merge although traced connections or nets of the archive say otherwise; those stay as they are',
  ),
};
type TradeOptions = ValuesOf<typeof TRADE_OPTIONS>;

/** Options that only trade files take. */
const ONLY_FOR_TRADE = [
  'device',
  'specimen',
  'board',
  'opened',
  'unit',
  'column',
  'mapping',
  'saveMapping',
  'sheet',
  'headingRow',
  'decimal',
] as const;

/**
 * The import that a command line asks for when its files are trade files; undefined for dossiers and catalogues.
 * @throws CasebackError BAD_FILE for files that cannot be read; UsageError when both kinds are given, a file of --board is not among the files, or device or specimen are missing
 */
export async function tradeImportOf(
  paths: readonly string[],
  options: TradeOptions,
  actor: () => string,
  mapping?: ListMapping,
): Promise<TradeImport | undefined> {
  const own = readingOf(options);
  const reading = mapping ? readingBy(mapping, own) : own;
  const isForTrade = ONLY_FOR_TRADE.some((name) => options[name] !== undefined);
  const read: (readonly [string, TradeFile | undefined])[] = [];
  for (const path of paths) read.push([path, await readIfTrade(path, reading)]);
  const unread = isForTrade || read.some(([, file]) => file) ? paths.flatMap(troubleWith) : [];
  if (unread.length > 0) throw badFiles(unread);
  const files = read.flatMap(([path, file]) => (file ? [{ path, file }] : []));
  if (files.length === 0) {
    const given = ONLY_FOR_TRADE.find((name) => options[name] !== undefined);
    if (given === undefined) return undefined;
    const path = paths.find((one) => !isFolder(one));
    throw new UsageError(
      `${writtenOption(given)} is for trade files, and ${path === undefined ? 'a folder holds none' : `${path} is none: its content shows none of the formats`}; lists need a line of headings, which --column names where they are not known`,
    );
  }
  const other = read.find(([, file]) => !file);
  if (other)
    throw new UsageError(
      `${other[0]} is no trade file, but ${files[0].path} is; import dossiers and trade files one after the other`,
    );
  const problems = files.flatMap(({ file }) => file.problems);
  if (problems.length > 0 && options.specimen === undefined) throw badFiles(problems);
  return {
    files: assigned(files, options.board ?? []),
    ...specimenOf(options),
    openedBy: actor(),
    boardKind: options.boardKind,
    complete: options.complete,
    despiteContradictions: options.despiteContradictions,
    ...(options.opened === undefined ? {} : { opened: options.opened }),
  };
}

/**
 * What was understood and said of the list of an import, as a list mapping.
 * @throws UsageError where there is not one list
 */
export function mappingOf(id: string, { files }: TradeImport, options: TradeOptions): ListMapping {
  const lists = files.filter(({ file }) => file.table);
  const [list] = lists;
  if (!list || lists.length > 1)
    throw new UsageError(
      `--save-mapping keeps what was said of one list, and ${lists.length === 0 ? 'none' : `${lists.length}`} of the files ${lists.length === 1 ? 'is' : 'are'} one; import the lists one after the other`,
    );
  const { columns = [], table, file } = list.file;
  const { sheet, headingRow, decimal, unit } = options;
  const record = {
    id,
    title: `Lists such as ${basename(file)}`,
    columns: columns.flatMap(({ heading, field, unit: of, why }) =>
      heading === '' || (field === undefined && why !== LEFT_ASIDE)
        ? []
        : [{ heading, field: field ?? 'aside', ...(of === undefined ? {} : { unit: of }) }],
    ),
    ...(sheet === undefined ? {} : { sheet: table?.sheet ?? sheet }),
    ...(headingRow === undefined ? {} : { headingRow }),
    ...(decimal === undefined ? {} : { decimal }),
    ...(unit === undefined ? {} : { unit }),
    visibility: 'draft',
  };
  const read = listMappingSchema.safeParse(record);
  if (!read.success)
    throw new UsageError(`--save-mapping ${quoted(id)}: ${read.error.issues[0]?.message ?? 'is not valid'}`);
  return read.data;
}

function readingOf({ column, unit, sheet, headingRow, decimal }: TradeOptions): TradeReading {
  return {
    columns: columnsOf(column ?? []),
    ...(unit === undefined ? {} : { unit }),
    ...(sheet === undefined ? {} : { sheet }),
    ...(headingRow === undefined ? {} : { headings: headingRow }),
    ...(decimal === undefined ? {} : { decimal }),
  };
}

/** A specimen may be written whole, `my-band/a`. */
function specimenOf({ device, specimen }: TradeOptions): {
  readonly device: string;
  readonly specimen: string;
} {
  if (specimen === undefined)
    throw new UsageError(
      '--specimen is missing; say of which specimen the files are, such as --device my-band --specimen a',
    );
  const own = recordOfId(specimen);
  const local = own === specimen ? specimen : lastOfId(specimen);
  if (device === undefined && own === specimen)
    throw new UsageError(`--device is missing; say which device ${quoted(specimen)} is a specimen of`);
  const of = device ?? own;
  if (own !== specimen && own !== of)
    throw new UsageError(
      `--specimen ${quoted(specimen)} is not of --device ${quoted(of)}; write ${memberId(of, local)} or ${local}`,
    );
  return { device: of, specimen: local };
}

function assigned(
  files: readonly { readonly path: string; readonly file: TradeFile }[],
  boards: readonly string[],
): readonly AssignedFile[] {
  const byPath = new Map<string, string>();
  let forAll: string | undefined;
  for (const written of boards) {
    const at = written.indexOf('=');
    if (at < 0) {
      if (boards.length > 1)
        throw new UsageError(`--board ${quoted(written)} names no file; write ${written}=FILE`);
      forAll = written;
      continue;
    }
    const [board, path] = [written.slice(0, at), written.slice(at + 1)];
    const meant = files.filter((one) => resolve(one.path) === resolve(path) || basename(one.path) === path);
    if (meant.length !== 1)
      throw new UsageError(
        `--board ${quoted(written)} names a file that is not among ${files.map((one) => one.path).join(', ')}`,
      );
    byPath.set(meant[0].path, board);
  }
  return files.map(({ path, file }) => {
    const board = byPath.get(path) ?? forAll;
    return { file, ...(board === undefined ? {} : { board }) };
  });
}

function columnsOf(written: readonly string[]): ReadonlyMap<string, string> {
  return new Map(
    written.map((one) => {
      const at = one.lastIndexOf('=');
      if (at < 1)
        throw new UsageError(`--column is ${quoted(one)}; write HEADING=FIELD, such as "Part=partNumber"`);
      return [one.slice(0, at), one.slice(at + 1)] as const;
    }),
  );
}

/** What cannot be read here is told of by whoever reads it as a dossier. */
async function readIfTrade(path: string, reading: TradeReading): Promise<TradeFile | undefined> {
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) return undefined;
    if (stat.size <= MAX_FILE_BYTES) return await readAnyTradeFile(readFileSync(path), path, reading);
    const beginning = beginningOf(path);
    const { what } = tooLarge(path, stat.size);
    if (beginning.startsWith('PK\u0003\u0004'))
      throw new CasebackError('BAD_FILE', `${path} ${what}; save the list alone in a workbook of its own`);
    if (tradeFormatOf(beginning, reading) === undefined) return undefined;
    throw new CasebackError(
      'BAD_FILE',
      `${path} ${what}; export it for assembly or test, without copper and drawings`,
    );
  } catch (error) {
    if (!(error instanceof CasebackError) && systemTrouble(error)) return undefined;
    throw error;
  }
}

/** Why a file cannot be read. */
function troubleWith(path: string): readonly Problem[] {
  try {
    if (!statSync(path).isDirectory()) closeSync(openSync(path, 'r'));
    return [];
  } catch (error) {
    const trouble = systemTrouble(error);
    if (!trouble) throw error;
    return [{ file: path, what: trouble.what, fix: 'check the path' }];
  }
}

/** Enough of a large file to tell its format. */
function beginningOf(path: string): string {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(HEAD_BYTES);
    return bytes.subarray(0, readSync(file, bytes, 0, HEAD_BYTES, 0)).toString('utf8');
  } finally {
    closeSync(file);
  }
}
const HEAD_BYTES = 1 << 16;

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

import { BOARD_KINDS } from '../../../model/board.ts';
import type { ListMapping } from '../../../model/list-mapping.ts';
import { CasebackError } from '../../../model/problems.ts';
import { resolved } from '../../../state/resolve.ts';
import type { State } from '../../../state/state.ts';
import type { LengthUnit, TableReading, TradeFile, TradeReading } from '../../../trade-files/board-design.ts';
import type { AssignedFile } from '../../../trade-files/merge.ts';
import type { TradeReport } from '../../../trade-files/report.ts';
import type { DecimalSign } from '../../../trade-files/table/number-text.ts';
import type { SentTradeFile } from '../../files/reading.ts';
import { authorship, entrySource } from '../changes/input.ts';
import { isEditor } from '../permissions.ts';
import type * as Api from '../resolver-types.ts';
import { specimenSource } from '../specimens/sources.ts';
import { enumName, enumWord, onlyGiven } from '../words.ts';

/** Entries of a list in the report that an answer holds. */
const MOST = 500;

/** Trade files into dossiers. */
export const tradeFiles: Api.Resolvers = {
  Mutation: {
    importTradeFiles: async (_root, { input }, context) => {
      const { archive, view, who } = context;
      const { actor, reason } = input;
      const by = authorship({ actor, reason }, who);
      const signal = context.signal();
      const request = {
        files: await assignedFiles(input, mappingOf(input, view), context.limits.designItems, signal),
        device: input.device,
        specimen: input.specimen,
        openedBy: by.actor,
        boardKind: enumWord(BOARD_KINDS, input.boardKind),
        complete: input.isComplete,
        despiteContradictions: input.despiteContradictions,
        ...(typeof input.opened === 'string' ? { opened: input.opened } : {}),
      };
      const options = { audience: view.audience, mayPublish: isEditor(context), signal };
      const { report, entries, last } = input.dryRun
        ? await archive.planTradeFiles(request, by, options)
        : await archive.importTradeFiles(request, by, options);
      const now = archive.state(view.audience);
      const opened = now.specimen(report.specimen);
      return {
        report: reportSource(report),
        entries,
        specimen: opened ? specimenSource(now, opened) : null,
        entry: last ? entrySource(last) : null,
      };
    },
  },
};

/**
 * @param most components, pins and nets in all
 * @throws CasebackError BAD_INPUT for a text of none of the formats; TOO_LARGE; problems of files come with the import
 */
async function assignedFiles(
  { files, unit, decimal, columns }: Api.ImportTradeFilesInput,
  mapping: ListMapping | undefined,
  most: number,
  signal: AbortSignal,
): Promise<readonly AssignedFile[]> {
  const reading: TradeReading = {
    columns: new Map((columns ?? []).map(({ heading, field }) => [heading, field])),
    ...(unit ? { unit: unit.toLowerCase() as LengthUnit } : {}),
    ...(decimal ? { decimal: decimal.toLowerCase() as DecimalSign } : {}),
  };
  const { readingBy } = await import('../../../questions/list-mappings.ts');
  const by = mapping ? readingBy(mapping, reading) : reading;
  const sent = files.map((file) => sentFile(file, by));
  const { readTradeFilesApart } = await import('../../files/read-apart.ts');
  const read = await readTradeFilesApart(sent, signal);
  const items = read.reduce((sum, file) => sum + itemsOf(file), 0);
  if (items > most) {
    const [have, may] = [items, most].map((count) => count.toLocaleString('en'));
    throw new CasebackError(
      'TOO_LARGE',
      `The files have ${have} components, pins and nets; a service takes at most ${may} at once. Import them on its machine: caseback import FILE`,
    );
  }
  return files.map(({ name, board }, at) => {
    const file = read[at];
    if (!file) {
      throw new CasebackError(
        'BAD_INPUT',
        `${name} is no trade file: its content shows none of the formats; a list needs a line of headings, which "columns" names where they are not known`,
      );
    }
    return { file, ...(typeof board === 'string' ? { board } : {}) };
  });
}

/** @throws CasebackError BAD_INPUT for neither text nor bytes, both, and bytes that are not base64 */
function sentFile(file: Api.TradeFileInput, reading: TradeReading): SentTradeFile {
  onlyGiven(file.name, file, ['text', 'content']);
  const { name, text, content, sheet, headingRow } = file;
  const own: TradeReading = {
    ...reading,
    ...(sheet == null ? {} : { sheet }),
    ...(headingRow == null ? {} : { headings: headingRow }),
  };
  if (content == null) return { name, text: text ?? '', reading: own };
  const bytes = Buffer.from(content, 'base64');
  // Node leaves out what is not base64; what was sent has as many characters as its bytes make, line ends apart.
  if (Math.ceil((bytes.length * 4) / 3) !== content.replace(/[=\s]+/gu, '').length)
    throw new CasebackError('BAD_INPUT', `The content of ${name} is not base64 (RFC 4648, section 4)`);
  return { name, bytes, reading: own };
}

/** @throws CasebackError NOT_FOUND for a list mapping that is not there */
function mappingOf({ mapping }: Api.ImportTradeFilesInput, view: State): ListMapping | undefined {
  return mapping == null ? undefined : resolved(view, mapping, ['ListMapping']).thing;
}

function itemsOf(file: TradeFile | undefined): number {
  let items = 0;
  for (const { components, nets } of file?.boards ?? [])
    items += components.reduce((sum, { pins }) => sum + 1 + pins.length, nets.length);
  return items;
}

/** Rows left aside that an answer holds. */
const MOST_SKIPPED = 50;

function tableSource(table: TableReading): Api.TradeTable {
  const { sheet, headings, separator, encoding, decimalSign, rows, firstRows, skipped } = table;
  return {
    sheet: sheet ?? null,
    headingRow: headings,
    separator: separator ? enumName(separator) : null,
    encoding: encoding ?? null,
    decimal: decimalSign ? enumName(decimalSign) : null,
    rowCount: rows,
    firstRows,
    skippedCount: skipped.length,
    skipped: skipped.slice(0, MOST_SKIPPED),
  };
}

function reportSource(report: TradeReport): Api.TradeReport {
  const { proposals, conflicts } = report;
  const differences = report.differences.toSorted(
    (a, b) => Number(b.kind === 'contradiction') - Number(a.kind === 'contradiction'),
  );
  return {
    isNew: report.isNew,
    hasChanges: report.changes,
    files: report.files.map(({ file, format, columns, table, ...one }) => ({
      ...one,
      name: file,
      format: enumName(format),
      columns: columns.map(({ heading, field, unit, sure, suggestion, why }) => ({
        heading,
        field: field ?? null,
        unit: unit ?? null,
        isCertain: sure === undefined ? null : sure === 'certain',
        suggestion: suggestion ?? null,
        why: why ?? null,
      })),
      table: table ? tableSource(table) : null,
    })),
    boards: report.boards.map(({ board, isNew, components, nets }) => ({
      board,
      isNew,
      componentsInFiles: components.inFiles,
      componentsAdded: components.added,
      componentsCompleted: components.completed,
      netsInFiles: nets.inFiles,
      netsAdded: nets.added,
      netsCompleted: nets.completed,
    })),
    proposalCount: proposals.length,
    proposals: proposals.slice(0, MOST).map((one) => ({ ...one, kind: enumName(one.kind) })),
    missing: report.missing,
    differenceCount: differences.length,
    differences: differences.slice(0, MOST).map((one) => ({ ...one, kind: enumName(one.kind) })),
    conflictCount: conflicts.length,
    conflicts: conflicts.slice(0, MOST),
    cautions: report.cautions.map(({ file, line, path, what, fix }) => ({
      file: file ?? null,
      line: line ?? null,
      path: path ?? null,
      what,
      fix: fix ?? null,
    })),
  };
}

import { BOARD_KINDS } from '../../../model/board.ts';
import { CasebackError } from '../../../model/problems.ts';
import type { LengthUnit, TradeFile, TradeReading } from '../../../trade-files/board-design.ts';
import type { AssignedFile } from '../../../trade-files/merge.ts';
import type { TradeReport } from '../../../trade-files/report.ts';
import { authorship, entrySource } from '../changes/input.ts';
import { isEditor } from '../permissions.ts';
import type * as Api from '../resolver-types.ts';
import { specimenSource } from '../specimens/sources.ts';
import { enumName, enumWord } from '../words.ts';

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
        files: await assignedFiles(input, context.limits.designItems, signal),
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
  { files, unit, columns }: Api.ImportTradeFilesInput,
  most: number,
  signal: AbortSignal,
): Promise<readonly AssignedFile[]> {
  const reading: TradeReading = {
    columns: new Map((columns ?? []).map(({ heading, field }) => [heading, field])),
    ...(unit ? { unit: unit.toLowerCase() as LengthUnit } : {}),
  };
  const sent = files.map(({ name, text }) => ({ name, text }));
  const { readTradeFilesApart } = await import('../../files/read-apart.ts');
  const read = await readTradeFilesApart(sent, reading, signal);
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

function itemsOf(file: TradeFile | undefined): number {
  let items = 0;
  for (const { components, nets } of file?.boards ?? [])
    items += components.reduce((sum, { pins }) => sum + 1 + pins.length, nets.length);
  return items;
}

function reportSource(report: TradeReport): Api.TradeReport {
  const { proposals, conflicts } = report;
  const differences = report.differences.toSorted(
    (a, b) => Number(b.kind === 'contradiction') - Number(a.kind === 'contradiction'),
  );
  return {
    isNew: report.isNew,
    hasChanges: report.changes,
    files: report.files.map(({ file, format, columns, ...one }) => ({
      ...one,
      name: file,
      format: enumName(format),
      columns: columns.map(({ heading, field, why }) => ({
        heading,
        field: field ?? null,
        why: why ?? null,
      })),
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

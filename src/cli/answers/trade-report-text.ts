import { toTable } from '../../export/table.ts';
import { formatProblem } from '../../model/problems.ts';
import { type TableReading, TRADE_FORMATS } from '../../trade-files/board-design.ts';
import type { FileReport, TradeReport } from '../../trade-files/report.ts';
import { counted } from './figures.ts';

/** Proposals of one kind that are listed; the rest is counted, and all are in the JSON. */
const LISTED = 12;

const HEADINGS = {
  board: 'Boards, proposed',
  net: 'Nets, proposed by label and pins',
  class: 'Components, proposed with their odds; "caseback identify" confirms or replaces them',
  part: 'Parts of the catalogue, proposed by their number; "caseback identify" confirms or replaces them',
  'not-fitted': 'Places proposed as empty',
  appearance: 'Components that plainly are what hints agree on',
} as const;

/** How trade files were understood and what they bring, to read. */
export function tradeReportText(report: TradeReport): string {
  const { boards, differences, missing, conflicts, cautions } = report;
  return [
    ...report.files.map(fileText),
    section(
      `Dossier of ${report.specimen}${report.isNew ? ', which is new' : ''}`,
      toTable(
        boards.map(({ board, isNew, components, nets }) => ({
          board: isNew ? `${board} (new)` : board,
          components: `${components.inFiles} in files`,
          added: String(components.added),
          completed: String(components.completed),
          nets: `${nets.inFiles} in files`,
          'nets added': String(nets.added),
          'nets completed': String(nets.completed),
        })),
      ),
    ),
    section(
      'Archive and files',
      differences.map(({ kind, what }) => `  ${kind.replaceAll('-', ' ')}: ${what}\n`).join(''),
    ),
    section(
      'The archive says otherwise and stays',
      conflicts
        .map(
          ({ of, field, archive, files }) =>
            `  ${of} ${field}: ${archive} in the archive, ${files} in the files\n`,
        )
        .join(''),
    ),
    ...(Object.keys(HEADINGS) as (keyof typeof HEADINGS)[]).map((kind) => proposalsText(report, kind)),
    section(
      'Missing',
      missing
        .map(({ board, what, count, of }) => {
          const some = of.length === 0 ? '' : ` (${of.join(', ')}${count > of.length ? ' …' : ''})`;
          return `  ${board}: ${what}${of.length === 0 ? '' : `, ${count}`}${some}\n`;
        })
        .join(''),
    ),
    section('Worth a second look', cautions.map((caution) => `  ${formatProblem(caution)}\n`).join('')),
  ]
    .filter((text) => text !== '')
    .join('\n');
}

function section(title: string, text: string): string {
  return text === '' ? '' : `${title}\n${text}`;
}

function fileText({
  file,
  format,
  boards,
  components,
  nets,
  understood,
  columns,
  table,
}: FileReport): string {
  const counts = [counted(components, 'component'), ...(nets > 0 ? [counted(nets, 'net')] : [])].join(', ');
  const lines = [...(table ? tableLines(table) : []), ...understood].map((one) => `  ${one}\n`).join('');
  const hasUnits = columns.some(({ unit }) => unit !== undefined);
  const taken = columns.map(({ heading, field, unit, why }) => ({
    column: heading,
    'taken as': field ?? '-',
    ...(hasUnits ? { unit: unit ?? '' } : {}),
    why: why ?? '',
  }));
  const rows = table ? rowsText(table, columns) : '';
  return `${file}: ${TRADE_FORMATS[format]}, board ${boards.join(', ')}: ${counts}\n${lines}${taken.length > 0 ? toTable(taken) : ''}${rows}`;
}

function tableLines({ sheet, headings, separator, encoding }: TableReading): readonly string[] {
  return [
    sheet === undefined
      ? `headings in line ${headings}, ${separator === 'blanks' ? 'blanks' : `a ${separator}`} between cells; ${encoding}`
      : `sheet "${sheet}", headings in row ${headings}`,
  ];
}

/** The first rows as they were read, and those left aside. */
function rowsText({ firstRows, skipped, sheet }: TableReading, columns: FileReport['columns']): string {
  const place = sheet === undefined ? 'line' : 'row';
  const first = firstRows.map(({ line, cells }) => ({
    [place]: String(line),
    ...Object.fromEntries(
      columns.flatMap(({ field, heading }, at) => (field === undefined ? [] : [[heading, cells[at] ?? '']])),
    ),
  }));
  const aside = skipped.slice(0, LISTED).map(({ line, why }) => `  ${place} ${line} is left aside: ${why}\n`);
  const rest = skipped.length > LISTED ? `  and ${skipped.length - LISTED} more rows\n` : '';
  return `${first.length > 0 ? `First rows\n${toTable(first)}` : ''}${aside.join('')}${rest}`;
}

function proposalsText({ proposals }: TradeReport, kind: keyof typeof HEADINGS): string {
  const of = proposals.filter((one) => one.kind === kind);
  const listed = of
    .slice(0, LISTED)
    .map(({ of: id, proposed, because }) => `  ${id}: ${proposed}; ${because}\n`);
  const rest = of.length > LISTED ? `  and ${of.length - LISTED} more; --format json lists all\n` : '';
  return section(HEADINGS[kind], listed.join('') + rest);
}

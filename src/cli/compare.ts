import { COST_WEIGHTS, WEIGHT_TABLE } from '../compare/align/weights.ts';
import { alignDevices, type DeviceAlignment } from '../compare/alignment.ts';
import { type ComparisonTable, comparisonTable, SECTIONS } from '../compare/comparison-table.ts';
import type { Compared } from '../compare/representative.ts';
import type { Cell } from '../compare/table/cell.ts';
import { toCsv } from '../export/csv.ts';
import type { Row } from '../export/rows.ts';
import { toTable } from '../export/table.ts';
import { writtenUnit } from '../model/written-unit.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { inCell, MEMORY, shortIds } from './words.ts';

export const command: Command = {
  usage:
    'compare DEVICE DEVICE ... [--components] [--sections A,B] [--weights NAME=N,...] [--format table|csv|json]',
  help: `Devices side by side, in the order given; name a specimen (tarn-loop-3/b) where one is meant. Figures first: each cell
is the certain figure (0.95 certain or more) and, where it differs, the expected one in brackets; "-" not present,
"?" not observed.

${DATA_HELP}
  --components      components aligned instead: what plays the same role in one row, what became of it, how certain
                    that is, and why
  --sections A,B    only these: ${SECTIONS.join(', ')}
  --weights ...     weights and limits of the alignment that differ from the defaults:
${Object.entries(WEIGHT_TABLE)
  .map(([name, { default: value, is }]) => `                      ${name}=${value}`.padEnd(42) + is)
  .join('\n')}
                    Only the shares of ${COST_WEIGHTS[0]} to ${COST_WEIGHTS.at(-1)} in their sum count.
  --format table    csv and json have all figures in full, each missing one with its reason
${AUDIENCE_HELP}

  caseback compare tarn-loop-3/a tarn-loop-3/b --components
  caseback compare tarn-loop-1 tarn-loop-4 tarn-loop-6 --sections sensors,battery,boards --format csv`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    components: { type: 'boolean' },
    sections: { type: 'string' },
    weights: { type: 'string' },
    format: { type: 'string' },
  },

  async run(ids, values) {
    if (ids.length === 0) throw new UsageError('name devices, such as tarn-loop-3 tarn-loop-4');
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const sections = textOf(values, 'sections')?.split(',');
    const weights = weightsOf(textOf(values, 'weights'));
    if (values.components && sections) throw new UsageError('--sections does not go with --components');
    if (!values.components && textOf(values, 'weights') !== undefined)
      throw new UsageError('--weights goes with --components');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audienceOf(values));
      if (values.components) {
        const alignment = await alignDevices(view, ids, { weights });
        if (format === 'json') writeJson(alignmentRecord(alignment));
        else
          process.stdout.write(
            format === 'csv' ? toCsv(componentRows(alignment)) : componentTable(alignment),
          );
        return EXIT.fine;
      }
      const table = await comparisonTable(view, ids, { sections });
      if (format === 'json') writeJson({ columns: specimensOf(table.columns), sections: table.sections });
      else process.stdout.write(format === 'csv' ? toCsv(figureRows(table)) : figureTable(table));
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

function weightsOf(written: string | undefined): Record<string, number> {
  return Object.fromEntries(
    (written?.split(',') ?? []).map((one) => {
      const [name, value] = one.split('=');
      if (value === undefined || value.trim() === '' || Number.isNaN(Number(value)))
        throw new UsageError(`--weights: "${one}" is no weight; write for example labels=0.5,part=0.2`);
      return [name.trim(), Number(value)];
    }),
  );
}

function writeJson(answer: unknown): void {
  process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
}

const specimensOf = (columns: readonly Compared[]) => columns.map(({ specimen }) => specimen.id);

/** Sections of which it matters how many devices have something rather than not. */
const SHARED: readonly string[] = ['reuse', 'decisions'];

function figureTable({ columns, sections }: ComparisonTable): string {
  const heads = shortIds(specimensOf(columns));
  return sections
    .filter(({ rows }) => rows.length > 0)
    .map(({ key, label, rows }) => {
      const shared = SHARED.includes(key);
      // Nearly no decision is certain, so that its probability says more than the count of certain ones.
      const written = key === 'decisions' ? probabilityOf : inCell;
      const table = rows.map((row) => ({
        [key === 'decisions' ? `${label}, probability` : label]: row.label,
        unit: row.unit === MEMORY ? '' : writtenUnit(row.unit),
        ...Object.fromEntries(row.cells.map((cell, at) => [heads[at], written(cell, row.unit)])),
        ...(shared ? { 'held by': `${row.heldBy} of ${heads.length}` } : {}),
      }));
      return toTable(table);
    })
    .join('\n');
}

function probabilityOf(cell: Cell): string {
  return cell.missing === null && cell.expected !== null ? cell.expected.toFixed(2) : inCell(cell);
}

/** One row a figure, with what is certain, expected and missing of each device in columns of their own. */
function figureRows({ columns, sections }: ComparisonTable): readonly Row[] {
  const heads = shortIds(specimensOf(columns));
  return sections.flatMap(({ key: section, rows }) =>
    rows.map(({ key, label, unit, cells }) => ({
      section,
      key,
      label,
      unit,
      ...Object.fromEntries(
        cells.flatMap(({ certain, expected, missing, note }, at) => [
          [`${heads[at]} certain`, certain === null ? '' : String(certain)],
          [`${heads[at]} expected`, expected === null ? '' : String(expected)],
          [`${heads[at]} missing`, missing ?? ''],
          [`${heads[at]} note`, note ?? ''],
        ]),
      ),
    })),
  );
}

function componentTable(alignment: DeviceAlignment): string {
  const heads = shortIds(specimensOf(alignment.columns));
  const tallies = alignment.steps.flatMap(({ from, to, tallies: all }) =>
    all.map(({ change, rows, certain, expected }) => ({
      from: heads[from],
      to: heads[to],
      change,
      rows: String(rows),
      certain: String(certain),
      expected: expected.toFixed(1),
    })),
  );
  return `${toTable(componentRows(alignment))}\n${toTable(tallies)}`;
}

function componentRows({ columns, rows }: DeviceAlignment): readonly Row[] {
  const heads = shortIds(specimensOf(columns));
  const two = columns.length === 2;
  return rows.map(({ role, cells, changes }) => ({
    role: role ?? 'not known',
    ...Object.fromEntries(
      cells.map((cell, at) => [
        heads[at],
        cell ? `${cell.component}${cell.part ? ` ${cell.part.id}` : ''}` : '-',
      ]),
    ),
    ...Object.fromEntries(
      changes.flatMap((change, at) => {
        const name = two ? '' : ` to ${heads[at + 1]}`;
        return [
          [`change${name}`, change?.change ?? ''],
          [`certainty${name}`, change ? change.certainty.toFixed(2) : ''],
          ...(two ? [['why', change?.why ?? '']] : []),
        ];
      }),
    ),
  }));
}

function alignmentRecord({ columns, rows, steps, weights }: DeviceAlignment) {
  return { columns: specimensOf(columns), rows, steps, weights };
}

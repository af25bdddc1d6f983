import { COST_WEIGHTS, WEIGHT_TABLE } from '../../compare/align/weights.ts';
import { alignDevices, type DeviceAlignment } from '../../compare/alignment.ts';
import { type ComparisonTable, comparisonTable, SECTIONS } from '../../compare/comparison-table.ts';
import { type Compared, comparedOf } from '../../compare/representative.ts';
import type { Cell } from '../../compare/table/cell.ts';
import { comparisonRows, shortIds } from '../../export/answer-rows.ts';
import type { Row } from '../../export/rows.ts';
import { toTable } from '../../export/table.ts';
import { writtenUnit } from '../../model/written-unit.ts';
import { chartOfComparison } from '../../questions/charts.ts';
import { fixed } from '../../text/rounding.ts';
import { figureCell, MEMORY } from '../answers/figures.ts';
import { isPicture, PICTURE_FORMATS, PICTURE_OPTIONS, writePicture } from '../answers/picture.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { flag, list, readBy } from '../frame/options.ts';

const WEIGHTS_HELP = [
  'weights and limits of the alignment that differ from the defaults:',
  ...Object.entries(WEIGHT_TABLE).map(
    ([name, { default: value, is }]) => `${`  ${name}=${value}`.padEnd(22)}${is}`,
  ),
  `Only the shares of ${COST_WEIGHTS[0]} to ${COST_WEIGHTS.at(-1)} in their sum count.`,
].join('\n');

export const command = defineCommand({
  name: 'compare',
  about:
    'Devices side by side, in the order given; name a specimen (tarn-sennit-3/b) where one is meant. Figures first: each cell is the certain figure (probability 0.95 or more) and, where it differs, the expected one in brackets; "-" is absent, "?" not observed.',
  arguments: [{ name: 'DEVICE', help: 'devices or specimens', many: true }],
  options: {
    components: flag(
      'components aligned instead: what has the same role in one row, what became of it, how certain that is, and why',
    ),
    sections: list('A,B', `only these: ${SECTIONS.join(', ')}; a chart has device by itself`),
    weights: readBy('NAME=N,...', WEIGHTS_HELP, weightsIn),
    ...PICTURE_OPTIONS,
  },
  uses: 'view',
  givesFigures: true,
  formats: ['table', 'csv', 'json', ...PICTURE_FORMATS],
  examples: [
    'compare tarn-sennit-3/a tarn-sennit-3/b --components',
    'compare tarn-sennit-1 tarn-sennit-4 tarn-sennit-6 --sections sensors,battery,boards --format csv',
    'compare tarn-sennit-1 tarn-sennit-4 --sections sensors --format png --out sensors.png',
  ],

  async run(call) {
    const { components, sections, weights } = call.options;
    if (components && sections) throw new UsageError('--sections does not go with --components');
    if (!components && weights) throw new UsageError('--weights goes with --components only');
    const wantsPicture = isPicture(call);
    if (components && wantsPicture)
      throw new UsageError('a chart is of figures; leave --components or --format out');
    const view = await call.view();
    if (wantsPicture) {
      const compared = call.arguments.map((id) => comparedOf(view, id));
      return writePicture(call, view, (source, size) =>
        chartOfComparison(view, compared, { sections: sections ?? ['device'] }, source, size),
      );
    }
    if (components) {
      const alignment = await alignDevices(view, call.arguments, { weights });
      return {
        text: () => componentText(alignment),
        csv: () => componentRows(alignment),
        json: () => ({ ...alignment, columns: specimensOf(alignment.columns) }),
      };
    }
    const table = await comparisonTable(view, call.arguments, { sections });
    return {
      text: () => figureText(table),
      csv: () => comparisonRows(table),
      json: () => ({ columns: specimensOf(table.columns), sections: table.sections }),
    };
  },
});

function weightsIn(written: string, option: string): Record<string, number> {
  return Object.fromEntries(
    written.split(',').map((weight) => {
      const [name, value] = weight.split('=');
      if (value === undefined || value.trim() === '' || Number.isNaN(Number(value)))
        throw new UsageError(`${option}: ${quoted(weight)} is not a valid weight; write labels=0.5,part=0.2`);
      return [name.trim(), Number(value)];
    }),
  );
}

const specimensOf = (columns: readonly Compared[]) => columns.map(({ specimen }) => specimen.id);

/** Sections of which it matters how many devices have something rather than not. */
const SHARED: readonly string[] = ['reuse', 'decisions'];

function figureText({ columns, sections }: ComparisonTable): string {
  const heads = shortIds(specimensOf(columns));
  return sections
    .filter(({ rows }) => rows.length > 0)
    .map(({ key, label, rows }) => {
      const shared = SHARED.includes(key);
      // Nearly no decision is certain, so that its probability says more than the count of certain ones.
      const written = key === 'decisions' ? probabilityOf : figureCell;
      const table = rows.map((row) => ({
        [key === 'decisions' ? `${label}, probability` : label]: row.label,
        unit: row.unit === MEMORY ? '' : writtenUnit(row.unit),
        ...Object.fromEntries(row.cells.map((cell, at) => [heads[at], written(cell, row.unit)])),
        ...(shared ? { 'present in': `${row.presentIn} of ${heads.length}` } : {}),
      }));
      return toTable(table);
    })
    .join('\n');
}

function probabilityOf(cell: Cell): string {
  return cell.missing === null && cell.expected !== null ? fixed(cell.expected, 2) : figureCell(cell);
}

function componentText(alignment: DeviceAlignment): string {
  const heads = shortIds(specimensOf(alignment.columns));
  const tallies = alignment.steps.flatMap(({ from, to, tallies: all }) =>
    all.map(({ change, rows, certain, expected }) => ({
      from: heads[from],
      to: heads[to],
      change,
      rows: String(rows),
      certain: String(certain),
      expected: fixed(expected, 1),
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
        cell ? [cell.component, cell.value, cell.part?.id].filter(Boolean).join(' ') : '-',
      ]),
    ),
    ...Object.fromEntries(
      changes.flatMap((change, at) => {
        const name = two ? '' : ` to ${heads[at + 1]}`;
        return [
          [`change${name}`, change?.change ?? ''],
          [`certainty${name}`, change ? fixed(change.certainty, 2) : ''],
          ...(two ? [['why', change?.why ?? '']] : []),
        ];
      }),
    ),
  }));
}

import { changed } from '../../compare/alignment.ts';
import { SECTIONS, tableOf } from '../../compare/comparison-table.ts';
import { type Generations, generations } from '../../compare/generations.ts';
import { integrationOf } from '../../compare/line/integration.ts';
import { revisionsOf } from '../../compare/line/revisions.ts';
import { keptParts, sightings } from '../../compare/line/sightings.ts';
import { decisionChanges, lineSteps, stepAlignment } from '../../compare/line/steps.ts';
import { comparedOf } from '../../compare/representative.ts';
import { columnOf } from '../../compare/table/column.ts';
import { kindRow } from '../../compare/table/kind-rows.ts';
import { writtenUnit } from '../../model/written-unit.ts';
import { partsAndMakers } from '../../presence/presence.ts';
import { chartOfGenerations, type LineChartKind } from '../../questions/charts.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import { figureCell, MEMORY, rounded } from '../answers/figures.ts';
import { isPicture, PICTURE_FORMATS, PICTURE_OPTIONS, writePicture } from '../answers/picture.ts';
import { asTexts, asValues, type Told, type ToldRow, told, toldWhole } from '../answers/told.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { choice, list } from '../frame/options.ts';

const SUBJECTS = [
  'steps',
  'figures',
  'sensors',
  'parts',
  'makers',
  'kept',
  'decisions',
  'integration',
  'revisions',
] as const;
type Subject = (typeof SUBJECTS)[number];

export const command = defineCommand({
  name: 'generations',
  about:
    'A product line from its first device to its last. Where it splits or merges, a device is in several steps. Figures are certain and, where it differs, expected in brackets; "-" is absent, "?" not observed.',
  arguments: [{ name: 'PRODUCT_LINE', help: 'id of the product line' }],
  options: {
    show: choice('SUBJECT', SUBJECTS, {
      help: [
        'what to list',
        '  steps        what each step kept, replaced, moved, added and removed, and what was not observed',
        '  figures      figures of the sections named with --sections',
        '  sensors      sensors of each kind in each device',
        '  parts        first and last device of each part',
        '  makers       first and last device of each maker',
        '  kept         parts of each device and since when the line has kept them',
        '  decisions    design decisions adopted and dropped in each step',
        '  integration  functions a chip',
        '  revisions    devices of which several specimens were opened, and how these differ',
      ].join('\n'),
      default: 'steps',
    }),
    sections: list('A,B', `of figures: ${SECTIONS.join(', ')} (default: device)`),
    ...PICTURE_OPTIONS,
  },
  uses: 'view',
  givesFigures: true,
  formats: ['table', 'csv', 'json', ...PICTURE_FORMATS],
  examples: ['generations tarn-sennit', 'generations tarn-sennit --show parts --format svg'],

  async run(call) {
    const { show, sections = ['device'] } = call.options;
    if (call.given.has('sections') && show !== 'figures')
      throw new UsageError('--sections goes with --show figures');
    const isDrawn = isPicture(call);
    const chart = CHARTS[show];
    if (isDrawn && !chart)
      throw new UsageError(`--show ${show} has no chart; one shows ${Object.keys(CHARTS).join(', ')}`);
    const view = await call.view();
    const line = generations(view, call.arguments[0]);
    if (isDrawn && chart)
      return writePicture(call, view, (source, size) =>
        chartOfGenerations(
          view,
          line,
          chart,
          { sections: show === 'sensors' ? ['sensors'] : sections },
          source,
          size,
        ),
      );
    const rows = await ROWS[show](view, line, sections);
    return { table: () => asTexts(rows), json: () => asValues(rows) };
  },
});

/** What is shown as a chart. */
const CHARTS: Partial<Record<Subject, LineChartKind>> = {
  steps: 'steps',
  figures: 'figures',
  sensors: 'figures',
  parts: 'parts',
  makers: 'makers',
};

type Rows = (
  view: State,
  line: Generations,
  sections: readonly string[],
) => readonly ToldRow[] | Promise<readonly ToldRow[]>;

const ROWS: Readonly<Record<Subject, Rows>> = {
  async steps(view, { generations: line }) {
    const rows: ToldRow[] = [];
    for (const step of lineSteps(line)) {
      const alignment = await stepAlignment(view, step);
      const tallies = alignment.steps[0].tallies.map(({ change, certain, expected }) => [
        change,
        certainAndExpected(certain, expected),
      ]);
      rows.push({
        from: step.from.id,
        to: step.to.id,
        released: step.to.released,
        ...Object.fromEntries(tallies),
      });
    }
    return rows;
  },

  async figures(view, { generations: line, comparison: { columns } }, sections) {
    const table = await tableOf(view, columns, { sections });
    const rows = table.sections.flatMap((section) => section.rows);
    return line.map(({ device, number }, at) => ({
      generation: toldWhole(number),
      device: device.id,
      released: device.released,
      ...Object.fromEntries(
        rows.map(({ label, unit, cells }) => {
          const written = unit === MEMORY ? '' : writtenUnit(unit);
          const isNamed = written === '' || label.endsWith(written);
          return [
            isNamed ? label : `${label}, ${written}`,
            told(figureCell(cells[at], unit), { ...cells[at], unit }),
          ];
        }),
      ),
    }));
  },

  sensors: (view, { generations: line, comparison: { columns, sensors } }) =>
    line.map(({ device, number }, at) => ({
      generation: toldWhole(number),
      device: device.id,
      released: device.released,
      ...Object.fromEntries(
        sensors.map(({ kind }) => {
          const { cell } = kindRow(columnOf(view, columns[at]), 'sensors', kind);
          return [kind, told(figureCell(cell), cell)];
        }),
      ),
    })),

  parts: (view, line) => sightingRows(view, line, 'parts'),
  makers: (view, line) => sightingRows(view, line, 'makers'),

  kept: (view, { generations: line }) =>
    keptParts(
      line,
      line.map(({ device }) => partsAndMakers(view, device)),
    ).flatMap(({ device, parts }) =>
      parts.map(({ part, probability, since }) => ({
        device: device.id,
        part,
        probability: told(fixed(probability, 2), probability),
        since: since.id,
        released: since.released,
      })),
    ),

  async decisions(view, { generations: line }) {
    const rows: ToldRow[] = [];
    for (const step of lineSteps(line)) {
      for (const one of await decisionChanges(view, step)) {
        rows.push({
          from: step.from.id,
          to: step.to.id,
          decision: one.name,
          change: one.change,
          before: told(fixed(one.before, 2), one.before),
          after: told(fixed(one.after, 2), one.after),
          probability: told(fixed(one.probability, 2), one.probability),
        });
      }
    }
    return rows;
  },

  integration: (view, { generations: line }) =>
    line.map(({ device, number }) => {
      const { chips, functions, functionsAChip, unnamed } = integrationOf(view, comparedOf(view, device.id));
      return {
        generation: toldWhole(number),
        device: device.id,
        chips: certainAndExpected(chips.certain, chips.expected),
        functions: certainAndExpected(functions.certain, functions.expected),
        'functions a chip': told(
          functionsAChip.expected === null ? '?' : fixed(functionsAChip.expected, 2),
          functionsAChip.expected,
        ),
        'chips not named': toldWhole(unnamed),
      };
    }),

  async revisions(view, { generations: line }) {
    const rows: ToldRow[] = [];
    for (const { device } of line) {
      for (const { from, to, alignment } of await revisionsOf(view, device)) {
        const revision = (one: typeof from) => one.specimen.dossier.specimen.revision ?? '';
        rows.push({
          from: from.specimen.id,
          to: to.specimen.id,
          revision: `${revision(from)} to ${revision(to)}`,
          ...Object.fromEntries(
            alignment.steps[0].tallies.map(({ change }) => {
              const { certain, expected } = changed(alignment, 0, change);
              return [change, certainAndExpected(certain, expected)];
            }),
          ),
        });
      }
    }
    return rows;
  },
};

function sightingRows(
  view: State,
  { generations: line }: Generations,
  what: 'parts' | 'makers',
): readonly ToldRow[] {
  const held = line.map(({ device }) => partsAndMakers(view, device));
  return sightings(line, held, (one) => one[what]).map((one) => ({
    [what.slice(0, -1)]: one.id,
    first: one.first.id,
    last: one.last.id,
    'may be since': one.maybeSince?.id ?? '',
    'may be until': one.maybeUntil?.id ?? '',
    devices: certainAndExpected(one.certain, one.expected),
    current: one.current ? 'yes' : 'no',
  }));
}

function certainAndExpected(certain: number, expected: number): Told {
  const written = rounded(Number(fixed(expected, 2)));
  return told(written === String(certain) ? written : `${certain} (${written})`, { certain, expected });
}

import { changed } from '../../compare/alignment.ts';
import { type Generations, generations } from '../../compare/generations.ts';
import { integrationOf } from '../../compare/line/integration.ts';
import { revisionsOf } from '../../compare/line/revisions.ts';
import { keptParts, sightings } from '../../compare/line/sightings.ts';
import { decisionChanges, lineSteps, stepAlignment } from '../../compare/line/steps.ts';
import { comparedOf } from '../../compare/representative.ts';
import { columnOf } from '../../compare/table/column.ts';
import { kindRow } from '../../compare/table/kind-rows.ts';
import type { Row } from '../../export/rows.ts';
import { partsAndMakers } from '../../presence/presence.ts';
import type { State } from '../../state/state.ts';
import { figureCell, rounded } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { choice } from '../frame/options.ts';

const SUBJECTS = [
  'steps',
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
    'A product line from its first device to its last. Where it splits or merges, a device is in several steps. Figures are certain and, where it differs, expected in brackets; "-" is not present, "?" not observed.',
  arguments: [{ name: 'PRODUCT_LINE', help: 'id of the product line' }],
  options: {
    show: choice('SUBJECT', SUBJECTS, {
      help: [
        'what to list',
        '  steps        what each step kept, replaced, moved, added and removed',
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
  },
  uses: 'view',
  givesFigures: true,
  formats: ['table', 'csv', 'json'],
  examples: ['generations tarn-sennit', 'generations tarn-sennit --show parts --format csv'],

  async run(call) {
    const view = await call.view();
    const rows = await ROWS[call.options.show](view, generations(view, call.arguments[0]));
    return { table: () => rows, json: () => rows };
  },
});

type Rows = (view: State, line: Generations) => readonly Row[] | Promise<readonly Row[]>;

const ROWS: Readonly<Record<Subject, Rows>> = {
  async steps(view, { generations: line }) {
    const rows: Row[] = [];
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

  sensors: (view, { generations: line, comparison: { columns, sensors } }) =>
    line.map(({ device, number }, at) => ({
      generation: String(number),
      device: device.id,
      released: device.released,
      ...Object.fromEntries(
        sensors.map(({ kind }) => {
          return [kind, figureCell(kindRow(columnOf(view, columns[at]), 'sensors', kind).cell)];
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
        probability: probability.toFixed(2),
        since: since.id,
        released: since.released,
      })),
    ),

  async decisions(view, { generations: line }) {
    const rows: Row[] = [];
    for (const step of lineSteps(line)) {
      for (const one of await decisionChanges(view, step)) {
        rows.push({
          from: step.from.id,
          to: step.to.id,
          decision: one.name,
          change: one.change,
          before: one.before.toFixed(2),
          after: one.after.toFixed(2),
          probability: one.probability.toFixed(2),
        });
      }
    }
    return rows;
  },

  integration: (view, { generations: line }) =>
    line.map(({ device, number }) => {
      const { chips, functions, functionsAChip, unnamed } = integrationOf(view, comparedOf(view, device.id));
      return {
        generation: String(number),
        device: device.id,
        chips: certainAndExpected(chips.certain, chips.expected),
        functions: certainAndExpected(functions.certain, functions.expected),
        'functions a chip': functionsAChip.expected === null ? '?' : functionsAChip.expected.toFixed(2),
        'chips not named': String(unnamed),
      };
    }),

  async revisions(view, { generations: line }) {
    const rows: Row[] = [];
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
): readonly Row[] {
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

function certainAndExpected(certain: number, expected: number): string {
  const written = rounded(Number(expected.toFixed(2)));
  return written === String(certain) ? written : `${certain} (${written})`;
}

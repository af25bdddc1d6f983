import { changed } from '../compare/alignment.ts';
import { type Generations, generations } from '../compare/generations.ts';
import { holdingsOf } from '../compare/line/holdings.ts';
import { integrationOf } from '../compare/line/integration.ts';
import { revisionsOf } from '../compare/line/revisions.ts';
import { keptParts, sightings } from '../compare/line/sightings.ts';
import { decisionChanges, lineSteps, stepAlignment } from '../compare/line/steps.ts';
import { comparedOf } from '../compare/representative.ts';
import { columnOf } from '../compare/table/column.ts';
import { kindRow } from '../compare/table/kind-rows.ts';
import { toCsv } from '../export/csv.ts';
import type { Row } from '../export/rows.ts';
import { toTable } from '../export/table.ts';
import type { View } from '../state/view.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { inCell, rounded } from './words.ts';

const SHOWS = [
  'steps',
  'sensors',
  'parts',
  'makers',
  'kept',
  'decisions',
  'integration',
  'revisions',
] as const;
type Show = (typeof SHOWS)[number];

export const command: Command = {
  usage: `generations LINE [--show ${SHOWS.join('|')}] [--format table|csv|json]`,
  help: `A product line from its first device to its last. Where it splits or merges, a device stands in several steps.

${DATA_HELP}
  --show steps        what each step kept, replaced, moved, added and removed, as certain and expected (default)
  --show sensors      sensors of each kind in each device, as certain and expected; "-" not present, "?" not observed
  --show parts        first and last device of each part, or of each maker with --show makers
  --show kept         parts of each device and since when the line has kept them
  --show decisions    design decisions adopted and dropped in each step
  --show integration  functions a chip
  --show revisions    devices of which several specimens were opened, and how these differ
  --format table      or csv or json
${AUDIENCE_HELP}

  caseback generations tarn-loop
  caseback generations tarn-loop --show parts --format csv`,
  options: { ...DATA_OPTION, ...AUDIENCE_OPTION, show: { type: 'string' }, format: { type: 'string' } },
  words: 1,

  async run([productLine], values) {
    if (productLine === undefined) throw new UsageError('name a product line, such as tarn-loop');
    const show = choiceOf(values, 'show', SHOWS, 'steps');
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audienceOf(values));
      const rows = await ROWS[show](view, generations(view, productLine));
      if (format === 'json') process.stdout.write(`${JSON.stringify(rows, null, 2)}\n`);
      else process.stdout.write(format === 'csv' ? toCsv(rows) : toTable(rows));
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

type Rows = (view: View, line: Generations) => readonly Row[] | Promise<readonly Row[]>;

const ROWS: Readonly<Record<Show, Rows>> = {
  async steps(view, { generations: line }) {
    const rows: Row[] = [];
    for (const step of lineSteps(line)) {
      const alignment = await stepAlignment(view, step);
      const tallies = alignment.steps[0].tallies.map(({ change, certain, expected }) => [
        change,
        sureAndLikely(certain, expected),
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
          return [kind, inCell(kindRow(columnOf(view, columns[at]), 'sensors', kind).cell)];
        }),
      ),
    })),

  parts: (view, line) => sightingRows(view, line, 'parts'),
  makers: (view, line) => sightingRows(view, line, 'makers'),

  kept: (view, { generations: line }) =>
    keptParts(
      line,
      line.map(({ device }) => holdingsOf(view, device)),
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
        chips: sureAndLikely(chips.certain, chips.expected),
        functions: sureAndLikely(functions.certain, functions.expected),
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
              return [change, sureAndLikely(certain, expected)];
            }),
          ),
        });
      }
    }
    return rows;
  },
};

function sightingRows(
  view: View,
  { generations: line }: Generations,
  what: 'parts' | 'makers',
): readonly Row[] {
  const held = line.map(({ device }) => holdingsOf(view, device));
  return sightings(line, held, (one) => one[what]).map((one) => ({
    [what.slice(0, -1)]: one.id,
    first: one.first.id,
    last: one.last.id,
    'may be since': one.maybeSince?.id ?? '',
    'may be until': one.maybeUntil?.id ?? '',
    devices: sureAndLikely(one.certain, one.expected),
    current: one.current ? 'yes' : 'no',
  }));
}

function sureAndLikely(certain: number, expected: number): string {
  const likely = rounded(Number(expected.toFixed(2)));
  return likely === String(certain) ? likely : `${certain} (${likely})`;
}

import type { Generation, Generations } from '../../../compare/generations.ts';
import type { Sighting } from '../../../compare/line/sightings.ts';
import type { LineStep } from '../../../compare/line/steps.ts';
import { chartOfGenerations, type LineChartKind } from '../../../questions/charts.ts';
import {
  alignedStep,
  decisionsChanged,
  generationsOf,
  integrationOfDevice,
  partsKept,
  revisionsOfDevice,
  sightingsAlong,
  stepsAlong,
} from '../../../questions/comparison.ts';
import { deviceToCompare } from '../../../questions/devices.ts';
import type { State } from '../../../state/state.ts';
import { chartSource, sizeOf } from '../charts/charts.ts';
import { type Seen, viewOf } from '../context.ts';
import type { Resolvers } from '../resolver-types.ts';
import {
  deviceSource,
  makerSource,
  maybe,
  partSource,
  patternSource,
  productLineSource,
} from '../sources.ts';
import { specimenSource } from '../specimens/sources.ts';
import { enumWord } from '../words.ts';
import { alignmentSource, comparisonSource, sectionKeys, weightsIn } from './comparison.ts';

const CHARTS: readonly LineChartKind[] = ['steps', 'figures', 'parts', 'makers'];

/** A product line as its resolvers see it. */
export type GenerationsSource = Seen<{ readonly answer: Generations; readonly line: readonly Generation[] }>;
/** A device of a line, with the line. */
export type GenerationSource = Generation & Seen<{ readonly line: readonly Generation[] }>;
/** A step of a line. */
export type GenerationStepSource = Seen<{ readonly step: LineStep }>;

function sightingSource(
  view: State,
  { id: _, current, first, last, maybeSince, maybeUntil, ...rest }: Sighting,
) {
  return {
    ...rest,
    isCurrent: current,
    first: deviceSource(view, first),
    last: deviceSource(view, last),
    maybeSince: maybe(view, maybeSince, deviceSource),
    maybeUntil: maybe(view, maybeUntil, deviceSource),
  };
}

/** Product lines from their first device to their last. */
export const generations: Resolvers = {
  Query: {
    generations: async (root, { productLine }, context) => {
      const view = viewOf(root, context);
      const answer = await generationsOf(view, productLine);
      const line = answer.generations;
      return {
        view,
        answer,
        line,
        productLine: productLineSource(view, answer.productLine),
        generations: line.map((one) => ({ ...one, view, line })),
        comparison: comparisonSource(view, answer.comparison.columns),
      };
    },
  },
  Generations: {
    chart: ({ view, answer }, { of, sections, size }, context) =>
      chartOfGenerations(
        view,
        answer,
        enumWord(CHARTS, of),
        { sections: sectionKeys(sections), signal: context.signal() },
        chartSource(view),
        sizeOf(size),
      ),
    steps: async ({ view, line }) => (await stepsAlong(line)).map((step) => ({ step, view })),
    parts: async ({ view, line }) =>
      (await sightingsAlong(view, line, 'parts')).map((one) => ({
        ...sightingSource(view, one),
        part: maybe(view, view.part(one.id), partSource),
      })),
    makers: async ({ view, line }) =>
      (await sightingsAlong(view, line, 'makers')).map((one) => ({
        ...sightingSource(view, one),
        maker: maybe(view, view.maker(one.id), makerSource),
      })),
  },
  Generation: {
    device: ({ view, device }) => deviceSource(view, device),
    predecessors: ({ view, predecessors }) => predecessors.map((one) => deviceSource(view, one)),
    successors: ({ view, successors }) => successors.map((one) => deviceSource(view, one)),
    keptParts: async ({ view, line, device }) =>
      (await partsKept(view, line, device)).map(({ part, probability, since }) => ({
        part: maybe(view, view.part(part), partSource),
        probability,
        since: deviceSource(view, since),
      })),
    integration: async ({ view, device }) => {
      const { chips, functions, functionsAChip, unnamed } = await integrationOfDevice(
        view,
        deviceToCompare(view, device.id),
      );
      return {
        certainChips: chips.certain,
        expectedChips: chips.expected,
        certainFunctions: functions.certain,
        expectedFunctions: functions.expected,
        certainFunctionsAChip: functionsAChip.certain,
        expectedFunctionsAChip: functionsAChip.expected,
        unnamed,
      };
    },
    revisions: async ({ view, device }, _args, context) => {
      const revisions = await revisionsOfDevice(view, device, context.signal());
      return Promise.all(
        revisions.map(async ({ from, to, differs, alignment }) => ({
          from: specimenSource(view, from.specimen),
          to: specimenSource(view, to.specimen),
          isChanged: differs,
          alignment: await alignmentSource(view, alignment),
        })),
      );
    },
  },
  GenerationStep: {
    from: ({ view, step }) => deviceSource(view, step.from),
    to: ({ view, step }) => deviceSource(view, step.to),
    alignment: async ({ view, step }, { weights }, context) => {
      const options = { weights: weightsIn(weights), signal: context.signal() };
      return alignmentSource(view, await alignedStep(view, step, options));
    },
    decisions: async ({ view, step }, _args, context) =>
      (await decisionsChanged(view, step, context.signal())).map(
        ({ patternId, change, certain, ...rest }) => ({
          ...rest,
          isCertain: certain,
          adopted: change === 'adopted',
          pattern: maybe(view, view.pattern(patternId), patternSource),
        }),
      ),
  },
};

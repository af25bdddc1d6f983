import { type Generation, generations } from '../../compare/generations.ts';
import { type Holdings, holdingsOf } from '../../compare/line/holdings.ts';
import { integrationOf } from '../../compare/line/integration.ts';
import { type Revision, revisionsOf } from '../../compare/line/revisions.ts';
import { keptParts, type Sighting, sightings } from '../../compare/line/sightings.ts';
import { decisionChanges, type LineStep, lineSteps, stepAlignment } from '../../compare/line/steps.ts';
import { comparedOf } from '../../compare/representative.ts';
import type { View } from '../../state/view.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import {
  deviceSource,
  makerSource,
  maybe,
  partSource,
  patternSource,
  productLineSource,
} from '../sources/catalogue.ts';
import { specimenSource } from '../sources/specimen.ts';
import { lineSchema } from './line-schema.ts';
import { alignmentSource, type Compares, comparisonSource, type WeightsInput, weightsOf } from './sources.ts';

interface Line extends Compares {
  readonly line: readonly Generation[];
}
type GenerationSource = Generation & Line;

export const line: Domain = {
  schema: lineSchema,
  resolvers: {
    Query: {
      generations: (root: Root, { productLine }: { productLine: string }, context: Context) => {
        const view = viewOf(root, context);
        const answer = generations(view, productLine);
        const all = answer.generations;
        return {
          view,
          line: all,
          productLine: productLineSource(view, answer.productLine),
          generations: all.map((one) => ({ ...one, view, line: all })),
          comparison: comparisonSource(view, answer.comparison.columns),
        };
      },
    },
    Generations: {
      steps: ({ view, line: all }: Line) => lineSteps(all).map((step) => ({ ...step, view })),
      parts: ({ view, line: all }: Line) =>
        sightings(all, heldAlong(view, all), ({ parts }) => parts).map((one) => ({
          ...sightingSource(view, one),
          part: maybe(view, view.part(one.id), partSource),
        })),
      makers: ({ view, line: all }: Line) =>
        sightings(all, heldAlong(view, all), ({ makers }) => makers).map((one) => ({
          ...sightingSource(view, one),
          maker: maybe(view, view.maker(one.id), makerSource),
        })),
    },
    Generation: {
      device: ({ view, device }: GenerationSource) => deviceSource(view, device),
      predecessors: ({ view, predecessors }: GenerationSource) =>
        predecessors.map((one) => deviceSource(view, one)),
      successors: ({ view, successors }: GenerationSource) =>
        successors.map((one) => deviceSource(view, one)),
      keptParts: ({ view, line: all, device }: GenerationSource) => {
        const own = keptParts(all, heldAlong(view, all)).find((one) => one.device.id === device.id);
        return (own?.parts ?? []).map(({ part, probability, since }) => ({
          part: maybe(view, view.part(part), partSource),
          probability,
          since: deviceSource(view, since),
        }));
      },
      integration: ({ view, device }: GenerationSource) => {
        const { chips, functions, functionsAChip, unnamed } = integrationOf(
          view,
          comparedOf(view, device.id),
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
      revisions: async ({ view, device }: GenerationSource, _: unknown, context: Context) => {
        const all = await revisionsOf(view, device, { signal: context.signal() });
        return all.map((one) => ({ ...one, view }));
      },
    },
    GenerationStep: {
      from: ({ view, from }: LineStep & Compares) => deviceSource(view, from),
      to: ({ view, to }: LineStep & Compares) => deviceSource(view, to),
      alignment: async (
        { view, ...step }: LineStep & Compares,
        { weights }: { weights?: WeightsInput },
        context: Context,
      ) =>
        alignmentSource(
          view,
          await stepAlignment(view, step, { weights: weightsOf(weights), signal: context.signal() }),
        ),
      decisions: async ({ view, ...step }: LineStep & Compares, _: unknown, context: Context) =>
        (await decisionChanges(view, step, context.signal())).map(({ patternId, change, ...rest }) => ({
          ...rest,
          adopted: change === 'adopted',
          pattern: maybe(view, view.pattern(patternId), patternSource),
        })),
    },
    HardwareRevision: {
      from: ({ view, from }: Revision & Compares) => specimenSource(view, from.specimen),
      to: ({ view, to }: Revision & Compares) => specimenSource(view, to.specimen),
      alignment: ({ view, alignment }: Revision & Compares) => alignmentSource(view, alignment),
    },
  },
  weights: {
    'Query.generations': 500,
    'Generations.parts': 200,
    'Generations.makers': 200,
    'Generation.keptParts': 100,
    'Generation.integration': 20,
    'Generation.revisions': 200,
    'GenerationStep.alignment': 200,
    'GenerationStep.decisions': 500,
  },
};

const held = new WeakMap<readonly Generation[], readonly Holdings[]>();

/** What each device of a line holds, worked out once an answer. */
function heldAlong(view: View, all: readonly Generation[]): readonly Holdings[] {
  const holdings = held.get(all) ?? all.map(({ device }) => holdingsOf(view, device));
  held.set(all, holdings);
  return holdings;
}

function sightingSource(view: View, { id: _, first, last, maybeSince, maybeUntil, ...rest }: Sighting) {
  return {
    ...rest,
    first: deviceSource(view, first),
    last: deviceSource(view, last),
    maybeSince: maybe(view, maybeSince, deviceSource),
    maybeUntil: maybe(view, maybeUntil, deviceSource),
  };
}

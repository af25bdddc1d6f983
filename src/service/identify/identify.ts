import type { Authorship } from '../../archive.ts';
import { nextObservationsUnder } from '../../decisions/next-observations.ts';
import type { Calibration } from '../../identification/calibration.ts';
import { partsNumbered } from '../../identification/part-numbers.ts';
import { type CandidateOdds, type Posterior, weightInDecibans } from '../../identification/posterior.ts';
import {
  type Candidates,
  calibrationOf,
  candidatesOf,
  identifierOf,
  type PlacedObservation,
} from '../../identification/questions.ts';
import { type ReadMarking, readMarking } from '../../identification/read-marking.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { judgementSchema } from '../../model/dossier.ts';
import { lastOfId, specimenOfId } from '../../model/ids.ts';
import { formatMarking, MarkingError } from '../../model/marking.ts';
import { CasebackError } from '../../model/problems.ts';
import type { View } from '../../state/view.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumName } from '../base/enums.ts';
import { authorship, recordOf } from '../changes/input.ts';
import { makerSource, maybe, partSource } from '../sources/catalogue.ts';
import { type ComponentSource, componentSource } from '../sources/component.ts';
import { findInside } from '../sources/find.ts';
import { schema } from './schema.ts';

/** Characters of a marking. */
const LONGEST_MARKING = 500;

interface Seen {
  readonly view: View;
}

function bounded(first: number, most: number): number {
  if (first < 1 || first > most)
    throw new CasebackError('BAD_INPUT', `first is ${first}; it must be 1 to ${most}`);
  return first;
}

const likeliest = (weights: ReadonlyMap<string, number>) => [...weights].sort((a, b) => b[1] - a[1]);

async function readText(view: View, text: string, released: string | null | undefined) {
  if (text.length > LONGEST_MARKING)
    throw new CasebackError('TOO_LARGE', `text has ${text.length} characters; at most ${LONGEST_MARKING}`);
  const context = { thisYear: new Date().getUTCFullYear(), ...(released ? { released } : {}) };
  try {
    return { ...readMarking(text, context), view, given: text };
  } catch (error) {
    if (error instanceof MarkingError) throw new CasebackError('BAD_INPUT', error.message);
    throw error;
  }
}

export const identify: Domain = {
  schema,
  resolvers: {
    Query: {
      candidates: async (root: Root, { component }: { component: string }, context: Context) => {
        const view = viewOf(root, context);
        return { ...(await candidatesOf(view, component)), view };
      },
      nextObservations: async (
        root: Root,
        { of, first, destructive }: { of: string; first: number; destructive: boolean },
        context: Context,
      ) => {
        const view = viewOf(root, context);
        const most = bounded(first, 200);
        const all = await nextObservationsUnder(view, of, context.signal());
        return all
          .filter(({ method }) => destructive || !method.destructive)
          .slice(0, most)
          .map((one) => ({ ...one, view }));
      },
      readMarking: (
        root: Root,
        { text, released }: { text: string; released?: string | null },
        context: Context,
      ) => readText(viewOf(root, context), text, released),
      calibration: async (
        root: Root,
        { sample, seed }: { sample?: number | null; seed: number },
        context: Context,
      ) => {
        const view = viewOf(root, context);
        if (sample !== undefined && sample !== null && sample < 1)
          throw new CasebackError('BAD_INPUT', `sample is ${sample}; it must be 1 or more`);
        if (seed < 0) throw new CasebackError('BAD_INPUT', `seed is ${seed}; it must be 0 or more`);
        return (await calibrationOf(view, { sample: sample ?? undefined, seed })) ?? null;
      },
    },
    Component: {
      candidates: async ({ view, id }: ComponentSource) => ({ ...(await candidatesOf(view, id)), view }),
    },
    Candidates: {
      component: ({ view, opened, component }: Candidates & Seen) => componentSource(view, opened, component),
      state: ({ state }: Candidates) => enumName(state),
      parts: ({ view, odds }: Candidates & Seen, { first }: { first: number }) =>
        odds.candidates.slice(0, bounded(first, 100)).map((one) => ({ ...one, odds, view })),
      none: ({ odds }: Candidates) => odds.none,
      categories: ({ odds }: Candidates) =>
        likeliest(odds.categories).map(([term, probability]) => ({ term, probability })),
      makers: ({ view, odds }: Candidates & Seen) =>
        likeliest(odds.makers).flatMap(([id, probability]) => {
          const maker = maybe(view, view.maker(id), makerSource);
          return maker ? [{ maker, probability }] : [];
        }),
    },
    PossiblePart: {
      part: ({ view, part }: CandidateOdds & Seen) => partSource(view, part),
      evidence: ({ part, odds }: CandidateOdds & { readonly odds: Posterior }) =>
        odds.evidenceFor(partIdOf(part)).map((one) => ({ ...one, kind: enumName(one.kind) })),
    },
    NextObservation: {
      component: ({ view, placed }: PlacedObservation & Seen) =>
        componentSource(view, placed.opened, placed.component),
      action: ({ method }: PlacedObservation) => method.name,
      kind: ({ method }: PlacedObservation) => enumName(method.reads),
      bits: ({ gainBits }: PlacedObservation) => gainBits,
      minutes: ({ method }: PlacedObservation) => method.minutes,
      destructive: ({ method }: PlacedObservation) => method.destructive,
    },
    MarkingReading: {
      numbered: ({ view, given }: Seen & { readonly given: string }) =>
        partsNumbered(view, given).map((part) => partSource(view, part)),
      text: ({ marking }: ReadMarking) => formatMarking(marking),
      matches: async ({ view, marking }: ReadMarking & Seen) =>
        (await identifierOf(view)).matches(marking, 10).flatMap(({ part: id, template, logRatio }) => {
          const part = maybe(view, view.part(id), partSource);
          return part ? [{ part, marking: template, decibans: weightInDecibans(logRatio) }] : [];
        }),
    },
    ReliabilityBin: {
      low: ({ interval }: Calibration['reliability'][number]) => interval?.low ?? null,
      high: ({ interval }: Calibration['reliability'][number]) => interval?.high ?? null,
    },
    Mutation: {
      judgeIdentification: async (
        _root: unknown,
        {
          component: id,
          part,
          decibans,
          ...by
        }: Authorship & { component: string; part: string; decibans: number },
        { archive, view }: Context,
      ) => {
        const { actor, reason } = authorship(by);
        const [specimen, component] = [specimenOfId(id), lastOfId(id)];
        const today = new Date().toISOString().slice(0, 10);
        const judgement = recordOf(
          judgementSchema,
          { component, part, decibans, by: actor, reason, on: today },
          '',
        );
        const entry = await archive.judgeIdentification(
          specimen,
          judgement,
          { actor, reason },
          view.audience,
        );
        const opened = view.specimen(specimen);
        return { entry, component: opened ? findInside(view, opened, component) : null };
      },
      withdrawObservation: async (
        _root: unknown,
        { specimen, observation, ...by }: Authorship & { specimen: string; observation: string },
        { archive, view }: Context,
      ) => {
        const entry = await archive.withdrawObservation(specimen, observation, authorship(by), view.audience);
        const opened = view.specimen(specimen);
        return { entry, observation: opened ? findInside(view, opened, observation) : null };
      },
    },
  },
  weights: {
    'Query.candidates': 50,
    'Component.candidates': 50,
    'Query.nextObservations': 2_000,
    'Query.readMarking': 20,
    'Query.calibration': 50_000,
  },
};

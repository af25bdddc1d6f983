import type { FastifyBaseLogger } from 'fastify';
import type { Generations } from '../../compare/generations.ts';
import { SharedWork } from '../../identification/shared-work.ts';
import type { Publication } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import type { PatternAnswer } from '../../patterns/answer.ts';
import { generationsOf } from '../../questions/comparison.ts';
import { findPattern } from '../../questions/patterns.ts';
import { type Summary, summaryOf } from '../../questions/summary.ts';
import { trendOf } from '../../questions/trends.ts';
import type { State } from '../../state/state.ts';
import type { TrendSeries } from '../../trends/answer.ts';

const PATTERN = 'MATCH (s:Sensor)-[:CONNECTS]-(a:AnalogueFrontEnd|Amplifier) RETURN s, a';

/** The three questions of the start page, in words and as a client would send them. */
export const QUESTIONS = {
  pattern: {
    heading: 'Which devices share a pattern?',
    words:
      'Here: a sensor whose signal goes straight to an amplifier or an analogue front end. A pattern is written in a read-only subset of GQL (ISO/IEC 39075).',
    text: PATTERN,
    query: `{
  findPattern(text: ${JSON.stringify(PATTERN)}) {
    totalCount
    certainCount
    expectedCount
    nodes {
      device { name released }
      isCertain
      probability
      matches(first: 3) { nodes { probability bindings { variable ids } } }
    }
  }
}`,
  },
  line: {
    heading: 'How did a product line change?',
    words: 'Here: sensors of each kind over the generations of one line.',
    query: (productLine: string) => `{
  generations(productLine: ${JSON.stringify(productLine)}) {
    generations { number device { name released } }
    comparison { sensors { kind meaning counts { certain expected possible } } }
  }
}`,
  },
  share: {
    heading: 'What figure can go into a trend publication?',
    words: 'Here: the share of devices with a pressure sensor, by year of release.',
    category: 'PressureSensor',
    query: `{
  trend(of: { share: { category: "PressureSensor" } }, per: YEAR) {
    total {
      total { n notObserved value interval { low high } }
      periods { period n notObserved certain expected value interval { low high } }
      verdict { sentence }
    }
    cautions
  }
}`,
  },
} as const;

/** What the start page shows, asked of the archive as it stands. */
export interface StartAnswers {
  readonly summary: Summary;
  readonly pattern: PatternAnswer | { readonly failed: string };
  /** Names of devices, by id, for the matches of the pattern. */
  readonly names: ReadonlyMap<string, string>;
  readonly line: Generations | undefined;
  /** The share over the years: the very answer of a trend. */
  readonly share: TrendSeries;
  /** Visible publications, by title. */
  readonly publications: readonly Publication[];
}

/**
 * Asks the questions of the start page. They are asked once for each state, however many want the page, and end when all of these
 * have gone; the answer is kept with its state.
 */
export function startAnswers(
  log: FastifyBaseLogger,
): (view: State, signal: AbortSignal) => Promise<StartAnswers> {
  const kept = new WeakMap<State, SharedWork<StartAnswers>>();
  return (view, signal) => {
    let shared = kept.get(view);
    if (!shared) {
      shared = new SharedWork();
      kept.set(view, shared);
    }
    return shared.of('start', signal, (ended) => ask(view, ended, log));
  };
}

async function ask(view: State, signal: AbortSignal, log: FastifyBaseLogger): Promise<StartAnswers> {
  const question = { text: QUESTIONS.pattern.text, signal };
  const pattern = await findPattern(view, question).catch((error: unknown) => {
    signal.throwIfAborted();
    return { failed: reasonOf(error, log) };
  });
  signal.throwIfAborted();
  const shown = 'failed' in pattern ? [] : pattern.devices;
  const productLine = longestLine(view);
  const line = productLine === undefined ? undefined : await generationsOf(view, productLine);
  signal.throwIfAborted();
  return {
    summary: summaryOf(view),
    pattern,
    names: new Map(shown.map(({ deviceId }) => [deviceId, view.device(deviceId)?.name ?? deviceId])),
    line,
    share: (await trendOf(view, { of: { share: { category: QUESTIONS.share.category } } }, signal)).total,
    publications: view.publications().toSorted((a, b) => (a.title < b.title ? -1 : 1)),
  };
}

/** The visible line with most devices; of equal ones the first by id. */
function longestLine(view: State): string | undefined {
  const sizes = new Map<string, number>();
  for (const { productLine } of view.devices()) {
    if (productLine !== undefined) sizes.set(productLine, (sizes.get(productLine) ?? 0) + 1);
  }
  return [...sizes].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0];
}

/** Only our own errors may be shown; others go to the log. */
function reasonOf(error: unknown, log: FastifyBaseLogger): string {
  if (error instanceof CasebackError) return error.message;
  log.error({ err: error }, 'the pattern of the start page could not be searched for');
  return 'The pattern could not be searched for.';
}

import type { FastifyBaseLogger } from 'fastify';
import type { Archive } from '../../../archive.ts';
import { generations } from '../../../compare/generations.ts';
import type { Publication } from '../../../model/catalogue.ts';
import { CasebackError } from '../../../model/problems.ts';
import type { PatternAnswer } from '../../../patterns/answer.ts';
import type { View } from '../../../state/view.ts';
import { type Summary, summarise } from '../../overview/summary.ts';
import { QUESTIONS } from './questions.ts';
import { type YearShare, yearlyShares } from './yearly.ts';

/** What the start page shows, asked of the archive as it stands. */
export interface StartAnswers {
  readonly summary: Summary;
  readonly pattern: PatternAnswer | { readonly failed: string };
  /** Names of devices, by id, for the matches of the pattern. */
  readonly names: ReadonlyMap<string, string>;
  readonly line: ReturnType<typeof generations> | undefined;
  readonly years: readonly YearShare[];
  /** Visible publications, by title. */
  readonly publications: readonly Publication[];
}

/**
 * Answers are kept this long at most, ms. Any change of the archive renews them at once; only the end of an
 * embargo comes without one, and may show up here this much later.
 */
const KEPT_FOR = 600_000;

/** Asks the questions of the start page; an answer is kept while the archive has not changed. */
export function startAnswers(
  log: FastifyBaseLogger,
): (archive: Archive, view: View) => Promise<StartAnswers> {
  let kept:
    | { readonly sequence: number; readonly at: number; readonly answers: Promise<StartAnswers> }
    | undefined;
  return (archive, view) => {
    const { sequence } = view.state;
    const now = Date.now();
    if (!kept || kept.sequence !== sequence || now - kept.at > KEPT_FOR) {
      const answers = ask(archive, view, log);
      kept = { sequence, at: now, answers };
      answers.catch(() => {
        kept = undefined;
      });
    }
    return kept.answers;
  };
}

async function ask(archive: Archive, view: View, log: FastifyBaseLogger): Promise<StartAnswers> {
  const pattern = await archive
    .findPattern(view, { text: QUESTIONS.pattern.text })
    .catch((error: unknown) => ({ failed: reasonOf(error, log) }));
  const shown = 'failed' in pattern ? [] : pattern.devices;
  const productLine = longestLine(view);
  return {
    summary: summarise(view),
    pattern,
    names: new Map(shown.map(({ deviceId }) => [deviceId, view.device(deviceId)?.name ?? deviceId])),
    line: productLine === undefined ? undefined : generations(view, productLine),
    years: yearlyShares(view, QUESTIONS.share.category),
    publications: view.publications().toSorted((a, b) => (a.title < b.title ? -1 : 1)),
  };
}

/** The visible line with most devices; of equal ones the first by id. */
function longestLine(view: View): string | undefined {
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

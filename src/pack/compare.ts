import { significant } from '../text/rounding.ts';
import type { PackedFigure, PackedSentence, Statement } from './statement.ts';

/** Whether something that a pack says holds in a state of the archive. */
export type Standing = 'still-so' | 'no-longer-so' | 'cannot-be-checked';

/** One thing that reads otherwise. */
export interface PackChange {
  /** What, in words. */
  readonly what: string;
  readonly was: string;
  readonly is: string;
}

/** A sentence or figure of a pack beside what a state gives for it. */
export interface Compared {
  readonly id: string;
  /** Id of the sentence, which for a figure is that of the sentence that states it. */
  readonly sentence: string;
  readonly kind: 'sentence' | 'figure';
  /** The sentence, or what the figure states. */
  readonly says: string;
  readonly standing: Standing;
  readonly changes: readonly PackChange[];
}

/** A statement with the tables of its figures, by their paths. */
export interface WithTables {
  readonly statement: Statement;
  table(path: string): string | undefined;
}

/**
 * Every sentence and figure of a pack beside what a state gives for it now, in the order of the pack.
 * @param is undefined where the state has no such publication
 */
export function comparedWith(was: WithTables, is: WithTables | undefined): readonly Compared[] {
  const now = new Map(is?.statement.sentences.map((one) => [one.id, one]));
  return was.statement.sentences.flatMap((before) => {
    const after = now.get(before.id);
    const figures = new Map(after?.figures.map((one) => [one.id, one]));
    return [
      compared(before.id, before.id, before.sentence, after && sentenceChanges(before, after)),
      ...before.figures.map((figure) => {
        const other = figures.get(figure.id);
        const changes =
          other && figureChanges(figure, other, was.table(figure.table), is?.table(other.table));
        return compared(before.id, figure.id, figure.states, changes);
      }),
    ];
  });
}

function compared(
  sentence: string,
  id: string,
  says: string,
  changes: readonly PackChange[] | undefined,
): Compared {
  const of = { id, sentence, kind: id === sentence ? 'sentence' : 'figure', says } as const;
  if (!changes) return { ...of, standing: 'cannot-be-checked', changes: [] };
  return { ...of, standing: changes.length === 0 ? 'still-so' : 'no-longer-so', changes };
}

function sentenceChanges(was: PackedSentence, is: PackedSentence): readonly PackChange[] {
  const supportNow = new Map(is.support.map((one) => [one.id, one]));
  const supportThen = new Set(was.support.map(({ id }) => id));
  return [
    ...changed('the sentence', was.sentence, is.sentence),
    ...changed('the probability that its author gave', chance(was.given), chance(is.given)),
    ...chanceChanged('what the evidence gives', was.probability, is.probability),
    ...chanceChanged('the least that it can be', was.low, is.low),
    ...chanceChanged('the most that it can be', was.high, is.high),
    ...changed('what is found against it', findingsOf(was), findingsOf(is)),
    ...was.support.flatMap((before) => {
      const after = supportNow.get(before.id);
      if (!after) return [{ what: before.id, was: 'supports it', is: 'does not support it' }];
      const numbers = chanceChanged(before.id, before.probability, after.probability);
      const words = changed(before.id, describedAs(before), describedAs(after));
      return words.length > 0 && numbers.length > 0
        ? [
            {
              what: before.id,
              was: `${describedAs(before)} (${chance(before.probability)})`,
              is: `${describedAs(after)} (${chance(after.probability)})`,
            },
          ]
        : [...numbers, ...words];
    }),
    ...is.support
      .filter(({ id }) => !supportThen.has(id))
      .map(({ id }) => ({ what: id, was: 'did not support it', is: 'supports it' })),
  ];
}

function figureChanges(
  was: PackedFigure,
  is: PackedFigure,
  tableThen: string | undefined,
  tableNow: string | undefined,
): readonly PackChange[] {
  return [
    ...changed('what it states', was.states, is.states),
    ...changed('what the archive has', was.found, is.found),
    ...chanceChanged('the chance that it holds', was.probability, is.probability),
    ...changed('the direction', directionOf(was), directionOf(is)),
    ...tableChange(tableThen, tableNow),
  ];
}

/** The first line of a table that reads otherwise. */
function tableChange(was: string | undefined, is: string | undefined): readonly PackChange[] {
  if (was === undefined || was === is) return [];
  if (is === undefined) return [{ what: 'its table', was: 'there', is: 'not there' }];
  const [before, after] = [was, is].map((text) => text.split('\r\n'));
  const at = before.findIndex((line, i) => line !== after[i]);
  const line = at < 0 ? before.length : at;
  return [
    {
      what: `line ${line + 1} of its table`,
      was: before[line] ?? 'not there',
      is: after[line] ?? 'not there',
    },
  ];
}

const directionOf = ({ isFound }: PackedFigure) =>
  isFound === null ? 'not tested' : isFound ? 'found' : 'not found';

const findingsOf = ({ findings }: PackedSentence) =>
  findings.map(({ kind, message }) => `${kind}: ${message}`).join(' ') || 'nothing';

const describedAs = ({ description, trouble }: PackedSentence['support'][number]) =>
  trouble === null ? description : `${description}, which no longer counts: ${trouble}`;

function changed(what: string, was: string, is: string): readonly PackChange[] {
  return was === is ? [] : [{ what, was, is }];
}

/** Sums of binary fractions differ in their last digits from one processor to another, which is no change. */
const SAME = 1e-9;

function chanceChanged(what: string, was: number | null, is: number | null): readonly PackChange[] {
  if (was === is || (was !== null && is !== null && Math.abs(was - is) < SAME)) return [];
  return [{ what, was: chance(was), is: chance(is) }];
}

function chance(probability: number | null): string {
  return probability === null ? 'no number' : String(significant(probability, 4));
}

import { termFix } from '../model/near-term.ts';
import { CasebackError } from '../model/problems.ts';
import { TERMS } from '../model/taxonomy.ts';
import type { State } from '../state/state.ts';
import { visibleDevices } from '../trends/visible-devices.ts';
import { RELATIONS, type Relation, type StructureQuestion } from './answer.ts';

/** Components that a structure may have at most. */
export const MAX_COMPONENTS = 8;
/** Structures given at most. */
export const MAX_GIVEN = 200;

/** A question with nothing left open. */
export type Settled = Required<Omit<StructureQuestion, 'level'>> & Pick<StructureQuestion, 'level'>;

/**
 * The question with what was left out filled in.
 * @throws CasebackError BAD_INPUT for one that makes no sense, with the fix
 */
export function settledOf(state: State, question: StructureQuestion): Settled {
  const looked = visibleDevices(state).lookedInto.size;
  const { minSupport = Math.max(3, Math.ceil(looked / 10)), maxSize = Math.max(4, question.minSize ?? 0) } =
    question;
  const { minSize = Math.min(3, maxSize), first = 20, level } = question;
  const { without = ['Passive'], links = 'bus', boards = false } = question;
  checkWhole('minSupport', minSupport, 2, 1e9);
  checkWhole('maxSize', maxSize, 2, MAX_COMPONENTS);
  checkWhole('minSize', minSize, 2, maxSize);
  checkWhole('first', first, 1, MAX_GIVEN);
  if (level !== undefined) checkWhole('level', level, 1, 5);
  for (const term of without) {
    if (TERMS.includes(term)) continue;
    const fix = termFix(term);
    throw new CasebackError(
      'BAD_INPUT',
      `"${term}" is not a term of the component taxonomy${fix ? `; ${fix}` : ''}`,
    );
  }
  return {
    minSupport,
    minSize,
    maxSize,
    without: [...new Set(without)].sort(),
    relations: relationsOf(question),
    links,
    boards,
    first,
    order: question.order ?? 'surprise',
    variants: question.variants ?? false,
    unwritten: question.unwritten ?? false,
    ...(level === undefined ? {} : { level }),
  };
}

/** Those asked for, in a fixed order; else what says most and says it once. */
function relationsOf({ relations, links, without = ['Passive'] }: StructureQuestion): readonly Relation[] {
  if (relations?.length === 0) {
    throw new CasebackError('BAD_INPUT', `relations is empty; name some of ${RELATIONS.join(', ')}`);
  }
  const unknown = relations?.find((one) => !RELATIONS.includes(one));
  if (unknown !== undefined) {
    throw new CasebackError(
      'BAD_INPUT',
      `"${unknown}" is not a relation; the relations are ${RELATIONS.join(', ')}`,
    );
  }
  if (relations) return RELATIONS.filter((one) => relations.includes(one));
  if (links === 'medium') return ['connects'];
  // A signal path passes by resistors and capacitors; with these in, nets tell how they are joined.
  return without.includes('Passive')
    ? ['feeds', 'signal-path', 'connects']
    : ['feeds', 'signal-path', 'shares-net', 'connects'];
}

function checkWhole(name: string, value: number, least: number, most: number): void {
  if (Number.isInteger(value) && value >= least && value <= most) return;
  throw new CasebackError(
    'BAD_INPUT',
    `${name} is ${value}; it must be a whole number from ${least} to ${most}`,
  );
}

import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import type { NamedPattern } from '../../src/model/catalogue.ts';
import type { PatternDevice } from '../../src/patterns/answer.ts';
import { findPattern } from '../../src/questions/patterns.ts';
import {
  REFERENCE_BOARDS,
  type ReferenceName,
  referenceBoard,
  referenceChanges,
  referenceDeviceId,
} from '../reference-boards.ts';
import { liveOf } from '../state/archive-of.ts';

// Every named pattern against 120 statements about three open-hardware devices, read from their nets by two readers who knew
// nothing of the patterns' texts. Sources, commits and licences stand in tests/reference/boards/.

const state = liveOf(referenceChanges()).state('desk', '2026-06-01T00:00:00Z');
/** Statements under the name of the pattern that answers them. */
const NAMED: Readonly<Record<string, string>> = {
  'converter-with-its-inductor-within-6-mm': 'converter-close-to-its-inductor',
};

function patternOf(statement: string): NamedPattern {
  const file = `seed-data/patterns/${NAMED[statement] ?? statement}.yaml`;
  return parse(readFileSync(file, 'utf8')).patterns[0];
}

type Truth = ReturnType<typeof referenceBoard>['truths'][number];
interface Answered {
  readonly name: ReferenceName;
  readonly truth: Truth;
  readonly shown: PatternDevice | undefined;
}

const answered: Answered[] = [];
for (const name of REFERENCE_BOARDS) {
  for (const truth of referenceBoard(name).truths) {
    const { text, scope } = patternOf(truth.statement);
    const { devices } = await findPattern(state, { text, scope });
    answered.push({
      name,
      truth,
      shown: devices.find(({ deviceId, certain }) => certain && deviceId === referenceDeviceId(name)),
    });
  }
}
const agreed = answered.filter(({ truth }) => truth.readers === 'agree' && truth.holds !== null);
const said = ({ name, truth }: Answered) => `${name}: ${truth.statement} (${truth.because})`;

test('what both readers agree on: precision and recall of 0.95 each', () => {
  const found = agreed.filter(({ shown }) => shown !== undefined);
  const held = agreed.filter(({ truth }) => truth.holds);
  expect(held).toHaveLength(30);
  const right = found.filter(({ truth }) => truth.holds).length;
  const wrong = [
    ...found.filter(({ truth }) => !truth.holds).map((one) => `found, and does not hold: ${said(one)}`),
    ...held.filter(({ shown }) => shown === undefined).map((one) => `holds, and is not found: ${said(one)}`),
  ].join('\n');
  expect(right / found.length, wrong).toBeGreaterThanOrEqual(0.95);
  expect(right / held.length, wrong).toBeGreaterThanOrEqual(0.95);
});

test('a match names what the readers name: all components of the witness in 0.9 of the cases', () => {
  const held = agreed.filter(({ truth, shown }) => truth.holds && shown !== undefined);
  const missed = held.filter(({ truth, shown }) => {
    const witness = Object.values(truth.witness as Record<string, string>).map(
      (id) => [id, id.slice(id.indexOf(':') + 1)] as const,
    );
    return !shown?.matches.some(({ bindings }) => {
      const bound = new Set(
        bindings.flatMap(({ ids }) => ids.map((id) => id.slice(id.lastIndexOf('/') + 1))),
      );
      return witness.every((spellings) => spellings.some((spelling) => bound.has(spelling)));
    });
  });
  expect(missed.length / held.length, missed.map(said).join('\n')).toBeLessThanOrEqual(0.1);
});

test('what cannot be told is not said to be there', () => {
  const open = answered.filter(({ truth }) => truth.holds === null);
  expect(open.filter(({ shown }) => shown !== undefined).map(said)).toEqual([]);
});

import { createHash } from 'node:crypto';
import { relative } from 'node:path';
import fc from 'fast-check';
import { beforeAll, beforeEach, type RunnerTestCase, type RunnerTestSuite } from 'vitest';

// Seeds of random tests. Vitest loads this file before every test file (vitest.config.ts).
//
// A test draws with a seed made from its own name, so that every run draws the same. Two variables change that:
//   CASEBACK_TEST_SEED=N    this seed instead, as a failed test prints it
//   CASEBACK_TEST_ROUNDS=N  every test N times, each round with another seed made from the first

const ROOT = process.cwd();
const given = wholeNumber('CASEBACK_TEST_SEED', 0, 2 ** 31 - 1);
const rounds = wholeNumber('CASEBACK_TEST_ROUNDS', 1, 1_000_000) ?? 1;

/** The test that runs now, its seed, and whether it has drawn anything. */
let current = { name: '', seed: 0, hasDrawn: false };

/**
 * The seed for a generator of the test's own; fast-check gets the same one by itself.
 * Call it inside a test: outside of one there is no name to make a seed from.
 * @throws Error outside a test
 */
export function testSeed(): number {
  if (current.name === '') throw new Error('testSeed() is called outside a test; call it inside one');
  current.hasDrawn = true;
  return current.seed;
}

/** The seed that belongs to a text: 31 bits of its SHA-256, the range that fast-check prints unchanged. */
export function seedFrom(text: string): number {
  return createHash('sha256').update(text).digest().readUInt32BE(0) >>> 1;
}

/** The seed of a test in one round; the first round of a given seed is that seed itself. */
export function seedOf(name: string, round: number, first = seedFrom(name)): number {
  return round === 0 ? first : seedFrom(`${first}/${round}`);
}

// biome-ignore lint/correctness/noEmptyPattern: Vitest reads this parameter's text and takes no plain name.
beforeAll(({}, suite) => {
  if (rounds > 1) for (const test of testsIn(suite)) test.repeats = rounds - 1;
});

beforeEach(({ task, onTestFailed, onTestFinished }) => {
  const name = task.fullTestName;
  const mine = { name, seed: seedOf(name, task.result?.repeatCount ?? 0, given), hasDrawn: false };
  current = mine;
  fc.configureGlobal({
    seed: mine.seed,
    reporter: (details) => {
      mine.hasDrawn = true;
      if (details.failed) throw new Error(fc.defaultReportMessage(details), { cause: details.errorInstance });
    },
  });
  onTestFailed(() => {
    if (mine.hasDrawn) console.error(repeatCommand(relative(ROOT, task.file.filepath), name, mine.seed));
  });
  onTestFinished(() => {
    if (current === mine) current = { name: '', seed: 0, hasDrawn: false };
  });
});

/** What a failed random test prints. */
export function repeatCommand(file: string, name: string, seed: number): string {
  const pattern = name.replace(/[\\^$.*+?()[\]{}|]/gu, '\\$&').replaceAll("'", "'\\''");
  return `"${name}" drew with seed ${seed}. To repeat it:\n  CASEBACK_TEST_SEED=${seed} npm test -- ${file} -t '^${pattern}$'`;
}

function* testsIn(suite: Readonly<RunnerTestSuite>): Generator<RunnerTestCase> {
  for (const task of suite.tasks) {
    if (task.type === 'suite') yield* testsIn(task);
    else yield task;
  }
}

function wholeNumber(name: string, minimum: number, maximum: number): number | undefined {
  const text = process.env[name];
  if (text === undefined || text === '') return undefined;
  const value = Number(text);
  if (Number.isInteger(value) && value >= minimum && value <= maximum) return value;
  throw new Error(`${name} is "${text}"; give a whole number from ${minimum} to ${maximum}`);
}

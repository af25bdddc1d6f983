import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { repeatCommand, seedFrom, seedOf, testSeed } from './random.ts';

function drawn(): number[] {
  const values: number[] = [];
  fc.assert(
    fc.property(fc.integer(), (value) => {
      values.push(value);
    }),
    { numRuns: 20 },
  );
  return values;
}

describe('the seed of a test', () => {
  test('is the first 31 bits of the SHA-256 of its name', () => {
    // FIPS 180-2, appendix B.1: SHA-256 of "abc" begins with ba7816bf.
    expect(seedFrom('abc')).toBe(0xba7816bf >>> 1);
  });

  test('is given to fast-check, which draws the same again', () => {
    const first = drawn();
    expect(drawn()).toEqual(first);
    expect(fc.sample(fc.integer(), { numRuns: 20, seed: testSeed() })).toEqual(first);
  });

  test('differs by round, and the first round is the seed itself', () => {
    const seeds = Array.from({ length: 100 }, (_, round) => seedOf('some test', round));
    expect(new Set(seeds).size).toBe(100);
    expect(seeds[0]).toBe(seedFrom('some test'));
    expect(seedOf('another name', 0, seeds[7])).toBe(seeds[7]);
  });
});

test.skipIf(process.platform === 'win32')(
  'the command to repeat keeps a name with quotes and signs whole',
  () => {
    const name = `what's "50 $HOME" (of a|b)? > [5] * \`x\``;
    const command = repeatCommand('tests/a.test.ts', name, 5).split('npm test -- ')[1];
    const words = spawnSync('sh', ['-c', `printf '%s\\0' ${command}`], { encoding: 'utf8' }).stdout.split(
      '\0',
    );
    expect(words.slice(0, 2)).toEqual(['tests/a.test.ts', '-t']);
    expect(new RegExp(words[2]).exec(name)?.[0]).toBe(name);
  },
);

import { execFileSync } from 'node:child_process';
import { expect, test } from 'vitest';

test('the launcher hands over to a Node of at least 24', () => {
  const out = execFileSync(process.execPath, ['src/run.mjs', '--script', 'tests/fixtures/print-version.ts']);
  expect(Number(out.toString().split('.')[0].replace('v', ''))).toBeGreaterThanOrEqual(24);
});

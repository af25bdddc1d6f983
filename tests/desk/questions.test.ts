import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { typedQuestions } from '../../src/desk/typed-questions.ts';

const web = join(import.meta.dirname, '../../src/web');

test('the questions of the pages are answered by the schema, and their types are those committed', async () => {
  const written = await typedQuestions();
  expect(written.size).toBeGreaterThan(0);
  for (const [path, text] of written) expect(readFileSync(join(web, path), 'utf8'), path).toBe(text);
});

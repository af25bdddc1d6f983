import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

// Ids are read and written in model/ids.ts alone. What looks like it elsewhere is something else, said here.
const NO_IDS: Readonly<Record<string, string>> = {
  'model/ids.ts': 'the one place',
  'gql/': 'the pattern engine knows no ids of ours',
  'statistics/': 'numbers alone',
  'text/': 'knows nothing of ours',
  'cli/arguments/measure.ts': 'words of a measure, such as quantity:capacity:Battery',
  'cli/commands/ask.ts': 'line and column',
  'cli/commands/serve.ts': 'an address of the network',
  'cli/arguments/change.ts': 'file and line',
  'dossier/check/clashes.ts': 'file and line',
  'dossier/json-schema.ts': 'the form of a part id, for editors',
  'patterns/doubts.ts': 'a key of numbers',
  'patterns/at-least-one.ts': 'a key of numbers',
  'compare/similar/kernel.ts': 'a key of numbers',
  'structures/gql-text.ts': 'a label in the text of a pattern',
  'design-checks/binding.ts': 'signs of arithmetic',
  'service/pages/': 'addresses of pages and files',
  'service/server/': 'addresses',
  'service/create-service.ts': 'addresses',
  'service/graphql/generate-types.ts': 'a type and its source',
};

/** Taking a text apart, or putting one together, at a slash or colon. */
const BY_HAND = [
  /(?:split|indexOf|lastIndexOf|includes|startsWith|endsWith|replace|replaceAll)\(\s*(['"`])[/:]\1/u,
  /startsWith\(`\$\{[^}]+\}[/:]`/u,
  /\$\{[^}]+\}[/:]\$\{/u,
  /\$\{[^}]+\}[/:]teardown/u,
  /\+ ?(['"`])[/:]\1 ?\+/u,
];

const src = join(import.meta.dirname, '../src');

test('ids are opaque to everyone but model/', () => {
  const found = globSync('**/*.ts', { cwd: src })
    .filter((file) => !Object.keys(NO_IDS).some((place) => file.startsWith(place)))
    .flatMap((file) =>
      readFileSync(join(src, file), 'utf8')
        .split('\n')
        .flatMap((line, i) =>
          BY_HAND.some((form) => form.test(line.replace(/^\s*(?:\*|\/\/|\/\*\*).*$/u, '')))
            ? [`${file}:${i + 1}: ${line.trim()}`]
            : [],
        ),
    );
  expect(found).toEqual([]);
});

test('what is exempt exists', () => {
  const files = globSync('**/*.{ts,mjs}', { cwd: src });
  expect(Object.keys(NO_IDS).filter((place) => !files.some((file) => file.startsWith(place)))).toEqual([]);
});

import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

// Ids are read and written in model/ids.ts alone.

/** Folders and files that take texts apart, none of them ids. */
const NO_IDS: Readonly<Record<string, string>> = {
  'model/ids.ts': 'the one place',
  'model/designator.ts': 'the designator in the id of a component',
  'gql/': 'the pattern engine knows no ids of ours',
  'statistics/': 'numbers alone',
  'text/': 'knows nothing of ours',
  'service/pages/': 'addresses of pages and files',
  'service/server/': 'addresses',
  'service/photos/': 'addresses of pictures and their parts',
  'web/frame/': 'addresses of pages',
  'iiif/': 'addresses of documents, pictures and their parts',
  'photos/beside.ts': 'paths of files',
  'trade-files/workbook/': 'paths and names in a package',
  'design-checks/': 'signs of arithmetic',
};

/** What is taken apart or put together elsewhere, and what it is. */
const OTHERS: readonly (readonly [part: string, what: string])[] = [
  ['line}:', 'place in a file'],
  ['file}:', 'place in a file'],
  ['host', 'address of the network'],
  ["written.indexOf(':')", 'a measure, such as category:Sensor'],
  ["what.split(':')", 'a quantity, such as capacity:Battery'],
  ["name.split(':')", 'names of types'],
  ['inside(SLUG)', 'the form of a part id, for editors'],
  ['number}:', 'a key'],
  ['thing}:', 'a key'],
  ['own}:', 'a key'],
  ['names[at]}:', 'a label in the text of a pattern'],
  ['/graphql', 'addresses'],
];

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
  const found = globSync('**/*.{ts,tsx}', { cwd: src })
    .filter((file) => !Object.keys(NO_IDS).some((place) => file.startsWith(place)))
    .flatMap((file) =>
      readFileSync(join(src, file), 'utf8')
        .split('\n')
        .flatMap((line, i) =>
          BY_HAND.some((form) => form.test(line.replace(/^\s*(?:\*|\/\/|\/\*\*).*$/u, ''))) &&
          !OTHERS.some(([part]) => line.includes(part))
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

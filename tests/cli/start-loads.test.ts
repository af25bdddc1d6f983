import { readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { expect, test } from 'vitest';

// What `serve` loads before it listens: the files that it imports, and those that these import, but for types and for what is
// imported where it is needed. Loading the program is a good part of a start, and one import brings all that is behind it.

const SRC = join(import.meta.dirname, '../../src');
/** What a start may load: its first answers need none of the rest. */
const NOT_AT_A_START: readonly (readonly [what: string, place: RegExp])[] = [
  ['the pattern engine and its index', /^(?:gql|patterns)\//u],
  ['packs', /^pack\//u],
  ['drawings', /^drawings\//u],
  ['what reads files', /^(?:dossier\/(?:read|tree)|trade-files\/|service\/files\/|cli\/arguments\/)/u],
  ['alignment and similar circuits', /^compare\/(?:align|similar)\//u],
  ['the search for structures', /^structures\/find/u],
  ['single sign-on', /^access\/sign-on/u],
  ['the mirror', /^mirror\//u],
];
/** Packages that take long to load, each of some dozens of files. */
const LATER = [
  'yaml',
  'chevrotain',
  'vega',
  'vega-lite',
  'elkjs',
  'openid-client',
  'pg',
  'graphql-jit',
  'node:http',
];

const IMPORT = /^(?:import|export)(?!\s+type\b)\s[^;]*?from\s+'([^']+)';|^import\s+'([^']+)';/gmu;

function importsOf(file: string): readonly string[] {
  const named = [...readFileSync(file, 'utf8').matchAll(IMPORT)].map(([, from, bare]) => from ?? bare);
  return named.filter((one): one is string => one !== undefined);
}

const files = new Set<string>();
const packages = new Set<string>();
const visit = (file: string) => {
  if (files.has(file)) return;
  files.add(file);
  for (const one of importsOf(file)) {
    if (one.startsWith('.')) visit(join(dirname(file), one));
    else packages.add(one);
  }
};
visit(join(SRC, 'cli/main.ts'));
visit(join(SRC, 'cli/commands/serve.ts'));
visit(join(SRC, 'cli/frame/serving.ts'));
const loaded = [...files].map((file) => relative(SRC, file).replaceAll('\\', '/'));

test.each(NOT_AT_A_START)('a start does not load %s', (_, place) => {
  expect(loaded.filter((file) => place.test(file))).toEqual([]);
});

test('a start loads what answers, and none of the packages that take long', () => {
  expect(loaded).toContain('service/create-service.ts');
  expect(loaded).toContain('service/graphql/devices/devices.ts');
  expect([...packages]).toContain('fastify');
  expect(LATER.filter((name) => packages.has(name))).toEqual([]);
});

import { globSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { describe, expect, test } from 'vitest';

// Who may import whom (the layout in DEVELOPERS.md). A folder may always import itself.
const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  text: [],
  statistics: [],
  model: ['text'],
  dossier: ['model', 'design-checks', 'text'],
  journal: ['model'],
  state: ['model', 'journal', 'text'],
  gql: ['text'],
  'design-checks': ['model', 'statistics', 'text'],
  identification: ['model', 'state', 'statistics'],
  compare: ['model', 'state', 'decisions', 'statistics', 'text'],
  patterns: ['model', 'state', 'gql', 'statistics', 'text'],
  trends: ['model', 'state', 'gql', 'patterns', 'decisions', 'statistics', 'text'],
  structures: ['model', 'state', 'gql', 'patterns', 'statistics', 'trends', 'text'],
  decisions: ['model', 'state', 'gql', 'patterns', 'design-checks', 'identification', 'statistics'],
  evidence: ['model', 'state', 'decisions', 'compare', 'trends', 'statistics'],
  export: ['model'],
  web: [],
};
/** `archive.ts`, `questions/`, `service/` and `cli/` stand above all of these. */
const TOP: Readonly<Record<string, readonly string[]>> = {
  'archive.ts': Object.keys(ALLOWED).filter((name) => !['export', 'web'].includes(name)),
  questions: [...Object.keys(ALLOWED).filter((name) => !['export', 'web'].includes(name)), 'archive.ts'],
  service: [...Object.keys(ALLOWED), 'archive.ts', 'questions'],
  cli: [...Object.keys(ALLOWED), 'archive.ts', 'questions', 'service'],
  'run.mjs': [],
};

const src = join(import.meta.dirname, '../src');
const files = globSync('**/*.{ts,mjs,js}', { cwd: src });

function importsOf(file: string): string[] {
  const text = readFileSync(join(src, file), 'utf8');
  return [...text.matchAll(/(?:from|import)\s*\(?\s*['"](\.[^'"]+)['"]/gu)].map(([, target]) =>
    relative(src, join(src, dirname(file), target)),
  );
}

describe('imports only point the way the layout allows', () => {
  for (const [place, allowed] of Object.entries({ ...ALLOWED, ...TOP })) {
    test(place, () => {
      const wrong = files
        .filter((file) => file.split('/')[0] === place)
        .flatMap((file) =>
          importsOf(file)
            .map((target) => target.split('/')[0])
            .filter((target) => target !== place && !allowed.includes(target) && target !== '..')
            .map((target) => `${file} imports ${target}`),
        );
      expect(wrong).toEqual([]);
    });
  }

  test('every folder of src has its place in the layout', () => {
    const places = new Set(files.map((file) => file.split('/')[0]));
    expect([...places].filter((place) => !(place in ALLOWED) && !(place in TOP))).toEqual([]);
  });

  test('no folder imports in a circle', () => {
    const edges = new Map<string, Set<string>>();
    for (const file of files) {
      const from = dirname(file);
      for (const target of importsOf(file)) {
        const to = dirname(target);
        // A folder and those inside it are one room: the list of rules stands above the rules it lists.
        const inside = to.startsWith(`${from}/`) || from.startsWith(`${to}/`);
        if (to !== from && !inside) edges.set(from, (edges.get(from) ?? new Set()).add(to));
      }
    }
    const done = new Set<string>();
    const visit = (folder: string, path: readonly string[]): string[] => {
      if (path.includes(folder)) return [[...path.slice(path.indexOf(folder)), folder].join(' > ')];
      if (done.has(folder)) return [];
      const found = [...(edges.get(folder) ?? [])].flatMap((next) => visit(next, [...path, folder]));
      done.add(folder);
      return found;
    };
    expect([...edges.keys()].flatMap((folder) => visit(folder, []))).toEqual([]);
  });
});

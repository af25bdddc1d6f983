import { globSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { describe, expect, test } from 'vitest';

// Who may import whom: the layout table of DEVELOPERS.md, held file by file. Types count, and so do dynamic imports and
// modules that are named by address (worker threads).

const root = join(import.meta.dirname, '..');
const src = join(root, 'src');

/** Rows of the table in its order: a folder or file of src, and those it may import besides itself. */
const LAYOUT: readonly (readonly [place: string, allowed: readonly string[]])[] = (() => {
  const rows = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8').matchAll(
    /^\| `src\/([\w.-]+)\/?` \|[^|]*\| ([^|]*) \|$/gmu,
  );
  const above: string[] = [];
  return [...rows].map(([, place, cell]) => {
    const named = cell === 'all above' ? [...above] : cell === 'nothing' ? [] : cell.split(', ');
    above.push(place);
    return [place, named] as const;
  });
})();
const PLACES = LAYOUT.map(([place]) => place);
/** Plain JavaScript that starts the rest. */
const OUTSIDE = ['run.mjs'];
/** Written by a generator, types alone: it names what the files that use it make. */
const GENERATED = ['service/graphql/resolver-types.ts'];
/** The doors of the pattern engine. */
const DOORS = ['gql/gql.ts', 'gql/files.ts'];

const IMPORT =
  /(?:\bfrom|\bimport)\s*\(?\s*['"](\.[^'"]+)['"]|new URL\(\s*['"](\.[^'"]+\.(?:ts|js|mjs))['"]\s*,\s*import\.meta\.url/gu;

function importsIn(text: string): string[] {
  return [...text.matchAll(IMPORT)].map(([, named, addressed]) => named ?? addressed);
}

/** By file, relative to a folder: the files it imports, relative to src. */
function importsOf(folder: string): ReadonlyMap<string, readonly string[]> {
  return new Map(
    globSync('**/*.{ts,tsx,mjs,js}', { cwd: folder }).map((file) => {
      const at = join(folder, file);
      const targets = importsIn(readFileSync(at, 'utf8')).map((one) => relative(src, join(dirname(at), one)));
      return [file.replaceAll('\\', '/'), targets.map((one) => one.replaceAll('\\', '/'))] as const;
    }),
  );
}

const files = importsOf(src);
const placeOf = (file: string) => file.split('/')[0];

/** Files that import each other in a circle, each circle once (Tarjan, "Depth-first search", SIAM J. Comput. 1, 1972). */
function circlesIn(edges: ReadonlyMap<string, readonly string[]>): string[][] {
  const order = new Map<string, number>();
  const low = new Map<string, number>();
  const open: string[] = [];
  const circles: string[][] = [];
  const visit = (file: string): number => {
    order.set(file, order.size);
    let lowest = order.get(file) as number;
    open.push(file);
    for (const next of edges.get(file) ?? []) {
      if (!edges.has(next)) continue;
      if (!order.has(next)) lowest = Math.min(lowest, visit(next));
      else if (open.includes(next)) lowest = Math.min(lowest, order.get(next) as number);
    }
    low.set(file, lowest);
    if (lowest === order.get(file)) {
      const circle = open.splice(open.indexOf(file));
      if (circle.length > 1 || edges.get(file)?.includes(file)) circles.push(circle.sort());
    }
    return lowest;
  };
  for (const file of edges.keys()) if (!order.has(file)) visit(file);
  return circles;
}

describe('the layout of DEVELOPERS.md', () => {
  test('has a row for every folder and file of src, and its arrows only point up', () => {
    const there = [...new Set([...files.keys()].map(placeOf))].filter((place) => !OUTSIDE.includes(place));
    expect(there.filter((place) => !PLACES.includes(place))).toEqual([]);
    for (const [at, [place, allowed]] of LAYOUT.entries())
      expect([place, allowed.filter((one) => !PLACES.slice(0, at).includes(one))]).toEqual([place, []]);
  });

  test.each(LAYOUT)('%s imports only what it may', (place, allowed) => {
    const wrong = [...files]
      .filter(([file]) => placeOf(file) === place)
      .flatMap(([file, targets]) =>
        targets
          // What lies outside src is data: package.json, schemas.
          .filter((target) => !target.startsWith('..') && placeOf(target) !== place)
          .filter((target) => !allowed.includes(placeOf(target)))
          .map((target) => `${file} imports ${target}`),
      );
    expect(wrong).toEqual([]);
  });
});

/** Files and folders that DEVELOPERS.md names, with the line; names in capitals stand for the reader's own. */
function placesNamed(): readonly (readonly [line: number, place: string])[] {
  const lines = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8').split('\n');
  return lines.flatMap((text, at) =>
    [...text.matchAll(/`([\w.][\w./-]*(?:\.(?:ts|yaml|graphql|md|mjs|json|ttl)|\/))`/gu)]
      .map(([, place]) => place)
      .filter((place) => !/(?:^|\/)\.|\b(?:[A-Z]+|N)\b(?!\.md)/u.test(place))
      .map((place) => [at + 1, place] as const),
  );
}

/** Made by a run, not part of the program. */
const MADE = ['data/', 'demo-data/', 'node_modules/', 'confusion.yaml', 'journal.head.json', 'mirror.json'];

test('every file that DEVELOPERS.md names is there, under that name or at the end of a longer one', () => {
  const paths = ['src', 'tests', 'schema', 'seed-data'].flatMap((folder) =>
    globSync('**/*', { cwd: join(root, folder), withFileTypes: true }).map((one) => {
      const path = relative(root, join(one.parentPath, one.name)).replaceAll('\\', '/');
      return `/${path}${one.isDirectory() ? '/' : ''}`;
    }),
  );
  const there = [...paths, ...readdirSync(root).map((name) => `/${name}`), '/src/', '/tests/'];
  const lost = placesNamed().filter(
    ([, place]) => !MADE.includes(place) && !there.some((path) => path.endsWith(`/${place}`)),
  );
  expect(lost).toEqual([]);
  expect(placesNamed().length).toBeGreaterThan(200);
});

describe('files', () => {
  test('every import leads to a file', () => {
    const lost = [...files].flatMap(([file, targets]) =>
      targets
        .filter((target) => !target.startsWith('..') && !files.has(target))
        .map((target) => `${file} imports ${target}`),
    );
    expect(lost.filter((one) => !/\.(?:json|graphql|css|svg)$/u.test(one))).toEqual([]);
  });

  test('none import each other in a circle', () => {
    expect(circlesIn(new Map([...files].filter(([file]) => !GENERATED.includes(file))))).toEqual([]);
  });

  test('circles are found, and each once', () => {
    const edges = {
      a: ['b'],
      b: ['c', 'd'],
      c: ['a'],
      d: ['e'],
      e: ['e'],
      f: ['g', 'a'],
      g: ['f'],
      h: ['a'],
    };
    expect(circlesIn(new Map(Object.entries(edges))).sort()).toEqual([['a', 'b', 'c'], ['e'], ['f', 'g']]);
  });

  test('all ways of importing are seen', () => {
    const text = `
      import type { A } from './a.ts';
      import {
        b,
      } from '../b.ts';
      export { c } from './c.ts';
      import './d.ts';
      const { e } = await import('./e.ts');
      new Worker(new URL('./f.ts', import.meta.url));
      import g from 'package';`;
    expect(importsIn(text)).toEqual(['./a.ts', '../b.ts', './c.ts', './d.ts', './e.ts', './f.ts']);
  });
});

describe('the pattern engine', () => {
  const inside = (target: string) => placeOf(target) === 'gql' && !DOORS.includes(target);

  test('is entered by its doors alone', () => {
    const wrong = [...files]
      .filter(([file]) => placeOf(file) !== 'gql')
      .flatMap(([file, targets]) => targets.filter(inside).map((target) => `${file} imports ${target}`));
    expect(wrong).toEqual([]);
  });

  test('and so it is by tests of anything else', () => {
    // Those that try its inside or measure it.
    const own = /^(?:gql|bench\/match)/u;
    const wrong = [...importsOf(join(root, 'tests'))]
      .filter(([file]) => !own.test(file))
      .flatMap(([file, targets]) => targets.filter(inside).map((target) => `${file} imports ${target}`));
    expect(wrong).toEqual([]);
  });

  test('lists all that its doors hold in its README', () => {
    const readme = readFileSync(join(src, 'gql/README.md'), 'utf8');
    const held = DOORS.flatMap((door) =>
      [...readFileSync(join(src, door), 'utf8').matchAll(/export (?:type )?\{([^}]*)\}/gu)].flatMap(
        ([, list]) => list.split(',').flatMap((one) => one.replace('type ', '').trim() || []),
      ),
    );
    expect(held.length).toBeGreaterThan(20);
    expect(held.filter((name) => !readme.includes(`\`${name}\``))).toEqual([]);
  });
});

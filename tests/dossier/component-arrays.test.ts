import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readDocument } from '../../src/dossier/read.ts';
import { writeDossier, writeJson } from '../../src/dossier/write.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { findingsIn } from './check/findings.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER, problemsIn } from './files.ts';

// Equal components in a row are one line of a file and single components in the record.

const withComponents = (lines: readonly string[]) =>
  changed(GOOD_DOSSIER, 'connections:', `${lines.map((line) => `  - ${line}\n`).join('')}connections:`);

function dossierOf(text: string): Dossier {
  const document = documentOf(text);
  if (document.kind !== 'dossier') throw new Error('no dossier');
  return document.dossier;
}

test('an array is read as single components, each at its place, and written as such', () => {
  const row =
    '{ id: LED08..LED11, board: main, side: top, at: { x: 1.1, y: 2 }, pitch: { x: 0.1, y: -0.5 }, appears: GreenEmitter, value: green }';
  const dossier = dossierOf(withComponents([row, '{ id: R1..R2, board: main }']));
  const led = (id: string, x: number, y: number) => ({
    id,
    board: 'main',
    side: 'top',
    at: { x, y },
    appears: 'GreenEmitter',
    value: 'green',
    printed: false,
  });
  expect(dossier.components.slice(2)).toEqual([
    led('LED08', 1.1, 2),
    led('LED09', 1.2, 1.5),
    led('LED10', 1.3, 1),
    led('LED11', 1.4, 0.5),
    { id: 'R1', board: 'main', printed: false },
    { id: 'R2', board: 'main', printed: false },
  ]);
  expect(dossierOf(writeDossier(dossier))).toEqual(dossier);
  expect(dossierOf(writeJson(dossier))).toEqual(dossier);
});

test('says what the same components say one by one: any array, in YAML and in JSON', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('LED', 'R', 'U$', 'SW_B'),
      fc.integer({ min: 0, max: 50 }),
      fc.integer({ min: 1, max: 20 }),
      fc.record({ x: fc.integer({ min: 0, max: 9 }), y: fc.integer({ min: 0, max: 9 }) }),
      fc.record({ x: fc.integer({ min: -3, max: 3 }), y: fc.integer({ min: -3, max: 3 }) }),
      (letters, first, more, at, pitch) => {
        const last = first + more;
        const rest = 'board: main, side: top, package: "0402"';
        const line = `{ id: "${letters}${first}..${letters}${last}", at: { x: ${at.x}, y: ${at.y} }, pitch: { x: ${pitch.x}, y: ${pitch.y} }, ${rest} }`;
        const singles = Array.from(
          { length: more + 1 },
          (_, i) =>
            `{ id: "${letters}${first + i}", at: { x: ${at.x + i * pitch.x}, y: ${at.y + i * pitch.y} }, ${rest} }`,
        );
        const one = dossierOf(withComponents([line]));
        expect(one).toEqual(dossierOf(withComponents(singles)));
        const json = JSON.stringify({
          ...JSON.parse(writeJson({ ...one, components: [] })),
          components: [{ id: `${letters}${first}..${letters}${last}`, at, pitch }],
          connections: [],
          observations: [],
          identifications: [],
        });
        const read = readDocument(Buffer.from(json), 'a.json').document;
        expect(
          read?.kind === 'dossier' && read.dossier.components.map(({ id, at: place }) => [id, place]),
        ).toEqual(one.components.slice(2).map(({ id, at: place }) => [id, place]));
      },
    ),
    { numRuns: 40 },
  );
});

test('problems of one of them, and of what stands behind, name line and path in the file', () => {
  const text = withComponents([
    '{ id: LED1..LED4, board: main, side: top, at: { x: 20, y: 5 }, pitch: { x: 4, y: 0 } }',
    '{ id: C1, board: nowhere }',
    '{ id: LED3, board: main }',
  ]);
  expect(findingsIn([text, GOOD_CATALOGUE]).toSorted()).toEqual([
    'a.yaml:37 components[3].board: no board is called "nowhere" in this dossier — there are main, sensor',
    'a.yaml:38 components[4].id: two components are called "LED3"; the first is on line 36 — give each its own reference designator',
    'caution a.yaml:36 components[2].at: LED4 at (32, 5) mm lies 2.0 mm beyond the edge of board "main" (30 × 20 mm) — check the place, the outline and where the board has its origin',
  ]);
});

test.each([
  [
    '{ id: LED1..LED16, at: { x: 1, y: 1 }, board: main, side: top }',
    'is the place of all of them; add pitch',
  ],
  ['{ id: LED1..LED16, pitch: { x: 1, y: 1 } }', 'starts nowhere; add "at"'],
  ['{ id: LED1, pitch: { x: 1, y: 1 } }', 'is for several components; write them as id: LED1..LED16'],
  ['{ id: LED16..LED1 }', '"LED16..LED1" is not a valid array of designators'],
  ['{ id: LED1..R16 }', '"LED1..R16" is not a valid array of designators'],
  ['{ id: LED1..LED2000 }', 'at most 1000'],
  ['{ id: 1..16 }', '"1..16" is not a valid array of designators'],
  ['{ id: led1 }', '"led1" is not a valid reference designator'],
])('%s is refused', (line, said) => {
  const [problem, ...more] = problemsIn(withComponents([line]));
  expect(problem).toContain(said.split('; ')[0]);
  expect(problem).toContain(said.split('; ').at(-1));
  expect(more).toEqual([]);
});

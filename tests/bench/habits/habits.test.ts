import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../src/statistics/random.ts';
import { asRead, drawEditor } from './bench.ts';
import { HABIT_NAMES, HABITS, habitArchive } from './habits.ts';
import { generateWorld, type World } from './world.ts';

const worlds = new Map(
  HABIT_NAMES.map((name) => [name, generateWorld(HABITS[name], { devices: 80, seed: 7 })]),
);
const world = (name: (typeof HABIT_NAMES)[number]) => worlds.get(name) as World;
const missing = ({ truth }: World) =>
  [...truth.values()].filter(({ catalogued }) => !catalogued).length / truth.size;

test('generators import nothing of the identification that they are to measure', () => {
  const files = readdirSync(import.meta.dirname).filter((name) => !name.endsWith('.test.ts'));
  const guilty = files.filter((name) =>
    /from '[^']*identification/u.test(readFileSync(`${import.meta.dirname}/${name}`, 'utf8')),
  );
  expect(guilty).toEqual([]);
});

describe.each(HABIT_NAMES)('%s', (name) => {
  test('is the same world for the same seed, and another for another', () => {
    const again = generateWorld(HABITS[name], { devices: 5, seed: 7 });
    expect(again.catalogue).toEqual(world(name).catalogue);
    expect(again.dossiers).toEqual(world(name).dossiers.slice(0, 5));
    expect(generateWorld(HABITS[name], { devices: 5, seed: 8 }).dossiers).not.toEqual(again.dossiers);
  });

  test('knows of every chip what it is, and the catalogue has it or not as the truth says', () => {
    const { truth, dossiers, catalogue } = world(name);
    const listed = new Set(catalogue.parts.map(({ maker, number }) => `${maker}/${number}`));
    const chips = dossiers.flatMap(({ components }) =>
      components.filter(({ appears }) => appears === undefined),
    );
    expect(truth.size).toBe(chips.length);
    expect([...truth.values()].filter(({ part, catalogued }) => listed.has(part) !== catalogued)).toEqual([]);
  });

  test('imports, with every chip of its devices', async () => {
    const { archive, dossiers } = await habitArchive(name, { devices: 4, seed: 7 });
    const state = archive.state('desk');
    expect(state.devices().length).toBe(dossiers.length);
  });
});

test('from a twentieth to three tenths of the chips are of parts that no catalogue has', () => {
  for (const name of HABIT_NAMES) expect(missing(world(name))).toBeGreaterThan(0.02);
  for (const name of ['siblings', 'uncatalogued'] as const) {
    expect(missing(world(name))).toBeGreaterThan(0.12);
    expect(missing(world(name))).toBeLessThan(0.3);
  }
});

test('an uncatalogued part mostly has a catalogued sibling, whose number differs in a digit or a suffix', () => {
  const { truth, catalogue } = world('siblings');
  const listed = catalogue.parts.map(({ maker, number }) => `${maker}/${number}`);
  const lone = [...truth.values()].filter(
    ({ part, catalogued }) =>
      !catalogued && !listed.some((other) => other.slice(0, -2).startsWith(part.slice(0, -2))),
  );
  const unlisted = [...truth.values()].filter(({ catalogued }) => !catalogued);
  expect(lone.length / unlisted.length).toBeLessThan(0.35);
});

test('short codes are used by several makers among twins', () => {
  const makers = new Map<string, Set<string>>();
  for (const { maker, markings } of world('twins').catalogue.parts)
    for (const marking of markings)
      if (/^[A-Z]{2}(\W|$)/u.test(marking))
        makers.set(marking.slice(0, 2), new Set([...(makers.get(marking.slice(0, 2)) ?? []), maker]));
  const shared = [...makers.values()].filter(({ size }) => size > 1).length;
  expect(shared / makers.size).toBeGreaterThan(0.5);
});

test('an editor that reads badly takes the same character for the same other one again and again', () => {
  const random = seededRandom(3);
  for (let editor = 0; editor < 5; editor++) {
    const poor = { ...drawEditor('P', 'poor', random), smudged: 0, doubts: 0, abbreviates: undefined };
    for (const [from, to] of poor.mistakes) {
      const read = asRead(poor, from.repeat(400), random) as string;
      expect(new Set(read)).toEqual(new Set([from, to]));
      expect(read.split(to).length - 1).toBeGreaterThan(100);
    }
  }
});

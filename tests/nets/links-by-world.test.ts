import { expect, test } from 'vitest';
import type { Condition } from '../../src/nets/conditions.ts';
import { linksByWorld } from '../../src/nets/links-by-world.ts';
import { derivedNets } from '../../src/nets/nets.ts';
import { alternativesIn } from '../../src/patterns/worlds.ts';
import { has } from '../../src/statistics/bits.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { catalogueChanges, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';
import { drawBoard, PARTS, worldsOf } from './doubtful-boards.ts';

// The links of a doubtful board in a world are those of the certain board of that world: held against every world of random boards,
// one by one. The rules for certain boards have tests of their own.

const LINKS = ['joins', 'sharedNets', 'feeds', 'paths', 'buses'] as const;

function holds(when: Condition, chosen: ReadonlyMap<string, number>): boolean {
  return (
    when === true || when.some((all) => all.every(({ id, bits }) => has(bits, chosen.get(id) as number)))
  );
}

function checked(seed: number, doubtful: number): { readonly open: number; readonly worlds: number } {
  const drawn = drawBoard(seededRandom(seed), 'dev', doubtful);
  const worlds = worldsOf(drawn);
  const state = liveOf([
    ...SMALL_CATALOGUE,
    ...catalogueChanges({ parts: structuredClone(PARTS) as never }),
    ...[drawn, ...worlds].map(({ board }) => dossierChange(board)),
  ]).state('desk', '2026-06-01T00:00:00Z');
  const opened = (id: string) => {
    const specimen = state.specimen(`${id}/a`);
    if (!specimen) throw new Error(`no ${id}`);
    return specimen;
  };
  const partOf = (id: string) => state.part(id);
  const doubtfulOne = opened('dev');
  const alternatives = alternativesIn(doubtfulOne, (part) => state.part(part)?.categories);
  const found = linksByWorld(doubtfulOne, alternatives, partOf);
  expect(found.left, `seed ${seed}`).toEqual({ signal: 0, supply: 0 });
  worlds.forEach(({ chosen }, at) => {
    const certain = derivedNets(opened(`dev-world-${at}`), partOf);
    const joins = certain.wiring.conductors.flatMap(({ net, members }) =>
      net
        ? members.map(({ role, number, name, function: means }) => {
            return { component: role.id, net: net.id, pin: number, name, function: means };
          })
        : [],
    );
    const expected = { ...certain, joins };
    for (const which of LINKS) {
      const there = found[which].flatMap(({ link, when }) => (holds(when, chosen) ? [link] : []));
      const sorted = (links: readonly unknown[]) => links.map((link) => JSON.stringify(link)).sort();
      expect(sorted(there), `seed ${seed}, world ${at}, ${which}`).toEqual(sorted(expected[which]));
    }
  });
  return {
    worlds: worlds.length,
    open: LINKS.flatMap((which) => found[which].filter(({ when }) => when !== true)).length,
  };
}

test.each([
  [1, 120],
  [2, 80],
  [3, 40],
])('with %d doubtful components, links are those of each world', (doubtful, boards) => {
  let [open, worlds] = [0, 0];
  for (let seed = 0; seed < boards; seed++) {
    const one = checked(1000 * doubtful + seed, doubtful);
    open += one.open;
    worlds += one.worlds;
  }
  expect(open).toBeGreaterThan(boards);
  expect(worlds).toBeGreaterThan(2 * boards);
});

import { describe, expect, test } from 'vitest';
import { Identifier } from '../../src/identification/identifier.ts';
import type { Posterior } from '../../src/identification/posterior.ts';
import type { Sighting } from '../../src/identification/sighting.ts';
import { type Part, partIdOf, partSchema } from '../../src/model/catalogue.ts';
import { parseMarking } from '../../src/model/marking.ts';

// What an editor knows of the trade (common practice, no source): a code read in full that no catalogued part carries is mostly that of a
// part nobody has catalogued, whether it is long or short; one that was not read says nothing; and a chip whose terminals flatly contradict a
// part is not that part.

const LETTERS = 'BCDFGHKLMNPRSTVW';
const KINDS = ['Accelerometer', 'Charger', 'Memory', 'LinearRegulator', 'AudioCodec'];

/** Two hundred parts, half of them in families of four; nineteen in twenty list what they are marked with. */
const PARTS: readonly Part[] = Array.from({ length: 200 }, (_, i) => {
  const family = i < 100 ? Math.floor(i / 4) : i;
  const letters = [0, 5, 11].map((shift) => LETTERS[(7 * family + shift * (1 + (family % 3))) % 16]).join('');
  const number = `${letters}${1000 + 37 * family}${i % 4}${i % 3 === 0 && i >= 100 ? 'T' : ''}`;
  const pins = [9, 12, 16, 25, 49][(family + (i % 4 === 3 ? 1 : 0)) % 5];
  return partSchema.parse({
    ...{ number, maker: `maker-${family % 9}`, categories: [KINDS[family % 5]] },
    ...{ package: `WLCSP-${pins}`, pins, body: { length: 2 + (family % 7) / 2, width: 2 + (i % 5) / 2 } },
    ...(i % 20 === 0 ? {} : { markings: [`${number}\n{lot:3}`] }),
  });
});
const NOTHING: Sighting = {
  component: 'U1',
  ...{ marking: undefined, package: undefined, pins: undefined, body: undefined, side: undefined },
  ...{ appears: undefined, neighbours: [], deviceMaker: 'nobody', released: '2024' },
};
const identifier = new Identifier();
identifier.follow({
  parts: () => PARTS,
  specimenRows: () => [],
  device: () => undefined,
  specimen: () => undefined,
});
const oddsOf = (seen: Partial<Sighting>): Posterior =>
  identifier.posteriorOfSighting({ ...NOTHING, ...seen }, 'none of them');
const noneOf = (written: string) => oddsOf({ marking: parseMarking(written) }).none;

describe('a code that no part of the catalogue carries', () => {
  const unmarked = oddsOf({}).none;

  test.each(['7GJ4', '7GJ4KW', '7GJ4KWQ2XZ', '7GJ4KWQ2XZ7GJ4KWQ2', '7GJ4KWQ2XZ'.repeat(4)])(
    '%s, read in full, speaks for none of them',
    (code) => {
      // Longer ones did not: 40 characters of a code moved it no more than none at all.
      expect(noneOf(code)).toBeGreaterThan(3 * unmarked);
      expect(noneOf(code)).toBeGreaterThan(0.4);
    },
  );

  test('of forty characters of which none was read says nothing', () => {
    expect(noneOf('?'.repeat(40))).toBeCloseTo(unmarked, 9);
  });

  test('does not count against one that a part does carry', () => {
    const [part] = PARTS.filter(({ markings }) => markings.length > 0);
    const { candidates, none } = oddsOf({ marking: parseMarking(`${part.number}\nK4T`) });
    expect(partIdOf(candidates[0].part)).toBe(partIdOf(part));
    expect(none).toBeLessThan(0.05);
  });
});

describe('terminals that contradict a part flatly', () => {
  test('are not taken back by what they say of parts that nobody knows', () => {
    // A wafer-level package, so that its name does not tell the count; its marking is that of a sibling as well as its own.
    const part = PARTS.filter(({ pins, markings }) => pins === 49 && markings.length > 0)[0];
    const { length, width } = part.body ?? { length: 3, width: 3 };
    const seen = {
      ...{ package: 'WLCSP', body: [Math.max(length, width), Math.min(length, width)] as const },
      marking: parseMarking(`${part.number.slice(0, -1)}9`),
    };
    const oddsOn = ({ candidates, none }: Posterior) =>
      (candidates.find((one) => one.part === part)?.probability ?? 0) / none;
    const [before, after] = [oddsOn(oddsOf(seen)), oddsOn(oddsOf({ ...seen, pins: 12 }))];
    // Half as likely against none was all: none lost nearly as much.
    expect(after).toBeLessThan(before / 4);
    expect(oddsOn(oddsOf({ ...seen, pins: 49 }))).toBeGreaterThanOrEqual(before);
  });
});

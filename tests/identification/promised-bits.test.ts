import { beforeAll, describe, expect, test } from 'vitest';
import { Identifier } from '../../src/identification/identifier.ts';
import type { Posterior } from '../../src/identification/posterior.ts';
import { type Sighting, sightingOf } from '../../src/identification/sighting.ts';
import type { Part } from '../../src/model/catalogue.ts';
import { parseMarking } from '../../src/model/marking.ts';
import { entropyBits } from '../../src/statistics/entropy.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { seededArchive } from './seeded.ts';

// Bits promised of a look against those that come: what a component is is drawn from its odds, what the look shows from that part
// with the errors that the model takes a bench to make, and the entropy is that of the odds worked out with it. On average over
// many draws the one is the other (Lindley 1956: the expected gain is the mean over outcomes). The errors here are written down
// anew, none is asked of the code.

/** Chips asked about for each way to look, and draws for each chip. */
const CHIPS = 80;
const DRAWS = 2;

const bits = ({ candidates, none }: Posterior) => {
  const known = [...candidates.map(({ probability }) => probability), none];
  const rest = Math.max(0, 1 - known.reduce((sum, one) => sum + one, 0));
  return entropyBits([...known, rest]);
};

describe('bits promised come on average', () => {
  let identifier: Identifier;
  let parts: readonly Part[];
  let seen: readonly { readonly sighting: Sighting; readonly device: string }[];
  beforeAll(async () => {
    const { archive } = await seededArchive(60, 11);
    const view = archive.state('desk');
    identifier = new Identifier();
    identifier.follow(view);
    parts = view.parts();
    seen = view.specimenRows().flatMap(({ id, deviceId }) => {
      const [opened, device] = [view.specimen(id), view.device(deviceId)];
      if (!opened || !device) return [];
      return opened.counted.map((one) => ({ sighting: sightingOf(opened, one, device), device: deviceId }));
    });
  });

  /** A part by the odds; of one in no catalogue, one that is like some part of it. */
  function drawn(
    { candidates, none }: Posterior,
    random: Random,
  ): { readonly part: Part; readonly isListed: boolean } {
    if (random.chance(Math.min(1, none))) return { part: random.pick(parts), isListed: false };
    return {
      part: candidates[random.weighted(candidates.map(({ probability }) => probability))].part,
      isListed: true,
    };
  }

  const shows: Readonly<
    Record<string, (part: Part, random: Random, isListed: boolean) => Partial<Sighting>>
  > = {
    package: (part, random) => ({ package: (random.chance(0.95) ? part : random.pick(parts)).package }),
    'pin-count': ({ pins = 4 }, random) => ({ pins: random.chance(0.985) ? pins : pins + 1 }),
    'body-size': ({ body }, random) => {
      const { length, width } = body ?? { length: 3, width: 2 };
      const read = (mm: number) => mm + random.normal(0, 0.08 + 0.02 * mm);
      const [a, b] = [read(length), read(width)];
      return { body: [Math.max(a, b), Math.min(a, b)] };
    },
    marking: ({ markings }, random, isListed) => {
      const text = markings[0].replace('{lot:2}', 'K4').replace('{date:YWW}', '317');
      // Of a part in no catalogue the sibling of one.
      const at = 2 + random.integer(0, 2);
      const printed = isListed ? text : `${text.slice(0, at)}${random.integer(0, 9)}${text.slice(at + 1)}`;
      return { marking: parseMarking(printed) };
    },
  };

  test.each([
    ['package', { package: undefined, pins: undefined }],
    ['pin-count', { pins: undefined }],
    ['body-size', { body: undefined }],
    ['marking', { marking: undefined }],
  ] as const)('%s', (reads, hidden) => {
    const random = seededRandom(`promised ${reads}`);
    const step = Math.floor(seen.length / CHIPS);
    const differences: number[] = [];
    let promised = 0;
    for (let at = 0; at < CHIPS; at++) {
      const { sighting, device } = seen[at * step];
      const known = { ...sighting, ...hidden };
      const next = identifier.nextObservations(known, device).find(({ method }) => method.reads === reads);
      const bitsPromised = (next?.gainBits ?? 0) / (next?.method.succeeds ?? 1);
      const odds = identifier.posteriorOfSighting(known, device);
      for (let draw = 0; draw < DRAWS; draw++) {
        const { part, isListed } = drawn(odds, random);
        const after = identifier.posteriorOfSighting(
          { ...known, ...shows[reads](part, random, isListed) },
          device,
        );
        promised += bitsPromised;
        differences.push(bitsPromised - (bits(odds) - bits(after)));
      }
    }
    const count = differences.length;
    const mean = differences.reduce((sum, one) => sum + one, 0) / count;
    const variance = differences.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (count - 1);
    // Three standard errors of the mean, and what the errors written down here differ from those learnt.
    expect(Math.abs(mean)).toBeLessThan(3 * Math.sqrt(variance / count) + (0.1 * promised) / count);
    expect(promised / count).toBeGreaterThan(0.01);
  });
});

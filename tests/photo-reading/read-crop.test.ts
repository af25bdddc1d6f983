import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { describe, expect, test } from 'vitest';
import { channelOf } from '../../src/identification/photo-channel.ts';
import { cropOf, rectangleOf } from '../../src/photo-reading/crop.ts';
import { masked } from '../../src/photo-reading/masked.ts';
import { grainOf, isLightOnDark, prepared } from '../../src/photo-reading/prepare.ts';
import { readCrop } from '../../src/photo-reading/read-crop.ts';
import { textOn } from '../../src/photo-reading/reader.ts';
import { pictureOf, pixelsOf } from '../photos/pictures.ts';
import { blankEpoxy } from './chip-photo.ts';
import { heldOut } from './held-out.ts';
import { rendered } from './renders.ts';
import { alignedCharacters } from './tally.ts';

describe('a crop', () => {
  test('is of the upright picture, whatever the orientation that the camera wrote', async () => {
    // Exif 2.32, section 4.6.4, tag Orientation: 6 is turned by a quarter, 3 by a half.
    for (const orientation of [1, 3, 6, 8]) {
      const content = await pictureOf('jpeg', { width: 320, height: 200, orientation });
      const upright = await pixelsOf(content);
      const at = rectangleOf(upright, [25, 10, 50, 40]);
      const crop = await cropOf(content, at as NonNullable<typeof at>);
      expect([crop.width, crop.height]).toEqual([at?.width, at?.height]);
      let most = 0;
      for (let y = 0; y < crop.height; y++)
        for (let x = 0; x < crop.width; x++)
          most = Math.max(
            most,
            Math.abs(
              crop.pixels[y * crop.width + x] -
                upright.data[(y + (at?.top ?? 0)) * upright.width + x + (at?.left ?? 0)],
            ),
          );
      expect(most).toBeLessThanOrEqual(3);
    }
  });

  test('that lies beside the photo is none, and one that hangs over is cut', () => {
    expect(rectangleOf({ width: 200, height: 100 }, [101, 0, 10, 10])).toBeUndefined();
    expect(rectangleOf({ width: 200, height: 100 }, [-5, 50, 10, 100])).toEqual({
      ...{ left: 0, top: 50, width: 10, height: 50 },
    });
  });

  test('has nothing of what lies outside its outline', () => {
    const pixels = Uint8Array.from({ length: 100 }, (_, at) => (at % 10 < 5 ? 40 : 200));
    const crop = masked({ pixels, width: 10, height: 10 }, [
      [0, 0],
      [5, 0],
      [5, 10],
      [0, 10],
    ]);
    expect([...crop.pixels].every((one) => one === 40)).toBe(true);
  });

  test('is taken for light characters on dark by what most of it is, and for grainy by its grain', () => {
    const crop = rendered('DejaVu Sans Mono', 'clean', 1);
    expect(isLightOnDark(crop)).toBe(true);
    expect(isLightOnDark({ ...crop, pixels: crop.pixels.map((one) => 255 - one) })).toBe(false);
    expect(grainOf(rendered('DejaVu Sans Mono', 'noisy', 1))).toBeGreaterThan(2 * grainOf(crop));
  });
});

describe('reading', () => {
  test('finds the characters of codes in a face that was never counted, fewer where they are scuffed', async () => {
    const share = async (how: 'clean' | 'scuffed') => {
      let [right, all] = [0, 0];
      for (let seed = 1; seed <= 8; seed++) {
        const crop = await heldOut(how, seed);
        for (const { truth, read } of alignedCharacters(crop.lines, (await readCrop(crop, [0])).lines)) {
          if (truth === undefined || truth === '\n') continue;
          all++;
          if (truth === read?.text) right++;
        }
      }
      return right / all;
    };
    expect(await share('clean')).toBeGreaterThan(0.85);
    expect(await share('scuffed')).toBeGreaterThan(0.5);
  });

  test('suggests nothing on mould compound without a mark', async () => {
    for (let seed = 1; seed <= 6; seed++) {
      const { lines } = await readCrop(blankEpoxy(60 + 25 * seed, 50 + 20 * seed, seed));
      expect(channelOf(lines).suggestion(), JSON.stringify(lines)).toBeUndefined();
    }
  });

  test('ends well on crops of one grey, of single lines of pixels and of extremes', async () => {
    const of = (width: number, height: number, grey: (at: number) => number) => ({
      ...{ width, height },
      pixels: Uint8Array.from({ length: width * height }, (_, at) => grey(at)),
    });
    for (const crop of [
      of(10, 10, () => 0),
      of(1, 1, () => 255),
      of(400, 1, (at) => at % 256),
      of(1, 400, (at) => at % 256),
      of(64, 64, (at) => (at % 2) * 255),
    ])
      expect(channelOf((await readCrop(crop)).lines).suggestion()).toBeUndefined();
  });

  test('of what is no picture fails by itself, and the next one is read', async () => {
    await expect(textOn(new TextEncoder().encode('no picture'))).rejects.toThrow();
    const crop = rendered('DejaVu Sans Mono', 'clean', 1);
    const png = await prepared(crop, { turn: 0, isInverted: true, blur: 0, height: 120 });
    expect((await textOn(png)).flat().length).toBeGreaterThan(0);
  });

  test('reaches no network and leaves no file where it runs', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-reading-'));
    const here = (name: string) => fileURLToPath(new URL(name, import.meta.url));
    const log = join(folder, 'network.log');
    const cwd = join(folder, 'empty');
    mkdirSync(cwd);
    const { stdout } = await promisify(execFile)(process.execPath, [here('read-one.ts')], {
      cwd,
      env: {
        ...process.env,
        NETWORK_LOG: log,
        NODE_OPTIONS: `--require ${JSON.stringify(here('no-network.cjs'))}`,
      },
    });
    expect(stdout.trim()).toBe(rendered('DejaVu Sans Mono', 'clean', 1).lines.join('\n'));
    const told = readFileSync(log, 'utf8').trim().split('\n');
    expect(new Set(told)).toEqual(new Set(['watched']));
    // The process, the thread that reads and the program's own below it.
    expect(told).toHaveLength(3);
    expect(readdirSync(cwd)).toEqual([]);
    rmSync(folder, { recursive: true });
  });
});

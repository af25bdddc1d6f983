import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { globSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp, { type Sharp } from 'sharp';
import { type HostilePhoto, hostilePhotos } from '../photos/hostile-photos.ts';
import { writeManyPhotos } from '../photos/many-photos.ts';
import { PhotoService, photoAddress } from '../photos/photo-service-process.ts';
import { sha256Of } from '../photos/pictures.ts';
import { seededRandom } from './generate.ts';

// What photos cost: one of 24 megapixels brought in with its tiles, all hostile ones, and an archive with 10,000 (or `--many N`); `--only one`,
// `--only hostile` and `--only many` measure one of them. A light
// question is asked meanwhile, every 10 ms, and its answers are timed; the service is a process of its own.

const many = Number(process.argv[process.argv.indexOf('--many') + 1]) || 10_000;
const MB = 2 ** 20;
const ms = (value: number) => `${value.toFixed(0)} ms`;

/** Asks a light question every 10 ms while something is done. @returns the times of the answers, ascending, ms */
async function beside<T>(
  service: PhotoService,
  work: () => Promise<T>,
): Promise<{ result: T; times: readonly number[] }> {
  const times: number[] = [];
  let isDone = false;
  const asking = (async () => {
    while (!isDone) {
      const from = performance.now();
      await service.head();
      times.push(performance.now() - from);
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  })();
  const result = await work();
  isDone = true;
  await asking;
  return { result, times: times.sort((a, b) => a - b) };
}

const percentile = (times: readonly number[], share: number) =>
  times[Math.min(times.length - 1, Math.floor(share * times.length))] ?? 0;

/** A picture with as much in it as a photo has: grain over slow changes. */
async function camera(width: number, height: number): Promise<Sharp> {
  const random = seededRandom(1);
  const data = Buffer.alloc(width * height * 3);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let c = 0; c < 3; c++, at++)
        data[at] = 110 + 70 * Math.sin(x / 200 + c) * Math.cos(y / 170) + 30 * random();
  return sharp(data, { raw: { width, height, channels: 3 } });
}

async function ofOne(): Promise<void> {
  const picture = await camera(6_000, 4_000);
  const contents = [
    ['JPEG', await picture.clone().jpeg({ quality: 92 }).toBuffer()],
    ['WebP', await picture.clone().webp({ quality: 85 }).toBuffer()],
  ] as const;
  const service = await PhotoService.started(contents.map(([, content]) => sha256Of(content)));
  // What is loaded when it is first wanted.
  await service.put(0, Buffer.from('no photo'));
  for (const [at, [kind, content]] of contents.entries()) {
    await service.told();
    const from = performance.now();
    const { result, times } = await beside(service, () => service.put(at, content));
    const took = performance.now() - from;
    const { held } = await service.told();
    console.log(
      `24 megapixels as ${kind}, ${(content.length / MB).toFixed(1)} MB: in with tiles in ${ms(took)} (${result.status}); event loop held ${ms(held)} at most; light question ${ms(percentile(times, 0.99))} at the 99th percentile`,
    );
    for (const time of ['first', 'second']) {
      const asked = performance.now();
      const { length } = await service.get(`${photoAddress(at)}/full/max/0/default.jpg`);
      console.log(
        `  the whole picture, ${time} asking: ${ms(performance.now() - asked)}, ${(length / MB).toFixed(1)} MB`,
      );
    }
  }
  await service.close();
}

async function ofHostile(): Promise<void> {
  const photos: (HostilePhoto & { readonly content: Buffer })[] = [];
  for (const one of hostilePhotos(1)) photos.push({ ...one, content: await one.make() });
  const service = await PhotoService.started(
    photos.map(({ content }, at) => sha256Of(content.length > 0 ? content : Buffer.from([at]))),
  );
  await service.put(0, photos[photos.length - 1].content);
  const { rss: before } = await service.told();
  const all: number[] = [];
  let worst = { name: '', held: 0, took: 0 };
  for (const [at, { name, content }] of photos.entries()) {
    const from = performance.now();
    const { times } = await beside(service, () => service.put(at, content));
    const took = performance.now() - from;
    all.push(...times);
    const { held } = await service.told();
    if (held > worst.held) worst = { name, held, took };
  }
  const { rss } = await service.told();
  all.sort((a, b) => a - b);
  console.log(
    `${photos.length} hostile photos: event loop held ${ms(worst.held)} at most (${worst.name}, ${ms(worst.took)}); light question ${ms(percentile(all, 0.5))} at the median, ${ms(percentile(all, 0.99))} at the 99th percentile; resident ${(before / MB).toFixed(0)} MB before, ${(rss / MB).toFixed(0)} MB after`,
  );
  await service.close();
}

/** A command of the program. @returns its exit code, its time and the most that it was resident */
async function command(cwd: string, ...args: readonly string[]) {
  const from = performance.now();
  const child = spawn(
    process.execPath,
    [fileURLToPath(new URL('../../src/cli/main.ts', import.meta.url)), ...args],
    {
      cwd,
      stdio: ['ignore', 'ignore', 'pipe'],
    },
  );
  let said = '';
  child.stderr.on('data', (text) => {
    said += text;
  });
  let most = 0;
  const watching = setInterval(() => {
    try {
      const [, kilobytes] = /VmHWM:\s+(\d+)/u.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8')) ?? [];
      most = Math.max(most, Number(kilobytes) / 1024);
    } catch {
      // It has ended, or this system does not tell.
    }
  }, 50);
  const [code] = await once(child, 'exit');
  clearInterval(watching);
  return { code: code as number, took: performance.now() - from, most, said };
}

async function ofMany(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-many-'));
  const names = await writeManyPhotos(folder, many);
  const run = async (what: string, ...args: readonly string[]) => {
    const { code, took, most, said } = await command(folder, ...args);
    console.log(
      `${many} photos, ${what}: ${(took / 1000).toFixed(1)} s, ${most.toFixed(0)} MB at most, exit code ${code}`,
    );
    if (code !== 0) console.log(said.slice(0, 500));
  };
  await run('import', 'import', 'catalogue.yaml', ...names, '--reason', 'benchmark');
  await run('verify', 'verify');
  await run('backup', 'backup', 'copy.gz');
  rmSync(join(folder, 'data'), { recursive: true });
  await run('restore', 'restore', 'copy.gz');
  const files = globSync('data/photos/*/*', { cwd: folder }).sort();
  const random = seededRandom(2);
  let found = 0;
  for (let i = 0; i < 20; i++) {
    const path = join(folder, files[Math.floor(random() * files.length)]);
    const content = readFileSync(path);
    const altered = Buffer.from(content);
    altered[Math.floor(random() * content.length)] ^= 1;
    writeFileSync(path, altered);
    if ((await command(folder, 'verify')).code !== 0) found++;
    writeFileSync(path, content);
  }
  console.log(`${many} photos: of 20 flipped bytes ${found} were found`);
  rmSync(folder, { recursive: true });
}

const only = process.argv.includes('--only') ? process.argv[process.argv.indexOf('--only') + 1] : undefined;
for (const [name, measure] of [
  ['one', ofOne],
  ['hostile', ofHostile],
  ['many', ofMany],
] as const)
  if (only === undefined || only === name) await measure();

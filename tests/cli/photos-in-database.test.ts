import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Client } from 'pg';
import { afterAll, expect, test } from 'vitest';
import { pictureOf, sha256Of } from '../photos/pictures.ts';
import { sharedSchema } from '../postgres/shared.ts';
import { CATALOGUE, dossier } from './invented.ts';
import { addressOf, caseback, ended, Folder, start } from './running.ts';

// Photos of an archive in a database: what one machine brings in every other has.

const picture = await pictureOf('jpeg', { orientation: 6 });
const photo = `photos:\n  - { id: top, sha256: ${sha256Of(picture)}, file: photos/top.jpg, credit: A. Example, licence: CC-BY-4.0, board: main, side: top }\n`;
const folder = new Folder({ 'catalogue.yaml': CATALOGUE, 'band-1.yaml': dossier(1, photo) });
const at = (...names: string[]) => join(folder.path, ...names);
mkdirSync(at('photos'));
writeFileSync(at('photos', 'top.jpg'), picture);

const schemas: Awaited<ReturnType<typeof sharedSchema>>[] = [];
const newDatabase = async () => {
  const schema = await sharedSchema();
  schemas.push(schema);
  return schema.url;
};
afterAll(async () => {
  for (const schema of schemas) await schema.drop();
  folder.remove();
});

/** Runs a command on a machine of its own, which has a data folder of that name. */
const on =
  (machine: string, env: Readonly<Record<string, string>>) =>
  (...args: string[]) =>
    caseback(args, { cwd: folder.path, env: { ...env, DATA_DIR: at(machine) } });

test('are there for every machine on the database, in backups of it, and found where they were altered', async () => {
  const database = await newDatabase();
  const [one, other] = ['one', 'other'].map((machine) => on(machine, { DATABASE_URL: database }));
  const brought = await one('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
  expect(brought.err).toContain('; 1 photo kept');
  expect(existsSync(at('one', 'photos'))).toBe(false);

  expect((await other('verify')).out).toContain('1 photo');
  expect((await other('export', '--out', 'exported')).code).toBe(0);
  const exported = readdirSync(at('exported'), { recursive: true, encoding: 'utf8' });
  const file = exported.find((name) => name.endsWith(`${sha256Of(picture)}.jpg`)) ?? '';
  expect(readFileSync(at('exported', file)).equals(picture)).toBe(true);

  const service = start(['serve', '--audience', 'desk', '--port', '0'], folder.path, {
    DATABASE_URL: database,
    DATA_DIR: at('third'),
  });
  try {
    const address = `${await addressOf(service)}/photos/ferrule-band-1/a/top`;
    expect(await (await fetch(`${address}/info.json`)).json()).toMatchObject({ width: 200, height: 320 });
    const original = await fetch(`${address}/original`);
    expect(Buffer.from(await original.arrayBuffer()).equals(picture)).toBe(true);
  } finally {
    service.kill();
    await ended(service);
  }

  expect((await other('backup', 'photos.gz')).out).toContain('1 photo');
  const restored = await newDatabase();
  const copy = on('copy', { DATABASE_URL: restored });
  expect((await copy('restore', 'photos.gz')).out).toContain('1 photo');
  expect((await copy('verify')).out).toContain('1 photo');
  expect((await on('plain', {})('restore', 'photos.gz')).out).toContain('1 photo');
  expect(readdirSync(at('plain', 'photos'))).toEqual([sha256Of(picture).slice(0, 2)]);

  const client = new Client(restored);
  await client.connect();
  await client.query(
    'UPDATE caseback_photo_parts SET content = set_byte(content, 99, 255 - get_byte(content, 99))',
  );
  await client.end();
  const damaged = await copy('verify');
  expect(damaged.code).toBe(3);
  expect(damaged.out).toContain('the file of top of ferrule-band-1/a has been altered');
});

test('are in the folder that the services share, where one is named', async () => {
  const env = { DATABASE_URL: await newDatabase(), PHOTOS_DIR: at('shared') };
  const brought = await on('fourth', env)('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
  expect(brought.err).toContain('; 1 photo kept');
  expect(readdirSync(at('shared'))).toEqual([sha256Of(picture).slice(0, 2)]);
  expect((await on('fifth', env)('verify')).out).toContain('1 photo');
});

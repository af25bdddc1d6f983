/** Mirrors follow their archive: only what differs is written, and what is hidden again is gone. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { rowsOn } from '../../src/mirror/ask.ts';
import { openMirror } from '../../src/mirror/open.ts';
import { patternRows } from '../../src/questions/patterns.ts';
import { execute } from '../postgres/server.ts';
import { sharedServer } from '../postgres/shared.ts';

const BY = { actor: 'test', reason: 'mirror' };
const DEVICES = { text: 'MATCH (d:Device) RETURN d' };
const CONTENT = { text: 'MATCH (c:Component)-[e:ON]->(b:Board) RETURN c, e, b, c.designator, b.kind' };
const folder = mkdtempSync(join(tmpdir(), 'caseback-mirror-'));
let server: string;
const schema = `mirror_follows_${process.pid}`;

beforeAll(async () => {
  server = await sharedServer();
});
afterAll(async () => {
  await execute(server, `DROP SCHEMA IF EXISTS ${schema} CASCADE`);
  rmSync(folder, { recursive: true, force: true });
});

const lines = (rows: readonly (readonly unknown[])[]) => rows.map((row) => JSON.stringify(row)).sort();

describe.each(['a database', 'a folder'])('in %s', (kind) => {
  const place = () => (kind === 'a folder' ? join(folder, 'mirror') : `${server}?schema=${schema}`);

  test('it is made, brought along and shows what its audience sees', async () => {
    const archive = await Archive.open(new MemoryJournal());
    await archive.importDocuments(readFiles(['seed-data']).documents, BY);
    const mirror = await openMirror(place());
    const same = async () => {
      for (const question of [DEVICES, CONTENT]) {
        const [held, own] = [
          await rowsOn(place(), question),
          await patternRows(archive.state('reader'), question),
        ];
        expect(lines(held.rows)).toEqual(lines(own.rows));
        expect(held.watermark).toMatchObject({
          audience: 'reader',
          instant: archive.state('reader').instant,
          digest: expect.stringMatching(/^[0-9a-f]{64}$/),
        });
        expect(Object.keys(held.watermark)).not.toContain('sequence');
      }
    };
    const first = await mirror.bring(archive.state('reader'));
    expect(first).toMatchObject({ written: first.segments, removed: 0, rebuilt: true });
    await same();
    expect(await mirror.bring(archive.state('reader'))).toMatchObject({
      written: 0,
      removed: 0,
      rebuilt: false,
      digest: first.digest,
    });

    // A specimen is recalled, with the dossier it is reported in.
    const [row] = archive.state('reader').specimenRows();
    await archive.recallRecord(row!.id, BY);
    expect(archive.state('reader').specimenRow(row!.id)).toBeUndefined();
    const recalled = await mirror.bring(archive.state('reader'));
    expect(recalled.removed).toBe(1);
    expect(recalled.digest).not.toBe(first.digest);
    expect(recalled.written).toBeLessThan(first.segments / 2);
    await same();
    const gone = { text: `MATCH (c:Component) WHERE c.specimen = '${row!.id}' RETURN c` };
    expect((await rowsOn(place(), gone)).rows).toEqual([]);
    if (kind === 'a folder') {
      const names = readdirSync(place()).filter((name) => name.endsWith('.parquet'));
      const counted = readFileSync(join(place(), 'mirror.json'), 'utf8');
      expect(names.filter((name) => !counted.includes(`"${name}"`))).toEqual([]);
    }

    // What readers see is not replaced by what the desk sees unless it is asked for.
    await expect(mirror.bring(archive.state('desk'))).rejects.toMatchObject({ code: 'CONFLICT' });
    await same();
    await mirror.bring(archive.state('desk'), { rebuild: true });
    const desk = await rowsOn(place(), gone);
    expect(desk.rows.length).toBeGreaterThan(0);
    expect(desk.watermark.audience).toBe('desk');
    await mirror.close();
    await archive.close();
  });

  test('a place without a mirror is told', async () => {
    const empty = kind === 'a folder' ? join(folder, 'none') : `${server}?schema=none_${process.pid}`;
    await expect(rowsOn(empty, DEVICES)).rejects.toMatchObject({ code: 'NOT_FOUND' });
  });
});

test.each([
  ['of another format', '{"format": 1, "audience": "reader", "sequence": 7}', 'CONFLICT'],
  ['that is no JSON', '{"format"', 'BAD_FILE'],
])('a mirror %s is made anew when asked', async (_, manifest, code) => {
  const place = join(folder, code);
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(readFiles(['seed-data']).documents, BY);
  const mirror = await openMirror(place);
  const before = await mirror.bring(archive.state('reader'));
  writeFileSync(join(place, 'mirror.json'), manifest);
  await expect(mirror.bring(archive.state('reader'))).rejects.toMatchObject({
    code,
    message: expect.stringContaining('--rebuild'),
  });
  const again = await mirror.bring(archive.state('reader'), { rebuild: true });
  expect(again).toMatchObject({ rebuilt: true, digest: before.digest });
  expect((await rowsOn(place, DEVICES)).rows).not.toEqual([]);
  await archive.close();
});

test('a folder with other files is left alone', async () => {
  const other = mkdtempSync(join(tmpdir(), 'caseback-other-'));
  writeFileSync(join(other, 'letter.txt'), 'mine');
  const archive = await Archive.open(new MemoryJournal());
  const mirror = await openMirror(other);
  await expect(mirror.bring(archive.state('reader'))).rejects.toMatchObject({ code: 'CONFLICT' });
  expect(readdirSync(other)).toEqual(['letter.txt']);
  rmSync(other, { recursive: true });
  await archive.close();
});

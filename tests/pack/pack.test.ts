import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import jsonld from 'jsonld';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { auditOf } from '../../src/questions/evidence.ts';
import { caseback, Folder } from '../cli/running.ts';
import { publicationsFile } from '../evidence/archive.ts';
import { parseCsv } from '../export/rfc4180.ts';
import { demoArchive } from '../trends/demo.ts';
import { packAt, textIn } from './packs.ts';

const AT = '2026-11-30T09:00:00.000Z';
let archive: Archive;
beforeAll(async () => {
  archive = await demoArchive();
});

describe('a pack', () => {
  test('has every sentence of the publication with what the audit says of it, and nothing else', async () => {
    const view = archive.state('reader');
    const pack = await packAt(view, 'altitude-at-the-wrist', AT);
    const { sentences, state } = JSON.parse(textIn(pack, 'pack.json'));
    const audited = await auditOf(view, 'altitude-at-the-wrist');
    expect(sentences.map((one: { id: string }) => one.id)).toEqual(audited.map(({ id }) => id));
    for (const [at, { support, findings, claim }] of audited.entries())
      expect(sentences[at]).toMatchObject({
        sentence: claim.sentence,
        probability: support.probability,
        findings: findings.map(({ message }) => ({ message })),
        support: support.items.map(({ id, probability }) => ({ id, probability })),
      });
    expect(state).toEqual({ audience: 'reader', instant: AT, name: 'A'.repeat(64) });
    const rows = parseCsv(textIn(pack, 'sentences.csv')).rows;
    expect(rows.map(({ id }) => id)).toEqual(audited.map(({ id }) => id));
  });

  test('lists every file but itself with its SHA-256, sorted, as sha256sum writes it', async () => {
    const { files } = await packAt(archive.state('reader'), 'two-ends-of-a-board', AT);
    const paths = files.map(({ path }) => path);
    expect(paths).toEqual([...paths].sort());
    const lines = files
      .filter(({ path }) => path !== 'manifest-sha256.txt')
      .map(({ path, content }) => `${createHash('sha256').update(content).digest('hex')}  ${path}\n`);
    expect(textIn({ files }, 'manifest-sha256.txt')).toBe(lines.join(''));
  });

  test('of equal states has equal bytes, whoever made it, and of the next day others', async () => {
    const bytes = async (from: Archive, instant: string) =>
      (await packAt(from.state('reader'), 'altitude-at-the-wrist', instant)).files.map(
        ({ path, content }) => [path, Buffer.from(content).toString('base64')],
      );
    const first = await bytes(archive, AT);
    expect(await bytes(await demoArchive(), AT)).toEqual(first);
    expect(await bytes(archive, '2026-12-01T09:00:00.000Z')).not.toEqual(first);
  });

  // JSON-LD read by jsonld, an independent processor.
  test('has its sentences as linked data, each with all that supports it', async () => {
    const pack = await packAt(archive.state('reader'), 'altitude-at-the-wrist', AT);
    const expanded = await jsonld.expand(JSON.parse(textIn(pack, 'sentences.jsonld')), {
      documentLoader: async (url: string) => {
        throw new Error(`${url} is wanted`);
      },
    } as never);
    const ids = (expanded as unknown as readonly { readonly '@id': string }[]).map((one) => one['@id']);
    for (const { id, support } of pack.contents.statement.sentences)
      for (const of of [id, ...support.map((item) => item.id)].filter((one) => !one.startsWith('figure ')))
        expect(
          ids.some((one) => one.endsWith(`/${of}`)),
          of,
        ).toBe(true);
  });

  test('of a comparison has the table and the chart of both devices', async () => {
    const files = [
      publicationsFile([
        {
          id: 'two-straps',
          kind: 'article',
          title: 'Two straps',
          claims: [
            {
              id: 'c1',
              sentence: 'The Sennit 4 has more accelerometers than the Sennit 3.',
              supportedBy: ['tarn-sennit-4', 'tarn-sennit-3'],
              figures: [
                { compare: 'Accelerometer', devices: ['tarn-sennit-4', 'tarn-sennit-3'], says: 'more' },
              ],
            },
          ],
        },
      ]),
    ];
    const other = await demoArchive();
    await other.importDocuments(files, { actor: 'bench', reason: 'test' });
    const pack = await packAt(other.state('reader'), 'two-straps', AT);
    const rows = parseCsv(textIn(pack, 'figures/c1-figure-1.csv')).rows;
    expect(rows.find(({ key }) => key === 'sensors.Accelerometer')).toMatchObject({ section: 'sensors' });
    expect(pack.contents.charts[0]?.chart.title).toMatch(/^Sensors: /u);
    expect(pack.files.filter(({ path }) => path.startsWith('charts/'))).toHaveLength(3);
  });

  test('lights on each board what the sentences name there', async () => {
    const { contents } = await packAt(archive.state('reader'), 'two-ends-of-a-board', AT);
    expect(contents.boards.map(({ id }) => id)).toContain('thovane-calcar-2/a/main');
    expect(contents.boards[0].drawing.description).toMatch(/U2\b.*U3\b/su);
  });
});

describe('the command', () => {
  const folder = new Folder();
  afterAll(() => folder.remove());
  const run = (...args: string[]) => caseback(args, { cwd: folder.path });
  const bytes = (file: string) => readFileSync(join(folder.path, file));

  // Held to another surface: the same numbers as "caseback trend --format csv" of the reader's archive.
  test('gives the figures that "trend" gives, byte for byte', async () => {
    const asOf = new Date().toISOString();
    const made = await run('pack', 'altitude-at-the-wrist', '--demo', '--out', 'pack');
    expect([made.code, made.out]).toEqual([0, '']);
    expect(made.err).toMatch(/\d+ files with 2 sentences written to pack, as readers see it/u);
    const trend = await run(
      ...['trend', 'category:PressureSensor', '--body-site', 'wrist', '--from', '2016', '--demo'],
      ...['--audience', 'reader', '--format', 'csv'],
    );
    expect(bytes('pack/figures/c1-figure-1.csv').toString()).toBe(trend.out);
    expect(asOf < JSON.parse(bytes('pack/pack.json').toString()).state.instant).toBe(true);
  });

  test('refuses a folder with something in it, a place that is missing, and a publication that is hidden or was never there', async () => {
    await run('devices', '--demo');
    folder.write('full/there.txt', 'x');
    const filled = await run('pack', 'altitude-at-the-wrist', '--demo', '--out', 'full');
    expect([filled.code, filled.err]).toEqual([2, expect.stringContaining('full is not empty')]);
    const nowhere = await run('pack', 'altitude-at-the-wrist', '--demo');
    expect([nowhere.code, nowhere.err]).toEqual([2, expect.stringContaining('--out is missing')]);
    const unknown = await run('pack', 'never-was', '--demo', '--out', 'none');
    expect([unknown.code, unknown.err]).toEqual([1, expect.stringContaining('never-was')]);
  });

  test('makes the same ZIP of the same instant in every time zone', async () => {
    const [one, other] = ['one.zip', 'other.zip'];
    await run('devices', '--demo');
    const asOf = new Date().toISOString();
    for (const [file, zone] of [
      [one, 'America/New_York'],
      [other, 'Asia/Tokyo'],
    ]) {
      const args = ['pack', 'altitude-at-the-wrist', '--demo', '--out', file as string, '--as-of', asOf];
      const { code, err } = await caseback(args, { cwd: folder.path, env: { TZ: zone as string } });
      expect([code, err]).toEqual([0, expect.any(String)]);
    }
    expect(bytes(one).equals(bytes(other))).toBe(true);
  });
});

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { digestOf } from '../../src/photos/bytes.ts';
import { CHIP, chipPhoto } from '../photo-reading/chip-photo.ts';
import { caseback, Folder } from './running.ts';

// An invented band with one chip, photographed: a picture drawn for this test.

const folder = new Folder();
const cwd = folder.path;
const on = (...words: readonly string[]) => caseback([...words, '--data', 'archive'], { cwd });

beforeAll(async () => {
  const picture = await chipPhoto(['QWR', '482']);
  writeFileSync(join(cwd, 'top.png'), picture);
  const dossier = {
    caseback: 'dossier/1',
    device: {
      id: 'my-band',
      name: 'Band',
      maker: 'tarn',
      released: '2019',
      bodySite: 'wrist',
      invented: true,
    },
    specimen: { id: 'a' },
    teardown: { on: '2025-07-05', by: 'I. Example' },
    boards: [{ id: 'main', kind: 'rigid', sides: ['top'], outline: { length: 30, width: 20 } }],
    components: [{ id: 'U1', board: 'main', side: 'top' }],
    photos: [
      {
        ...{
          id: 'top',
          sha256: digestOf(picture),
          file: 'top.png',
          credit: 'I. Example',
          licence: 'CC-BY-4.0',
        },
        regions: [{ of: 'U1', xywh: CHIP }],
      },
    ],
  };
  const makers = {
    caseback: 'catalogue/1',
    makers: [{ id: 'tarn', name: 'Tarn', makes: ['devices'], invented: true }],
  };
  writeFileSync(join(cwd, 'band.json'), JSON.stringify(dossier));
  writeFileSync(join(cwd, 'makers.json'), JSON.stringify(makers));
  const { code, err } = await on(
    'import',
    'makers.json',
    'band.json',
    '--actor',
    'I. Example',
    '--reason',
    'test',
  );
  if (code !== 0) throw new Error(err);
});
afterAll(() => folder.remove());

test('a marking is suggested on the command line, confirmed, and told with its source', async () => {
  const read = await on('read-photo', 'my-band/a/U1');
  expect(read.code).toBe(0);
  expect(read.err).toMatch(/Suggested by a program, not recorded: "QWR \/ 482" \(my-band\/a\/top\)/u);
  expect((await on('component', 'my-band/a/U1')).out).not.toMatch(/QWR/u);

  const done = await on(
    'confirm-reading',
    'my-band/a/U1',
    'on-photo',
    'QWR / 4?2',
    '--reason',
    'read on the photo',
  );
  expect(done.err).toMatch(/my-band\/a\/on-photo recorded/u);
  const { out } = await on('component', 'my-band/a/U1');
  expect(out).toMatch(/QWR.*4\?2/u);
  expect(out).toMatch(/suggested as "QWR.*482" by tesseract\.js/u);
});

test('candidates tell apart what is recorded and what would be if a reading were confirmed', async () => {
  const plain = await on('candidates', 'my-band/a/U1', '--format', 'json');
  const both = await on('candidates', 'my-band/a/U1', '--on-photos', '--format', 'json');
  const { onPhotos, ...rest } = JSON.parse(both.out);
  expect(rest).toEqual(JSON.parse(plain.out));
  expect(onPhotos).toMatchObject({ photo: 'my-band/a/top', suggestion: { marking: 'QWR\n482', turned: 0 } });
});

test('an option that is no number is told with the fix', async () => {
  const { code, err } = await on('read-photo', 'my-band/a/top', '--region', '1,2,x,4');
  expect(code).toBe(2);
  expect(err).toMatch(/--region has "x"; write numbers, such as 12\.5,30,8,6/u);
});

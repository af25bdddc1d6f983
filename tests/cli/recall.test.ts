import { afterAll, beforeAll, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder(FILES);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
beforeAll(async () => {
  await run('create-archive', '--without-patterns');
  await run('import', 'catalogue.yaml', '--reason', 'the catalogue');
});
afterAll(() => folder.remove());

test('an import and a recall say what readers see since', async () => {
  const devices = async (...args: string[]) =>
    (JSON.parse((await run('devices', '--format', 'json', ...args)).out) as { id: string }[]).map(
      ({ id }) => id,
    );
  const said = ({ out, err }: { out: string; err: string }) => `${out}${err}`;
  expect(said(await run('import', 'band-1.yaml', '--reason', 'opened'))).toMatch(
    /Readers see \d+ more: .*ferrule-band-1/u,
  );
  expect(await devices('--audience', 'reader')).toEqual(['ferrule-band-1']);
  const recalled = await run('recall', 'ferrule-band-1', '--reason', 'disputed');
  expect(recalled.code).toBe(0);
  expect(said(recalled)).toMatch(/Readers no longer see \d+: .*ferrule-band-1/u);
  expect([await devices('--audience', 'reader'), await devices()]).toEqual([[], ['ferrule-band-1']]);
  const [device] = JSON.parse((await run('devices', '--format', 'json')).out);
  expect(device.recalled).toEqual({
    by: expect.any(String),
    on: expect.stringMatching(/Z$/u),
    reason: 'disputed',
  });
  expect((await run('devices')).out).toMatch(/recalled on \d{4}-\d\d-\d\d by /u);
  const query =
    '{ device(id: "ferrule-band-1") { recalled { by on reason } specimens { recalled { reason } } } }';
  const asked = async (...args: string[]) =>
    JSON.parse((await run('ask', '--query', query, ...args)).out).data.device;
  expect(await asked()).toEqual({
    recalled: device.recalled,
    specimens: [{ recalled: { reason: 'disputed' } }],
  });
  expect(await asked('--audience', 'reader')).toBeNull();
  // Filed anew it is seen as it says, and recalled no more.
  folder.write('band-1.yaml', `${FILES['band-1.yaml']}note: Looked at again.\n`);
  expect((await run('import', 'band-1.yaml', '--reason', 'again')).code).toBe(0);
  expect((await asked()).specimens).toEqual([{ recalled: null }]);
  const unknown = await run('recall', 'ferrule-band-9', '--reason', 'disputed');
  expect([unknown.code, unknown.err.includes('ferrule-band-9')]).toEqual([1, true]);
});

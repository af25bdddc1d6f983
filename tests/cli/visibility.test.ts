import { afterAll, beforeAll, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder(FILES);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
beforeAll(async () => {
  expect((await run('import', 'catalogue.yaml', 'band-1.yaml', 'band-2.yaml')).code).toBe(0);
});
afterAll(() => folder.remove());

test('a structure is saved as a pattern that readers do not see', async () => {
  const saving = [
    'structures',
    '--min-support',
    '2',
    '--min-size',
    '2',
    '--number',
    '1',
    '--save',
    'held-back',
  ];
  expect((await run(...saving, '--visibility', 'draft', '--reason', 'r')).code).toBe(0);
  const seenBy = async (audience: string) =>
    (await run('ask', '--audience', audience, '--query', '{ pattern(id: "held-back") { visibility } }')).out;
  expect(JSON.parse(await seenBy('desk')).data.pattern).toEqual({ visibility: 'DRAFT' });
  expect(JSON.parse(await seenBy('reader')).data.pattern).toBeNull();
  expect((await run('structures', '--visibility', 'draft')).err).toContain('--visibility goes with --save');
});

/** What the J1 of a band is identified as, to an audience. */
async function identified(band: number, audience: string): Promise<unknown> {
  const query = `{ node(id: "ferrule-band-${band}/a/J1") { ... on Component { identification { candidates { probability } visibility embargoUntil } } } }`;
  const { out, err } = await run('ask', '--audience', audience, '--query', query);
  expect(err).toBe('');
  return JSON.parse(out).data.node.identification;
}

test('an identification as a draft or until an instant is seen by the desk alone', async () => {
  const j1 = (band: number) => [`ferrule-band-${band}/a/J1`, 'FlexConnector=0.625', '--reason', 'seen'];
  const draft = await run('identify', ...j1(1), '--visibility', 'draft');
  const embargo = await run('identify', ...j1(2), '--embargo-until', '2998-05-01T00:00:00Z');
  expect([draft.code, embargo.code]).toEqual([0, 0]);
  const candidates = [{ probability: 0.625 }];
  expect(await identified(1, 'desk')).toEqual({ candidates, visibility: 'DRAFT', embargoUntil: null });
  expect(await identified(2, 'desk')).toMatchObject({ candidates, visibility: 'EMBARGOED' });
  for (const band of [1, 2])
    expect(JSON.stringify(await identified(band, 'reader')) ?? 'null').not.toContain('0.625');
});

test('an embargo has an end, and an end an embargo', async () => {
  const asked = ['identify', 'ferrule-band-1/a/J1', 'FlexConnector=0.5', '--reason', 'r'];
  for (const [options, why] of [
    [['--visibility', 'embargoed'], 'needs an end'],
    [['--visibility', 'draft', '--embargo-until', '2998-05-01T00:00:00Z'], 'does not go with'],
    [['--embargo-until', 'tomorrow'], 'write an instant as'],
  ] as const) {
    const { code, err } = await run(...asked, ...options);
    expect([code, err]).toEqual([2, expect.stringContaining(why)]);
  }
});

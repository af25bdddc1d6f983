import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Receiver, receiver, until, verified } from '../service/webhooks/receiver.ts';
import { FILES } from './invented.ts';
import { addressOf, caseback, ended, Folder, start } from './running.ts';

const FEED = JSON.stringify({
  caseback: 'catalogue/1',
  feeds: [{ id: 'count', title: 'Devices', question: '{ devices { totalCount } }' }],
});
const folder = new Folder({ ...FILES, 'feed.json': FEED });
const cwd = folder.path;
let got: Receiver;
const allowed = () => ({ WEBHOOK_HTTP: got.origin, WEBHOOK_RANGES: '127.0.0.1' });
const run = (...args: string[]) => caseback(args, { cwd, env: allowed() });
beforeAll(async () => {
  got = await receiver();
  await run('create-archive', '--without-patterns');
  await run('import', 'catalogue.yaml', 'feed.json', '--reason', 'begun');
});
afterAll(async () => {
  await got.close();
  folder.remove();
});

test('an address is registered, told by a service that runs, and removed', async () => {
  expect((await run('webhooks')).out).toBe('(no rows)\n');
  const added = await run('webhooks', 'add', 'count', '--address', `${got.origin}/hook`);
  expect(added.err).toMatch(
    /^Webhook [\w-]+ is told of the feed count as readers see it\. The secret is shown this once$/mu,
  );
  const secret = added.out.trim();
  const [{ id }] = JSON.parse((await run('webhooks', '--format', 'json')).out);
  const served = start(['serve', '--port', '0'], cwd, allowed());
  try {
    await addressOf(served);
    await run('webhooks', 'test', id);
    await got.until(1);
    expect(verified(secret, got.received[0])).toMatchObject({ type: 'webhook.test' });
    await until(async () => (await run('webhooks', 'messages', id)).out.includes('delivered'));
    await run('import', 'band-1.yaml', '--reason', 'opened');
    await got.until(2);
    expect(verified(secret, got.received[1])).toMatchObject({
      type: 'feed.changed',
      data: { feed: { id: 'count' } },
    });
  } finally {
    served.kill('SIGTERM');
    await ended(served);
  }
  const rotated = await run('webhooks', 'rotate', id, '--hours', '1');
  expect(rotated.out).toMatch(/^whsec_/u);
  expect(rotated.err).toMatch(/signed with the one before, too, until/u);
  const { out } = await run('webhooks', 'list', 'count');
  expect(out).toContain(`${got.origin}/hook`);
  expect(out).not.toContain('whsec_');
  expect((await run('webhooks', 'resume', id)).err).toContain('is on');
  expect((await run('webhooks', 'remove', id)).err).toContain('is removed');
  expect((await run('webhooks')).out).toBe('(no rows)\n');
});

test('a backup leaves webhooks out, since their secrets could be read in it', async () => {
  const secret = (await run('webhooks', 'add', 'count', '--address', `${got.origin}/kept`)).out.trim();
  expect((await run('backup', 'kept.gz')).code).toBe(0);
  expect((await run('restore', 'kept.gz', '--data', 'other')).code).toBe(0);
  expect((await run('webhooks', '--data', 'other')).out).toBe('(no rows)\n');
  expect(secret).toMatch(/^whsec_/u);
});

test('mistakes name the fix', async () => {
  const address = ['--address', 'https://desk.example.org/'];
  const cases: readonly (readonly [string[], number, RegExp])[] = [
    [['lst'], 2, /did you mean "list"/u],
    [['add'], 2, /FEED is missing; write webhooks add FEED/u],
    [['add', 'count'], 2, /--address is missing/u],
    [['add', 'no-such', ...address], 1, /no-such/u],
    [['add', 'count', ...address, '--events', 'feed.change'], 2, /did you mean "feed.changed"/u],
    [['add', 'count', '--address', 'http://desk.example.org/'], 1, /must begin with https/u],
    [['add', 'count', '--address', 'https://192.168.1.1/'], 1, /private \(RFC 1918\)/u],
    [['add', 'count', ...address, '--webhook-ranges', '10.0.0.0/40'], 1, /not an address or a range/u],
    [['list', '--hours', '3'], 2, /--hours goes with rotate/u],
    [['remove'], 2, /ID is missing/u],
    [['remove', 'x', ...address], 2, /go with add/u],
    [['rotate', 'x', '--hours', '200'], 2, /--hours/u],
    [['test', 'x'], 1, /no webhook has the id "x"/u],
    [['messages', 'x'], 1, /no webhook/u],
  ];
  for (const [args, code, said] of cases) {
    const result = await run('webhooks', ...args);
    expect([args, result.code, result.err]).toEqual([args, code, expect.stringMatching(said)]);
  }
});

import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { archiveOf, HIDDEN_LATER, NOW, runStep } from './archives.ts';
import { Asked, difference } from './asking.ts';
import { SECRET } from './hidden.ts';

// The Atom feed says the same to everybody, byte for byte, as if the hidden never was. Its ids are made with the secret of the archive,
// so that both archives are given one and the same.

let archive: Archive;
let whole: Asked;
let desk: Asked;
let seen: Asked;
beforeAll(async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(NOW) });
  archive = await archiveOf('whole');
  const other = await archiveOf('seen');
  for (const one of [archive, other]) vi.spyOn(one, 'secret').mockResolvedValue(new Uint8Array(32));
  [whole, desk, seen] = [
    new Asked(archive, 'reader'),
    new Asked(archive, 'desk'),
    new Asked(other, 'reader'),
  ];
});
afterAll(async () => {
  vi.useRealTimers();
  for (const asked of [whole, seen, desk]) await asked.close();
});

const request = { method: 'GET', url: '/atom.xml' };

test('the feed tells nothing of what is hidden, at the desk neither, and does not change while it is written', async () => {
  const told = await whole.request(request);
  expect(told.status).toBe(200);
  for (const kind of ['device', 'decision', 'correction'])
    expect(told.body).toContain(`<category term="${kind}"/>`);
  expect(told.body).not.toContain(SECRET);
  expect(difference(told, await seen.request(request))).toBeUndefined();
  expect(difference(told, await desk.request(request))).toBeUndefined();
  for (const step of HIDDEN_LATER) await runStep(step, archive);
  expect(difference(told, await whole.request(request))).toBeUndefined();
});

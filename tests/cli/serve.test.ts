import { once } from 'node:events';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { addressOf, caseback, casebackProcess, ended, Folder, headOf, start } from './running.ts';

const folder = new Folder(FILES);
afterAll(() => folder.remove());

async function totalOf(address: string): Promise<number> {
  const answer = await fetch(`${address}/graphql?query={devices{totalCount}}`);
  return ((await answer.json()) as { data: { devices: { totalCount: number } } }).data.devices.totalCount;
}

test('imports of another process are seen; SIGTERM ends it cleanly', async () => {
  await caseback(['create-archive', '--data', 'own'], { cwd: folder.path });
  const child = start(['serve', '--port', '0', '--data', 'own'], folder.path);
  const end = ended(child);
  const address = await addressOf(child);
  expect((await fetch(`${address}/readyz`)).status).toBe(200);
  const before = await totalOf(address);
  expect(before).toBe(0);
  const { code } = await caseback(['import', 'catalogue.yaml', 'band-1.yaml', '--data', 'own'], {
    cwd: folder.path,
  });
  expect(code).toBe(0);
  for (let i = 0; i < 50 && (await totalOf(address)) === before; i++) await pause(100);
  expect(await totalOf(address)).toBe(before + 1);
  const asked = await caseback(
    ['ask', '--url', `${address}/graphql`, '--query', '{ device(id: "ferrule-band-1") { name } }'],
    { cwd: folder.path },
  );
  expect(JSON.parse(asked.out)).toEqual({ data: { device: { name: 'Ferrule Band 1' } } });
  child.kill('SIGTERM');
  child.kill('SIGTERM');
  expect((await end).code).toBe(0);
});

test('folder and port of the environment are those of the options', async () => {
  const bare = { DATA_DIR: 'bare', PORT: '0' };
  await caseback(['create-archive', '--without-patterns'], { cwd: folder.path, env: bare });
  const child = start(['serve'], folder.path, bare);
  const end = ended(child);
  const address = await addressOf(child);
  expect(await totalOf(address)).toBe(0);
  child.kill('SIGINT');
  const { code, err } = await end;
  expect(err).toContain('"caseback import --patterns" brings the library of named patterns');
  expect(code).toBe(0);
  expect((await headOf(join(folder.path, 'bare'))).sequence).toBe(0);
});

test('a port in use gives a clear message', async () => {
  const taken = createServer().listen(0, '127.0.0.1');
  await once(taken, 'listening');
  const { port } = taken.address() as { port: number };
  const { code, err, out } = await casebackProcess(['serve', '--port', String(port), '--data', 'bare'], {
    cwd: folder.path,
  });
  taken.close();
  expect(err).toContain(`port ${port} on 127.0.0.1 is in use`);
  expect(err).not.toMatch(/^\s+at /mu);
  expect(out).toBe('');
  expect(code).toBe(4);
});

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { caseback, Folder } from './running.ts';

// "draw --diagram" of a device whose chips hang one behind the other, so that its sheet is long.

const CHIPS = 140;
const folder = new Folder();
afterAll(() => folder.remove());
const run = (...args: string[]) => caseback([...args, '--data', 'data'], { cwd: folder.path });

beforeAll(async () => {
  const chips = Array.from({ length: CHIPS }, (_, i) => `U${i + 1}`);
  writeFileSync(
    join(folder.path, 'files.yaml'),
    `caseback: dossier/1
device: { id: chain-1, name: Chain, maker: spool, released: 2020-01, bodySite: wrist, invented: true }
specimen: { id: a }
teardown: { on: 2024-01-02, by: A. Bench }
components:
${chips.map((id) => `  - { id: ${id} }`).join('\n')}
connections:
${chips
  .slice(1)
  .map((id, i) => `  - { between: [${chips[i]}, ${id}], medium: trace, bus: SPI, lines: 4 }`)
  .join('\n')}
`,
  );
  writeFileSync(
    join(folder.path, 'makers.yaml'),
    'caseback: catalogue/1\nmakers: [{ id: spool, name: Spool, makes: [devices] }]\n',
  );
  expect((await run('create-archive')).code).toBe(0);
  const imported = await run('import', 'makers.yaml', 'files.yaml', '--reason', 'test');
  expect(imported.code, imported.err).toBe(0);
});

test('a block diagram goes to standard output as SVG', async () => {
  const { code, out } = await run('draw', 'chain-1', '--diagram');
  expect(code).toBe(0);
  expect(out).toMatch(/^<svg /u);
  expect(out).toContain(`>U${CHIPS}</text>`);
});

test('a sheet too large for 300 dots an inch is drawn at fewer, and that is said', async () => {
  const drawn = await run('draw', 'chain-1/a', '--diagram', '--format', 'png', '--out', 'blocks.png');
  expect(drawn.code, drawn.err).toBe(0);
  expect(drawn.err).toContain('200 dots an inch');
  // PNG (third edition) 11.2.1: width and height follow the name of the first chunk.
  const png = readFileSync(join(folder.path, 'blocks.png'));
  expect(png.readUInt32BE(16)).toBe(Math.ceil((170 / 25.4) * 200));
  expect(png.readUInt32BE(16) * png.readUInt32BE(20)).toBeLessThan(40e6);
});

test.each([
  [['chain-1', '--diagram', '--side', 'top'], '--side goes with boards'],
  [['chain-1', 'chain-1/a', '--diagram'], 'a single device, specimen or board'],
  [['chain-1', '--passives'], '--passives goes with --diagram'],
])('%j is refused', async (args, message) => {
  const { code, err } = await run('draw', ...args);
  expect(code).toBe(2);
  expect(err).toContain(message);
});

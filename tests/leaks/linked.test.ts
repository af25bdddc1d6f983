import { beforeAll, expect, test } from 'vitest';
import { linkedRecord } from '../../src/linked/document.ts';
import type { State } from '../../src/state/state.ts';
import { everyId } from '../export/every-id.ts';
import { exported } from '../linked/reading.ts';
import { archiveOf } from './archives.ts';
import { HIDDEN_IDS, SECRET } from './hidden.ts';

// Linked data for readers: of an archive that hides things, and of one in which the hidden never was.

let whole: State;
let seen: State;
let desk: State;
beforeAll(async () => {
  const archive = await archiveOf('whole');
  // The desk asks first, so that whatever both audiences share has been made from everything.
  desk = archive.state('desk');
  await exported(desk);
  whole = archive.state('reader');
  seen = (await archiveOf('seen')).state('reader');
}, 120_000);

async function told(state: State, id: string): Promise<string> {
  try {
    return JSON.stringify(await linkedRecord(state, id));
  } catch (error) {
    return String(error);
  }
}

test('everything is written alike, with the same losses, and the desk has more', async () => {
  const [one, other] = [await exported(whole), await exported(seen)];
  expect(one.text === other.text).toBe(true);
  expect(one.losses).toEqual(other.losses);
  const all = await exported(desk);
  expect(all.text.length).toBeGreaterThan(one.text.length);
  expect(all.text).toContain(SECRET);
  expect(one.text).not.toContain(SECRET);
  // The context alone has the word.
  expect(one.text.slice(one.text.indexOf('"@graph"'))).not.toContain('"visibility"');
}, 60_000);

test('each record by itself, of the hidden and of the visible', async () => {
  const ids = new Set([...everyId(desk), ...everyId(seen), ...HIDDEN_IDS.map(({ value }) => String(value))]);
  expect(ids.size).toBeGreaterThan(100);
  const differing: string[] = [];
  for (const id of ids) if ((await told(whole, id)) !== (await told(seen, id))) differing.push(id);
  expect(differing).toEqual([]);
  const hidden = [...everyId(desk)].filter((id) => !everyId(whole).has(id));
  expect(hidden.length).toBeGreaterThan(5);
  for (const id of hidden) expect(await told(whole, id), id).toMatch(/^CasebackError|Error/u);
}, 120_000);

import { afterAll, beforeAll, expect, test } from 'vitest';
import { patternPresence } from '../../src/patterns/verdict.ts';
import { decisionsOf } from '../../src/questions/decisions.ts';
import { findPattern, nearPattern, patternRows } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { demo } from '../presence/archives.ts';
import { type Served, serve } from '../service/serving.ts';

// What a search that was cut short says of what it has not searched, from the engine to the API. The number of specimens
// is counted by listing them, not by the engine.

const EVERYTHING = 'MATCH (b:Board) RETURN b';
/** More rows than are ever given. */
const ENDLESS = 'MATCH (a), (b), (c), (d), (e), (f) RETURN a, b';

let state: State;
let reader: Served;
beforeAll(async () => {
  state = (await demo()).state('desk');
  reader = await serve();
});
afterAll(() => reader?.close());

const withBoards = () =>
  state
    .devices()
    .flatMap(({ id }) => state.specimensOf(id))
    .filter((row) => (state.specimen(row.id)?.boards.size ?? 0) > 0).length;

test('devices: how many specimens were searched, and what is left says so', async () => {
  const whole = await findPattern(state, { text: EVERYTHING });
  expect([whole.complete, whole.note, whole.searched]).toEqual([true, undefined, undefined]);
  const cut = await findPattern(state, { text: EVERYTHING, budgets: { rows: 3 } });
  expect(cut.complete).toBe(false);
  expect(cut.searched).toEqual({ segments: 3, of: withBoards() });
  expect(cut.note).toContain(`3 of ${withBoards()} specimens that could have a match were searched`);
  // What was cut short is not kept in place of the answer.
  expect((await findPattern(state, { text: EVERYTHING })).devices).toHaveLength(whole.devices.length);
});

test('rows and near matches say it in words', async () => {
  const text = 'MATCH (a:Board)<-[:ON]-(x), (y:Sensor), (z:Connector) RETURN a, x';
  const rows = await patternRows(state, { text, budgets: { steps: 1 } });
  expect(rows.complete).toBe(false);
  expect(rows.note).toMatch(/^The number of steps was used up: \d+ of \d+ specimens .* there may be more/u);
  expect(rows.searched?.segments).toBeLessThan(rows.searched?.of ?? 0);
  expect(rows.searched?.of).toBeLessThanOrEqual(withBoards());
  const near = await nearPattern(state, { text, budgets: { steps: 1 } });
  expect([near.complete, near.note]).toEqual([false, expect.stringContaining('steps')]);
});

test('whether a device has a pattern: the reason says that not everything was searched', async () => {
  const { id } = state.device('dunmarrow-leadline-5') ?? state.devices()[0];
  const text = 'MATCH (a:Sensor), (b:Processor) RETURN a, b';
  expect((await patternPresence(state, { text }, id)).why).not.toContain('cancelled');
  // Another text, since answers are kept by theirs.
  const { why } = await patternPresence(
    state,
    { text: `${text}, 1 AS one`, signal: AbortSignal.abort() },
    id,
  );
  expect(why).toContain('The query was cancelled: 0 of 1 specimens');
});

test('decisions of a pattern in all devices are refused when not all could be searched', async () => {
  const { id } = state.patterns().find(({ scope }) => scope !== 'archive') as { readonly id: string };
  const refused = decisionsOf(state, { pattern: id }, AbortSignal.abort());
  await expect(refused).rejects.toMatchObject({
    code: 'OUT_OF_BUDGET',
    message: expect.stringMatching(/ask for those of one device\. .*specimens that could have a match/u),
  });
});

test('the API hands on what was not searched', async () => {
  const { patternRows: rows } = await reader.ask(
    `{ patternRows(text: "${ENDLESS}") { isComplete note searched { specimens of } } }`,
  );
  expect(rows.isComplete).toBe(false);
  expect(rows.note).toMatch(/^The limit of rows was reached: .*there may be more/u);
  const { findPattern: whole } = await reader.ask(
    `{ findPattern(text: "${EVERYTHING}") { isComplete note searched { specimens of } nearMatches { isComplete note } } }`,
  );
  expect(whole).toEqual({
    isComplete: true,
    note: null,
    searched: null,
    nearMatches: { isComplete: true, note: null },
  });
});

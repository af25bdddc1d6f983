import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { designatorOf, STANDARD_LETTERS } from '../../src/model/designator.ts';
import {
  componentId,
  type Id,
  isInside,
  type LocalId,
  lastOfId,
  parseDecisionId,
  parseId,
  parseLocalId,
  parseMemberId,
  parseThingId,
  printId,
  printLocalId,
  recordOfId,
  specimenNamed,
  specimenOfId,
  thingId,
} from '../../src/model/ids.ts';

const word = fc.stringMatching(/^[a-z0-9]{1,6}$/u);
const slug = fc.array(word, { minLength: 1, maxLength: 3 }).map((words) => words.join('-'));
const partNumber = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._+-]{0,12}$/u);
const designator = fc
  .tuple(
    fc.constantFrom(...Object.keys(STANDARD_LETTERS)),
    fc.integer({ min: 1, max: 99_999 }),
    fc.constantFrom('', 'A', 'Z'),
  )
  .map((parts) => parts.join(''));
const pin = fc.stringMatching(/^[A-Za-z0-9_+~-]{1,8}$/u);
const board = fc.option(slug, { nil: undefined });

const localId: fc.Arbitrary<LocalId> = fc.oneof(
  slug.map((id) => ({ form: 'plain', id }) as const),
  fc.tuple(board, designator).map(([on, letters]) => ({
    form: 'component' as const,
    ...(on === undefined ? {} : { board: on }),
    designator: letters,
  })),
  fc.tuple(board, designator, pin).map(([on, letters, name]) => ({
    form: 'pin' as const,
    ...(on === undefined ? {} : { board: on }),
    designator: letters,
    pin: name,
  })),
);

const anyId: fc.Arbitrary<Id> = fc.oneof(
  slug.map((record) => ({ form: 'record', record }) as const),
  fc
    .tuple(slug, fc.oneof(slug, partNumber))
    .map(([record, member]) => ({ form: 'member', record, member }) as const),
  fc
    .tuple(slug, slug, localId)
    .map(
      ([device, specimen, local]) =>
        ({ form: 'thing', device, specimen, local: printLocalId(local) }) as const,
    ),
  fc.tuple(slug, slug).map(([device, pattern]) => ({ form: 'decision', device, pattern }) as const),
);

describe('an id', () => {
  test('parses to what was printed, for every kind', () => {
    fc.assert(
      fc.property(anyId, (id) => {
        expect(parseId(printId(id))).toEqual(id);
      }),
      { numRuns: 2_000, seed: 10 },
    );
  });

  test('is written as it was read', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('a', 'B', '1', '-', '/', ':', '.') }), (text) => {
        const id = parseId(text);
        if (id) expect(printId(id)).toBe(text);
      }),
      { numRuns: 5_000, seed: 11 },
    );
  });

  test.each<[string, Id | undefined]>([
    ['tarn-sennit-3', { form: 'record', record: 'tarn-sennit-3' }],
    ['correction-1', { form: 'record', record: 'correction-1' }],
    ['quistle/QWR4T10', { form: 'member', record: 'quistle', member: 'QWR4T10' }],
    [
      'tarn-sennit-3/a/teardown',
      { form: 'thing', device: 'tarn-sennit-3', specimen: 'a', local: 'teardown' },
    ],
    ['tarn-sennit-3/a/main:C1', { form: 'thing', device: 'tarn-sennit-3', specimen: 'a', local: 'main:C1' }],
    ['tarn-sennit-3:one-chip', { form: 'decision', device: 'tarn-sennit-3', pattern: 'one-chip' }],
    ['', undefined],
    ['/', undefined],
    ['a/', undefined],
    ['a//U3', undefined],
    ['a/b/c/d', undefined],
    [':p', undefined],
    ['d:', undefined],
    ['d:p:q', undefined],
  ])('%s', (text, id) => expect(parseId(text)).toEqual(id));

  test('gives its steps in the short ways as in the long', () => {
    fc.assert(
      fc.property(anyId, (id) => {
        const text = printId(id);
        const steps = text.split('/');
        expect(parseThingId(text) !== undefined).toBe(steps.length === 3);
        expect(parseMemberId(text) !== undefined).toBe(steps.length === 2);
        expect(parseDecisionId(text) !== undefined).toBe(id.form === 'decision');
        expect(specimenNamed(text)).toBe(steps.slice(0, 2).join('/'));
        if (steps.length === 1) return;
        expect(recordOfId(text)).toBe(steps[0]);
        expect(lastOfId(text)).toBe(steps.at(-1));
        expect(specimenOfId(text)).toBe(steps.slice(0, -1).join('/'));
        expect(isInside(text, recordOfId(text))).toBe(true);
        expect(isInside(`${steps[0]}-x/${steps[1]}`, recordOfId(text))).toBe(false);
        expect(isInside(text, text)).toBe(false);
      }),
      { numRuns: 1_000, seed: 12 },
    );
  });
});

describe('a local id', () => {
  test('reads back as what was written, with board and pin or without', () => {
    fc.assert(
      fc.property(localId, (id) => {
        expect(parseLocalId(printLocalId(id))).toEqual(id);
      }),
      { numRuns: 2_000, seed: 13 },
    );
  });

  test('stays one step of a global id', () => {
    fc.assert(
      fc.property(slug, slug, localId, (device, specimen, local) => {
        const id = thingId(`${device}/${specimen}`, printLocalId(local));
        expect(lastOfId(id)).toBe(printLocalId(local));
        expect(parseDecisionId(id)).toBeUndefined();
      }),
      { numRuns: 500, seed: 14 },
    );
  });

  test.each<[string, LocalId | undefined]>([
    ['U3', { form: 'component', designator: 'U3' }],
    ['main:C1', { form: 'component', board: 'main', designator: 'C1' }],
    ['main:C1.2', { form: 'pin', board: 'main', designator: 'C1', pin: '2' }],
    ['U3.SDA', { form: 'pin', designator: 'U3', pin: 'SDA' }],
    ['o2', { form: 'plain', id: 'o2' }],
    ['teardown', { form: 'plain', id: 'teardown' }],
    ['u3', { form: 'plain', id: 'u3' }],
    ['ZZ3', { form: 'component', designator: 'ZZ3' }],
    ['U$5', { form: 'component', designator: 'U$5' }],
    ['U7.P0.18/NRESET', { form: 'pin', designator: 'U7', pin: 'P0.18/NRESET' }],
    ['Main:C1', undefined],
    ['main:c1', undefined],
    ['main:C1.', undefined],
    ['main:C1.2.3', { form: 'pin', board: 'main', designator: 'C1', pin: '2.3' }],
    ['main:C1.2:3', undefined],
    ['U3/4', undefined],
    ['', undefined],
  ])('%s', (text, id) => expect(parseLocalId(text)).toEqual(id));

  test('of a component has its designator, with a board or without', () => {
    fc.assert(
      fc.property(board, designator, (on, letters) => {
        expect(designatorOf(componentId(on, letters))).toBe(letters);
      }),
      { numRuns: 200, seed: 15 },
    );
  });
});

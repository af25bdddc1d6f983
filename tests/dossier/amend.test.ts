import { describe, expect, test } from 'vitest';
import { amend } from '../../src/dossier/amend.ts';
import { planImport } from '../../src/dossier/plan.ts';
import { type Amendment, amendmentSchema } from '../../src/model/correction.ts';
import type { Change } from '../../src/model/entry.ts';
import type { CasebackError } from '../../src/model/problems.ts';
import { documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';
import { Holding } from './holding.ts';

const BY = { actor: 'bench', reason: 'a second look' } as const;
const SPECIMEN = 'tarn-sennit-3/a';
const held = new Holding().apply(
  planImport([documentOf(GOOD_CATALOGUE), documentOf(GOOD_DOSSIER, 'b.yaml')], new Holding(), BY).changes,
);

const changesFor = (written: object): readonly Change[] =>
  amend(amendmentSchema.parse(written) as Amendment, held, BY);
const right = (of: string, field: string, is: unknown) => ({ value: { of, field, is } });

function refusal(written: object): { readonly code: string; readonly message: string } {
  try {
    changesFor(written);
  } catch (error) {
    const { code, message } = error as CasebackError;
    return { code, message };
  }
  throw new Error('it was taken');
}

describe('each kind of amendment is one entry of the journal', () => {
  test('another identification, a further observation, a withdrawal', () => {
    const candidates = [{ part: 'ostrel/OS7', probability: 0.9 }];
    expect(changesFor({ identify: { specimen: SPECIMEN, component: 'U2', candidates } })).toEqual([
      {
        ...BY,
        kind: 'identification-set',
        payload: {
          specimen: SPECIMEN,
          identification: { component: 'U2', candidates, state: 'proposed', basis: [] },
        },
      },
    ]);
    const observation = { id: 'seen-2', about: ['U2'], kind: 'marking', text: 'worn' };
    expect(changesFor({ observe: { specimen: SPECIMEN, ...observation } })).toEqual([
      { ...BY, kind: 'observation-recorded', payload: { specimen: SPECIMEN, observation } },
    ]);
    expect(changesFor({ withdraw: { observation: `${SPECIMEN}/seen-1` } })).toEqual([
      { ...BY, kind: 'observation-withdrawn', payload: { specimen: SPECIMEN, observation: 'seen-1' } },
    ]);
  });

  test('a value of a part, and nothing else of it', () => {
    const [{ kind, payload }] = changesFor(
      right('quistle/QWR4T10', 'parameters.activeCurrent', '12 uA'),
    ) as Extract<Change, { kind: 'record-put' }>[];
    expect(kind).toBe('record-put');
    const before = held.record('parts', 'quistle/QWR4T10');
    expect(payload).toEqual({
      collection: 'parts',
      record: { ...before, parameters: { activeCurrent: { value: 12, unit: 'uA' } } },
    });
  });

  test.each([
    ['of a component', `${SPECIMEN}/U2`, 'pins', 14],
    [
      'of a component, inside a group that is not there yet',
      `${SPECIMEN}/U2`,
      'body',
      { length: 2, width: 1 },
    ],
  ])('a value %s, and nothing else in the dossier', (_, of, field, is) => {
    const [{ payload }] = changesFor(right(of, field, is)) as Extract<Change, { kind: 'dossier-put' }>[];
    const before = held.dossierAsFiled(SPECIMEN);
    const local = of.split('/')[2];
    const expected = {
      ...before,
      components: before?.components.map((one) => (one.id === local ? { ...one, [field]: is } : one)),
    };
    expect(payload).toEqual(expected);
    expect(held.dossierAsFiled(SPECIMEN)).toBe(before);
  });

  test('a value of a device, and nothing else of it', () => {
    const before = held.record('devices', 'tarn-sennit-3');
    expect(changesFor(right('tarn-sennit-3', 'released', '2018-11'))).toEqual([
      {
        ...BY,
        kind: 'record-put',
        payload: { collection: 'devices', record: { ...before, released: '2018-11' } },
      },
    ]);
    expect(refusal(right('tarn-sennit-3', 'visibility', 'draft')).message).toContain(
      '"visibility" is not a field',
    );
  });

  test('null removes a field; a field inside a field is named with a dot, an item by its number', () => {
    const [away] = changesFor(right('tarn-sennit-3', 'mass', null)) as Extract<
      Change,
      { kind: 'record-put' }
    >[];
    expect(away.payload.record).toMatchObject({ id: 'tarn-sennit-3' });
    expect(away.payload.record).not.toHaveProperty('mass');
    const [deep] = changesFor(right(`${SPECIMEN}/U1`, 'at.x', 7)) as Extract<
      Change,
      { kind: 'dossier-put' }
    >[];
    expect(deep.payload.components[0].at).toEqual({ x: 7, y: 5 });
    const [item] = changesFor(right('quistle/QWR4T10', 'categories.0', 'Gyroscope')) as Extract<
      Change,
      { kind: 'record-put' }
    >[];
    expect(item.payload.record).toMatchObject({ categories: ['Gyroscope'] });
  });
});

describe('invalid values are refused by field, with the fix', () => {
  test.each([
    [right('tarn-sennit-3', 'released', '2017-13'), 'released: "2017-13" is not a valid date — write "2019"'],
    [
      right('tarn-sennit-3', 'mass', '12 V'),
      'mass: "12 V" is in V, which does not convert to g — write it in g',
    ],
    [right('tarn-sennit-3', 'maker', 'trn'), 'maker: no maker "trn"'],
    [right('tarn-sennit-3', 'maker', 'trn'), 'did you mean "tarn"?'],
    [right('tarn-sennit-3', 'colour', 'red'), 'colour: "colour" is not a field here — the fields are'],
    [right(`${SPECIMEN}/U1`, 'pins', -1), 'pins: -1 is too small — write more than 0'],
    [right(`${SPECIMEN}/U1`, 'board', 'sensr'), 'board: no board is called "sensr" in this dossier —'],
    [right(`${SPECIMEN}/U1`, 'at', { x: 99, y: 1 }), 'at: U1 at (99, 1) mm lies off board "main"'],
    [
      right('quistle/QWR4T10', 'categories', ['Gyroscop']),
      'categories: "Gyroscop" is not a term of the component taxonomy — did you mean "Gyroscope"?',
    ],
    [right('quistle/QWR4T10', 'relabels', 'ostrel/OS9'), 'relabels: no part "ostrel/OS9"'],
    [right('quistle/QWR4T10', 'pins.x', 1), 'pins.x: '],
    [right('tarn-sennit-3', 'mass', '43 g'), 'mass of tarn-sennit-3 already has this value'],
    [right('quistle/QWR4T10', 'introduced', '2017'), 'introduced of quistle/QWR4T10 already has this value'],
    [
      right('quistle/QWR4T10', 'number', 'QWR1'),
      '"number" is not a field that can be corrected; write it as pins',
    ],
    [right('quistle/QWR4T10', 'maker', 'ostrel'), '"maker" is not a field that can be corrected'],
    [right('tarn-sennit-3', 'id', 'other'), '"id" is not a field that can be corrected'],
    [right(`${SPECIMEN}/U1`, 'id', 'U9'), '"id" is not a field that can be corrected'],
    [right(`${SPECIMEN}/U1`, '__proto__.polluted', true), '"__proto__.polluted" is not a field'],
    [right(`${SPECIMEN}/U1`, 'constructor.prototype', {}), '"constructor" is not a field here'],
    [
      {
        identify: {
          specimen: SPECIMEN,
          component: 'U7',
          candidates: [{ category: 'Display', probability: 1 }],
        },
      },
      'component',
    ],
    [
      {
        identify: {
          specimen: SPECIMEN,
          component: 'U1',
          candidates: [
            { category: 'Display', probability: 0.8 },
            { category: 'Battery', probability: 0.8 },
          ],
        },
      },
      'candidates',
    ],
    [{ observe: { specimen: SPECIMEN, id: 'seen-2', about: ['U7'], kind: 'marking' } }, 'about[0]'],
  ])('%j', (written, said) => {
    const { code, message } = refusal(written);
    expect(code).toBe('BAD_INPUT');
    expect(message).toContain(said);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  test.each([
    [
      right('tarn-sennit-9', 'mass', '1 g'),
      'No part, component, net or device "tarn-sennit-9" is in the archive',
    ],
    [
      right(`${SPECIMEN}/U9`, 'pins', 3),
      `No part, component, net or device "${SPECIMEN}/U9" is in the archive`,
    ],
    [
      right(SPECIMEN, 'condition', 'worn'),
      `No part, component, net or device "${SPECIMEN}" is in the archive`,
    ],
    [{ withdraw: { observation: 'seen-1' } }, 'No observation "seen-1" is in the archive; ids look like'],
    [{ withdraw: { observation: `${SPECIMEN}/seen-9` } }, 'did you mean "seen-1"?'],
    [
      { withdraw: { observation: 'tarn-sennit-3/b/seen-1' } },
      'No specimen "tarn-sennit-3/b" is in the archive',
    ],
  ])('there is no such thing: %j', (written, said) => {
    const { code, message } = refusal(written);
    expect(code).toBe('NOT_FOUND');
    expect(message).toContain(said);
  });

  test('values that contradict the record', () => {
    const again = { observe: { specimen: SPECIMEN, id: 'seen-1', about: ['U1'], kind: 'marking' } };
    expect(refusal(again)).toMatchObject({ code: 'CONFLICT' });
  });

  test('a value that is left out is not removed', () => {
    expect(amendmentSchema.safeParse({ value: { of: 'tarn-sennit-3', field: 'mass' } }).success).toBe(false);
  });
});

describe('a path that leads nowhere', () => {
  // 20,000 steps once overflowed the stack.
  test.each([
    ['of many steps', Array.from({ length: 20_000 }, () => 'a').join('.')],
    ['of one long step', 'a'.repeat(40_000)],
    ['of more steps than records have levels', Array.from({ length: 21 }, () => 'a').join('.')],
  ])('%s is refused, and not quoted at length', (_, field) => {
    for (const of of [`${SPECIMEN}/U1`, 'quistle/QWR4T10', 'tarn-sennit-3']) {
      const { code, message } = refusal(right(of, field, 1));
      expect([code, message.length < 200]).toEqual(['BAD_INPUT', true]);
      expect(message).toContain('is not a field that can be corrected');
    }
  });
});

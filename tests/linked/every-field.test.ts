/**
 * Every field of every record comes out of what is given to other programs: records are filled by walking their schemas, each field that
 * may be left out is left out once, and each number is another once, and the answer must be another one. A new field that is forgotten
 * fails here, also deep inside one that is written as a group.
 */
import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { aspectsOf, glanceText } from '../../src/cli/answers/component-text.ts';
import {
  defaultOf,
  definitionOf,
  fieldsOf,
  isQuantity,
  required,
  type Schema,
  sentenceOf,
  writtenForms,
} from '../../src/dossier/schema-walk.ts';
import { filesOf } from '../../src/export/files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { CATALOGUE, type CatalogueRecord, COLLECTIONS, type Collection } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { componentAtAGlance } from '../../src/questions/component.ts';
import type { State } from '../../src/state/state.ts';
import { exported } from './reading.ts';

type Path = readonly (string | number)[];
type Plain = Record<string, unknown>;

const END = '2099-12-15T09:00:00Z';
const hidden = { visibility: 'embargoed', embargoUntil: END } as const;

/** What refers to something else; whatever is not here is filled in. All invented. */
const DOSSIER: Plain = {
  caseback: 'dossier/1',
  ...hidden,
  device: { id: 'tarn-sennit-2', maker: 'tarn', productLine: 'tarn-sennit', succeeds: ['tarn-sennit-1'] },
  specimen: { id: 'a' },
  teardown: { steps: [{ photo: 'top' }] },
  boards: [
    { id: 'main', outline: { length: 30, width: 20 }, stackedOn: 'flex' },
    { id: 'flex', kind: 'flex' },
  ],
  subsystems: [{ id: 'sensing' }],
  components: [
    {
      id: 'U1',
      board: 'main',
      subsystem: 'sensing',
      inside: 'M1',
      fitted: false,
      pinout: [{ number: '1', name: 'SDA' }],
      marking: '4T10',
    },
    { id: 'U2', board: 'main', marking: '4T11' },
    { id: 'M1', board: 'main' },
  ],
  connections: [{ between: ['U1', 'U2'], basis: ['seen-1'] }],
  nets: [{ id: 'sda', pins: ['U1.1', 'U2'], basis: ['seen-1'] }],
  observations: [
    {
      id: 'seen-1',
      about: ['U1'],
      kind: 'marking',
      marking: '4T10',
      leadsTo: ['U2'],
      photo: 'top',
      corrects: 'seen-0',
      cites: ['letter/c1'],
    },
    { id: 'seen-0', about: ['U1'], kind: 'marking', marking: '4T1O' },
    // U1 in words shows observations that stand.
    { id: 'seen-2', about: ['U1'], kind: 'trace', leadsTo: ['U2'] },
  ],
  identifications: [
    {
      component: 'U1',
      candidates: [{ part: 'quistle/QWR1', maker: 'quistle', probability: 0.7 }],
      basis: ['seen-1'],
      cites: ['letter/c1'],
    },
  ],
  judgements: [{ component: 'U1', part: 'quistle/QWR1' }],
  photos: [{ id: 'top', board: 'main', regions: [{ of: 'U1', xywh: [1, 2, 3, 4] }] }],
};

const RECORDS: Readonly<Record<Collection, Plain>> = {
  makers: { id: 'tarn', ...hidden },
  productLines: { id: 'tarn-sennit', maker: 'tarn', ...hidden },
  devices: {
    id: 'tarn-sennit-1',
    maker: 'tarn',
    productLine: 'tarn-sennit',
    succeeds: ['tarn-sennit-0'],
    ...hidden,
  },
  parts: {
    number: 'QWR1',
    maker: 'quistle',
    categories: ['Accelerometer'],
    pinout: [{ number: '1', name: 'SDA' }],
    relabels: 'quistle/QWR2',
    ...hidden,
  },
  sources: { id: 'note', ...hidden },
  publications: {
    id: 'letter',
    ...hidden,
    claims: [
      {
        id: 'c1',
        supportedBy: ['tarn'],
        figures: [{ share: { category: 'Sensor' }, atLeast: 0.1 }],
        ...hidden,
      },
    ],
  },
  patterns: {
    id: 'two-sensors',
    text: 'MATCH (x:Sensor) RETURN x',
    check: { name: 'averaging', inputs: { count: 'count(x)' } },
    ...hidden,
  },
  feeds: {
    id: 'counts',
    question: '{ devices { totalCount } }',
    variables: { a: 1 },
    rows: 'devices',
    ...hidden,
  },
  listMappings: {
    id: 'places-by-shop',
    columns: [{ heading: 'East', field: 'centreX', unit: 'mil' }],
    sheet: 'Places',
    decimal: 'comma',
    unit: 'mil',
    ...hidden,
  },
};
/** What those refer to. */
const MORE: readonly (readonly [Collection, Plain])[] = [
  ['makers', { id: 'quistle' }],
  ['parts', { number: 'QWR2', maker: 'quistle', categories: ['Gyroscope'] }],
  ['devices', { id: 'tarn-sennit-0', maker: 'tarn' }],
];

/** Values of many forms, of which a schema takes one. */
const VALUES: readonly unknown[] = [
  'Some words',
  'QWR9',
  'some-words',
  'U9',
  'quistle/QWR9',
  '2021-05-04',
  '2021-05-04T10:00:00Z',
  'NO',
  'EUR',
  'IP67',
  'https://example.org',
  'ab'.repeat(32),
  '3.3 V',
  '5 mm',
  '7 g',
  7,
  0.25,
  true,
  false,
];

const accepts = (schema: Schema, value: unknown) =>
  (schema as { safeParse?: (value: unknown) => { success: boolean } }).safeParse?.(value).success === true;
const isGroup = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The form of a schema that a value is written in. */
function formOf(schema: Schema, value: unknown): Schema {
  const forms = writtenForms(schema);
  if (forms.length === 1) return forms[0] as Schema;
  const wanted = Array.isArray(value) ? 'array' : isGroup(value) ? 'object' : undefined;
  const fitting = forms.filter((form) => wanted === undefined || definitionOf(form).type === wanted);
  const keys = isGroup(value) ? Object.keys(value) : [];
  return fitting.find((form) => keys.every((key) => fieldsOf(form).has(key))) ?? required(schema);
}

/** A value with every field that its schema knows; in lists the first item has all. @param missing is told of what cannot be made up */
function filled(schema: Schema, value: unknown, path: Path, missing: string[]): unknown {
  if (isQuantity(schema) && value !== undefined) return value;
  if (value === undefined) return madeUp(schema, path, missing);
  const def = definitionOf(formOf(schema, value));
  if (def.type === 'array' && Array.isArray(value))
    return value.map((item, i) =>
      i === 0
        ? filled(def.element, item, [...path, 0], missing)
        : isGroup(item)
          ? whole(def.element, item, [...path, i])
          : item,
    );
  if (def.type !== 'object' || !isGroup(value)) return value;
  return Object.fromEntries(
    Object.entries(def.shape).map(([name, field]) => [
      name,
      filled(field, value[name], [...path, name], missing),
    ]),
  );
}

/** A value with the fields that its schema asks for. */
function whole(schema: Schema, value: Plain, path: Path): Plain {
  const fields = Object.entries(
    (definitionOf(formOf(schema, value)) as { shape: Record<string, Schema> }).shape,
  );
  const needed = fields.filter(([name, field]) => value[name] === undefined && !accepts(field, undefined));
  return {
    ...value,
    ...Object.fromEntries(needed.map(([name, field]) => [name, madeUp(field, [...path, name], [])])),
  };
}

function madeUp(schema: Schema, path: Path, missing: string[]): unknown {
  const usual = JSON.stringify(defaultOf(schema));
  if (isQuantity(schema)) return `2 ${/such as "1 ([^"]+)"/u.exec(sentenceOf(schema) ?? '')?.[1] ?? 'mm'}`;
  const def = definitionOf(required(schema));
  if (def.type === 'enum') return Object.values(def.entries).findLast((one) => JSON.stringify(one) !== usual);
  if (def.type === 'literal') return def.values[0];
  if (def.type === 'array') {
    const item = madeUp(def.element, [...path, 0], missing);
    // Some lists say how many there are at least.
    const lists = [1, 2, 3, 4].map((length) => Array.from({ length }, () => structuredClone(item)));
    return lists.find((list) => accepts(schema, list)) ?? lists[0];
  }
  if (def.type === 'tuple') return def.items.map((item, i) => madeUp(item, [...path, i], missing));
  if (def.type === 'object') return filled(schema, {}, path, missing);
  const name = path.filter((step) => typeof step === 'string').join('.');
  const own = `Words of ${name}`;
  const found = [own, ...VALUES].find((one) => accepts(schema, one) && JSON.stringify(one) !== usual);
  if (found === undefined) missing.push(name);
  return found;
}

/** Paths of a filled value, one a field, with whether the field may be left out. */
function* fieldsIn(
  schema: Schema,
  value: unknown,
  path: Path = [],
): Generator<{ path: Path; isOptional: boolean }> {
  if (isQuantity(schema)) return;
  const def = definitionOf(formOf(schema, value));
  if (def.type === 'array' && Array.isArray(value)) {
    if (value.length > 0) yield* fieldsIn(def.element, value[0], [...path, 0]);
    return;
  }
  if (def.type !== 'object' || !isGroup(value)) return;
  for (const [name, field] of Object.entries(def.shape)) {
    const isOptional = accepts(field, undefined);
    if (isOptional || typeof value[name] === 'number') yield { path: [...path, name], isOptional };
    yield* fieldsIn(field, value[name], [...path, name]);
  }
}

/** The value without the field at a path, or, where it has to be there, with another number. */
function without(value: unknown, { path, isOptional }: { path: Path; isOptional: boolean }): unknown {
  const copy = structuredClone(value);
  const last = path.at(-1) as string;
  const holder = path.slice(0, -1).reduce<Plain>((at, step) => at[step] as Plain, copy as Plain);
  if (isOptional) delete holder[last];
  else holder[last] = (holder[last] as number) / 2;
  return copy;
}

const named = ({ path }: { path: Path }) => path.filter((step) => typeof step === 'string').join('.');

interface Given {
  readonly dossier: Plain;
  readonly records: Readonly<Record<Collection, Plain>>;
}

async function stateOf({ dossier, records }: Given): Promise<State> {
  const by = { actor: 'bench', reason: 'test' };
  const all = [...MORE, ...COLLECTIONS.map((one) => [one, records[one]] as const)];
  const journal = new MemoryJournal({ clock: () => new Date('2026-11-30T12:00:00Z') });
  await journal.append([
    ...all.map(([collection, given]) => {
      const schema = CATALOGUE[collection];
      const record = schema.parse(whole(schema, given, [])) as CatalogueRecord;
      return { ...by, kind: 'record-put' as const, payload: { collection, record } };
    }),
    { ...by, kind: 'dossier-put' as const, payload: dossierSchema.parse(dossier) as Dossier },
  ]);
  return (await Archive.open(journal)).state('desk');
}

const missing: string[] = [];
const FILLED: Given = {
  dossier: filled(dossierSchema, DOSSIER, [], missing) as Plain,
  records: Object.fromEntries(
    COLLECTIONS.map((one) => [one, filled(CATALOGUE[one], RECORDS[one], [one], missing)]),
  ) as Record<Collection, Plain>,
};

/** Everything with one field otherwise, by the name of the field. */
function* variants(): Generator<readonly [string, Given]> {
  for (const field of fieldsIn(dossierSchema, FILLED.dossier))
    yield [named(field), { ...FILLED, dossier: without(FILLED.dossier, field) as Plain }];
  for (const one of COLLECTIONS)
    for (const field of fieldsIn(CATALOGUE[one], FILLED.records[one]))
      yield [
        `${one}: ${named(field)}`,
        { ...FILLED, records: { ...FILLED.records, [one]: without(FILLED.records[one], field) as Plain } },
      ];
}

const SCOPE = { of: 'archive' } as const;

async function csvOf(state: State): Promise<string> {
  const files = filesOf(state, SCOPE, 'csv', { date: '2026-11-30' } as never);
  let text = '';
  for (const { name, pieces } of files) {
    // Of the components the tables have what was seen; nodes and edges are the graph.
    if (!/component|placement|bill/u.test(name)) continue;
    for await (const piece of pieces(() => undefined)) text += piece;
  }
  return text;
}

async function componentOf(state: State): Promise<string> {
  const glance = await componentAtAGlance(state, 'tarn-sennit-2/a/U1');
  return glanceText(glance, aspectsOf(state, glance));
}

/** Fields whose absence changes nothing. */
async function silent(
  outputOf: (state: State) => Promise<string>,
  of: (name: string) => boolean,
): Promise<string[]> {
  const before = await outputOf(await stateOf(FILLED));
  // The same twice, or nothing of what follows would mean anything.
  expect(await outputOf(await stateOf(FILLED))).toBe(before);
  const same: string[] = [];
  for (const [name, given] of variants())
    if (of(name) && (await outputOf(await stateOf(given))) === before) same.push(name);
  return same;
}

test('every field can be filled in', () => {
  expect(missing).toEqual([]);
  expect([...variants()].length).toBeGreaterThan(150);
});

test('JSON-LD has every field of every record', { timeout: 120_000 }, async () => {
  const jsonLd = async (state: State) => (await exported(state)).text;
  expect(await silent(jsonLd, () => true)).toEqual([]);
});

/** A part has many pins, and a table one line for it; what each is joined to stands in the nets. */
const PINS = ['', '.number', '.name', '.direction', '.function', '.output'].map(
  (one) => `components.pinout${one}`,
);
/** In words a component has what tells what it is; all else is in its JSON. */
const NOT_IN_WORDS = ['components.printed', ...PINS, 'components.subsystem'];

const isOfComponent = (name: string) => /^components\.\w/u.test(name);

test('CSV has every field of a component but those that have no place in a table', {
  timeout: 60_000,
}, async () => {
  expect(await silent(csvOf, isOfComponent)).toEqual(PINS);
});

test('the component in words has every field of it but those that its JSON alone has', {
  timeout: 60_000,
}, async () => {
  expect(await silent(componentOf, isOfComponent)).toEqual(NOT_IN_WORDS);
});

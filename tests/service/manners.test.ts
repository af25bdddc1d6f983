import {
  type GraphQLField,
  type GraphQLInputType,
  type GraphQLNamedType,
  type GraphQLOutputType,
  getNamedType,
  isEnumType,
  isInputObjectType,
  isInterfaceType,
  isListType,
  isNonNullType,
  isObjectType,
} from 'graphql/index.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ROLES } from '../../src/access/roles.ts';
import { PERSON_STATES } from '../../src/access/store.ts';
import { weightsOf } from '../../src/api-schema/cost.ts';
import { SECTIONS } from '../../src/compare/comparison-table.ts';
import { STANDINGS } from '../../src/decisions/decision.ts';
import { FINDING_KINDS } from '../../src/evidence/audit.ts';
import { CANDIDATE_STATES } from '../../src/identification/questions.ts';
import { BOARD_KINDS, SIDES } from '../../src/model/board.ts';
import { publicationSchema, sourceSchema } from '../../src/model/catalogue.ts';
import { DECISION_VERDICTS } from '../../src/model/decision.ts';
import {
  BODY_SITES,
  IDENTIFICATION_STATES,
  OBSERVATION_KINDS,
  SUBSYSTEM_KINDS,
} from '../../src/model/dossier.ts';
import { BUSES, MEDIA } from '../../src/model/net.ts';
import { serviceSchema } from '../../src/service/graphql/schema.ts';
import { LINK_LABELS, ORDERS } from '../../src/structures/answer.ts';
import { DEVICE_QUANTITIES, FACETS, PERIOD_LENGTHS } from '../../src/trends/asked.ts';
import { HIDDEN } from './invented.ts';
import { type Served, serve } from './serving.ts';

// The manners of the interface, held over the whole schema, so that a new field has them too.

const schema = serviceSchema();
const types = Object.values(schema.getTypeMap()).filter(({ name }) => !name.startsWith('__'));
const outputs = types.filter(isObjectType);
const fields: readonly (readonly [place: string, field: GraphQLField<unknown, unknown>])[] = outputs.flatMap(
  (type) => Object.values(type.getFields()).map((field) => [`${type.name}.${field.name}`, field] as const),
);
const unwrapped = (type: GraphQLOutputType) => (isNonNullType(type) ? type.ofType : type);
const isPage = (type: GraphQLNamedType) => /(?:Connection|Edge)$/u.test(type.name);

test('a field that takes arguments or work can be null, so that its error nulls nothing else', () => {
  const weights = weightsOf(schema);
  const wrong = fields
    .filter(([place, { args, type }]) => (args.length > 0 || weights.has(place)) && isNonNullType(type))
    .map(([place]) => place);
  expect(wrong).toEqual([]);
  expect(weights.size).toBeGreaterThan(40);
});

test('a field that is waited for can be null', () => {
  const isAsync = (resolve: unknown) => Object.prototype.toString.call(resolve) === '[object AsyncFunction]';
  const wrong = fields
    .filter(([, { resolve, type }]) => isAsync(resolve) && isNonNullType(type))
    .map(([place]) => place);
  expect(wrong).toEqual([]);
});

test('every list is a connection of Relay, or its description says why it is short', () => {
  const lists = fields.filter(([, { type }]) => isListType(unwrapped(type)));
  const wrong = lists
    .filter(([place]) => !isPage(schema.getType(place.split('.')[0]) as GraphQLNamedType))
    .filter(([, { description }]) => !/\. Short: [a-z][^.]*[.;]/u.test(description ?? ''))
    .map(([place, { description }]) => `${place}: ${description}`);
  expect(wrong).toEqual([]);
  expect(lists.length).toBeGreaterThan(100);
});

test('what is given its first so many is a connection, unless it is ranked and cut', () => {
  const cut = fields
    .filter(([, { args }]) => args.some(({ name }) => name === 'first'))
    .filter(([, { type }]) => !isPage(getNamedType(type)))
    .map(([place]) => place);
  expect(cut.toSorted()).toEqual([
    'CandidateSet.parts',
    'Candidates.parts',
    'CandidatesIfConfirmed.parts',
    'Query.nextObservations',
    'Query.similarDevices',
    'Query.structures',
    'SimilarDevice.shared',
  ]);
});

describe('closed sets are enums', () => {
  /** Names of an enum; the words of the model without hyphens, in capitals. */
  const namesOf = (name: string) => {
    const type = schema.getType(name);
    return isEnumType(type) ? type.getValues().map((value) => value.name) : [];
  };
  test.each([
    ['BodySite', BODY_SITES],
    ['BoardKind', BOARD_KINDS],
    ['Side', SIDES],
    ['SubsystemKind', SUBSYSTEM_KINDS],
    ['Medium', MEDIA],
    ['Bus', BUSES],
    ['ObservationKind', OBSERVATION_KINDS],
    ['IdentificationState', IDENTIFICATION_STATES],
    ['CandidateState', CANDIDATE_STATES],
    ['DecisionVerdict', DECISION_VERDICTS],
    ['DecisionStanding', STANDINGS],
    ['ClaimFindingKind', FINDING_KINDS],
    ['ComparisonSectionKey', SECTIONS],
    ['StructureLinkKind', LINK_LABELS],
    ['StructureOrder', ORDERS],
    ['TrendDeviceQuantity', DEVICE_QUANTITIES],
    ['TrendFacet', FACETS],
    ['TrendPeriodLength', PERIOD_LENGTHS],
    ['Role', ROLES],
    ['PersonState', PERSON_STATES],
    ['SourceKind', sourceSchema.shape.kind.options],
    ['PublicationKind', publicationSchema.shape.kind.options],
  ] as readonly (readonly [string, readonly string[]])[])('%s has the words of the model', (name, words) => {
    const wanted = words.map((word) => word.toUpperCase().replaceAll('-', '_'));
    expect(namesOf(name).toSorted()).toEqual(wanted.toSorted());
  });

  test('no text lists its values in its description', () => {
    // A text whose description names three or more values in backquotes is a set that somebody has closed.
    const listed = (description: string | null | undefined) =>
      (description?.match(/`[a-z-]+`(?:,| or| and)/gu) ?? []).length > 2;
    const wrong = [
      ...fields.map(([place, { type, description }]) => [place, type, description] as const),
      ...types
        .filter(isInputObjectType)
        .flatMap((type) =>
          Object.values(type.getFields()).map(
            (field) => [`${type.name}.${field.name}`, field.type, field.description] as const,
          ),
        ),
    ]
      .filter(([, type, description]) => getNamedType(type).name === 'String' && listed(description))
      .map(([place]) => place);
    expect(wrong).toEqual([]);
  });

  test('enum values are in capitals', () => {
    for (const type of types.filter(isEnumType))
      for (const { name } of type.getValues()) expect(name).toMatch(/^[A-Z][A-Z0-9_]*$/u);
  });
});

test('a mutation takes one input and gives one payload, named after it', () => {
  for (const { name, args, type } of Object.values(schema.getMutationType()?.getFields() ?? {})) {
    const own = name.charAt(0).toUpperCase() + name.slice(1);
    expect(args.map((arg) => `${arg.name}: ${arg.type}`)).toEqual([`input: ${own}Input!`]);
    expect(String(type)).toBe(`${own}Payload`);
  }
});

test('input types end in Input, except filters, orders and trend subjects', () => {
  const others = types.filter((type) => isInputObjectType(type) && !type.name.endsWith('Input'));
  for (const { name } of others) expect(name).toMatch(/(?:Filter|Order)$|^Trend|^CheckInputValue$/u);
});

test('a boolean is a participle, or begins with is or has', () => {
  const PARTICIPLES = /^(?:printed|fitted|counted|invented|adopted|fullyInventoried|fullyTraced)$/u;
  const wrong = fields
    .filter(([, { type }]) => getNamedType(type).name === 'Boolean')
    .filter(([, { name }]) => !/^(?:is|has)[A-Z]/u.test(name) && !PARTICIPLES.test(name))
    .map(([place]) => place);
  // A parameter of a part may be a flag: that is its slot, not what it says.
  expect(wrong).toEqual(['Parameter.flag']);
});

test('types are in the singular and fields do without get', () => {
  const plural = types.filter(({ name }) => /[^su]s$/u.test(name)).map(({ name }) => name);
  // Answers that are a list with what belongs to it are called by what they hold.
  expect(plural.toSorted()).toEqual(
    [
      'Candidates',
      'CellFigures',
      'Dimensions',
      'Generations',
      'Makes',
      'PatternFacets',
      'PatternRows',
      'SimilarDevices',
      'StructureLinkBoards',
      'Structures',
      'TrendSeries',
      'DeviceClusters',
    ].toSorted(),
  );
  expect(fields.filter(([, { name }]) => /^get[A-Z]|^says$/u.test(name))).toEqual([]);
});

test('one filter of devices serves lists, patterns, trends and clusters', () => {
  const filters = fields.flatMap(([place, { args }]) =>
    args.filter(({ name }) => name === 'filter').map((arg) => [place, String(arg.type)]),
  );
  expect(Object.fromEntries(filters)).toEqual({
    'Query.devices': 'DeviceFilter',
    'Query.components': 'ComponentFilter',
    'Query.parts': 'PartFilter',
    'Query.findPattern': 'DeviceFilter',
    'Query.trend': 'DeviceFilter',
    'Query.deviceClusters': 'DeviceFilter',
  });
  const inputs = types.filter(isInputObjectType);
  const typeOf = (input: string, field: string): GraphQLInputType | undefined =>
    inputs.find(({ name }) => name === input)?.getFields()[field]?.type;
  expect(String(typeOf('TrendQuestion', 'filter'))).toBe('DeviceFilter');
  expect(String(typeOf('ComponentFilter', 'device'))).toBe('DeviceFilter');
});

test('the words of the house are those of the field', () => {
  const OLD =
    /\breckon|\bmend(?:ed|s)?\b|\brests? on\b|\bleans? on\b|\btaken for\b|\btaken back\b|\bput right\b|\boftener|\bdearer|\brecurring|\bfooting|\btelling\b/iu;
  const told: string[] = [];
  const look = (place: string, text: string | null | undefined) => {
    if (OLD.test(`${place.split('.').at(-1)} ${text ?? ''}`)) told.push(`${place}: ${text}`);
  };
  for (const type of types) {
    look(type.name, type.description);
    if (isObjectType(type) || isInputObjectType(type) || isInterfaceType(type)) {
      for (const field of Object.values(type.getFields())) {
        look(`${type.name}.${field.name}`, field.description);
        for (const arg of 'args' in field ? field.args : [])
          look(`${type.name}.${field.name}.${arg.name}`, arg.description);
      }
    }
    if (isEnumType(type))
      for (const one of type.getValues()) look(`${type.name}.${one.name}`, one.description);
  }
  expect(told).toEqual([]);
});

describe('asked for', () => {
  let reader: Served;
  beforeAll(async () => {
    reader = await serve();
  });
  afterAll(() => reader.close());

  test('a field that fails leaves the fields beside it intact, however deep', async () => {
    for (let i = 0; i < 4; i++) {
      const { data, errors } = await reader.answer(`{
        devices(first: 1) { nodes { id
          mass { text in(unit: "V") { value } }
          kindCounts(above: "Sensr") { kind }
          components(first: -1) { totalCount }
          links(after: "x") { totalCount }
          specimens { id components(category: "Sensr") { totalCount } } } }
        decisions { totalCount }
        trend(of: { count: "Sensr" }) { unit }
        parts(filter: { category: "Sensr" }) { totalCount }
      }`);
      expect(data).toEqual({
        devices: {
          nodes: [
            {
              id: 'tarn-sennit-1',
              mass: { text: '31 g', in: null },
              kindCounts: null,
              components: null,
              links: null,
              specimens: [{ id: 'tarn-sennit-1/a', components: null }],
            },
          ],
        },
        decisions: null,
        trend: null,
        parts: null,
      });
      expect(errors?.map(({ extensions }) => extensions.code)).toEqual(Array(8).fill('BAD_INPUT'));
    }
  });

  test('where exactly one of several inputs is expected, the message names those given and those possible', async () => {
    const message = async (query: string) => (await reader.answer(query)).errors?.[0].message;
    expect(await message('{ findPattern { totalCount } }')).toBe(
      'findPattern: nothing is given; give exactly one of text and id',
    );
    expect(await message('{ trend(of: { count: "Sensor", share: { part: "x/y" } }) { unit } }')).toBe(
      'of: share and count are given; give exactly one of share, count and quantity',
    );
    expect(await message('{ whatIf(change: {}) { devices { totalCount } } }')).toBe(
      'change: nothing is given; give exactly one of identify, withdraw, observe and value',
    );
  });

  test('rows of a pattern are values, not texts of values', async () => {
    const { patternRows } = await reader.ask(
      '{ patternRows(text: "MATCH (d:Device) RETURN d, d.name, d.released AS released, COUNT(*) AS n ORDER BY d.name") { columns rows isComplete } }',
    );
    expect(patternRows.columns).toEqual(['d', 'd.name', 'released', 'n']);
    expect(patternRows.rows[0]).toEqual(['tarn-lobe-1', 'Tarn Lobe', '2020', 1]);
    expect(patternRows.isComplete).toBe(true);
  });

  test('what a pattern means other than its writer may think comes with the answer', async () => {
    const text = 'MATCH (d:Device) WHERE TRUE = d.name IS NULL RETURN d';
    const { patternRows, findPattern } = await reader.ask(
      `{ patternRows(text: "${text}") { warnings } findPattern(text: "${text}") { warnings } }`,
    );
    expect(patternRows.warnings).toEqual([
      'Line 1, column 31: IS NULL is about "d.name" alone here; put the comparison in parentheses if you mean all of it.',
    ]);
    expect(findPattern.warnings).toEqual(patternRows.warnings);
  });

  test('a filter narrows a pattern, its near matches and its facets as it narrows the list', async () => {
    const FILTERS = [
      '{ productLines: ["tarn-sennit"] }',
      '{ releasedTo: "2016" }',
      '{ hasPart: "quistle/QWR2001" }',
    ];
    for (const filter of FILTERS) {
      const { devices, findPattern } = await reader.ask(`{
        devices(filter: ${filter}) { nodes { id } }
        findPattern(text: "MATCH (p:Processor) RETURN p", filter: ${filter}) { totalCount nodes { device { id } } facets { makers { count } }
          nearMatches { nodes { device { id } } } }
      }`);
      const passing = devices.nodes.map(({ id }: { id: string }) => id);
      expect(passing.length).toBeGreaterThan(0);
      expect(passing.length).toBeLessThan(4);
      for (const { device } of [...findPattern.nodes, ...findPattern.nearMatches.nodes])
        expect(passing).toContain(device.id);
      // Every invented device has a processor.
      expect(findPattern.totalCount).toBe(passing.length);
      expect(findPattern.facets.makers).toEqual([{ count: passing.length }]);
    }
  });

  test('a filter that names nothing visible is refused, alike for lists and trends', async () => {
    for (const maker of ['never-was', ...HIDDEN.makers]) {
      const { data, errors } = await reader.answer(`{
        devices(filter: { makers: ["${maker}"] }) { totalCount }
        trend(of: { count: "Sensor" }, filter: { makers: ["${maker}"] }) { unit }
      }`);
      expect(data).toEqual({ devices: null, trend: null });
      expect(new Set(errors?.map(({ message }) => message)).size).toBe(1);
      expect(errors?.[0].extensions.code).toBe('NOT_FOUND');
    }
  });
});

describe('ids of an earlier instant', () => {
  const EVERYTHING = `devices(first: 2) { nodes { id maker { id } productLine { id } specimens { id teardown { id } boards { id } subsystems { id } photos { id } }
      components(first: 9) { nodes { id identification { candidates { part { id } } } observations { nodes { id } } } } decisions { nodes { id supportedBy { id } } } } }
    publications { nodes { id claims { id supportedBy { id } audit { support { items { id kind } } } } } }
    patterns { nodes { id } } search(text: "tarn") { nodes { id node { id } } }
    impactOf(id: "tarn-sennit-2/a/U2") { of { id } impacted { nodes { id path } } }
    findPattern(id: "front-end-at-sensor") { nodes { matches(first: 1) { nodes { bindings { ids nodes { id } } } } } }`;

  /** Every value under a field `id`, `ids` or `path`, in order. */
  function idsIn(value: unknown): string[] {
    if (Array.isArray(value)) return value.flatMap(idsIn);
    if (typeof value !== 'object' || value === null) return [];
    return Object.entries(value).flatMap(([name, inner]) =>
      ['id', 'ids', 'path'].includes(name) ? [inner].flat() : idsIn(inner),
    );
  }

  test('differ from those of now, each by its instant, and lead back to the thing at that instant', async () => {
    const desk = await serve({ audience: 'desk' });
    const instant = new Date().toISOString();
    const then = await desk.ask(`{ asOf(instant: "${instant}") { ${EVERYTHING} } }`);
    const now = await desk.ask(`{ ${EVERYTHING} }`);
    const [earlier, present] = [idsIn(then.asOf), idsIn(now)];
    expect(present.length).toBeGreaterThan(60);
    expect(earlier).toEqual(present.map((id) => `${id}@${instant}`));

    await desk.ask(
      `mutation { setIdentification(input: { specimen: "tarn-sennit-1/a", identification: { component: "U10",
         candidates: [{ part: "quistle/QWR4T60", probability: 1 }], state: SETTLED }, reason: "y" }) { entry { id } } }`,
    );
    const state = async (id: string) =>
      (
        await desk.ask(
          'query ($id: ID!) { node(id: $id) { id ... on Component { identification { state } } } }',
          { id },
        )
      ).node;
    expect(await state('tarn-sennit-1/a/U10')).toEqual({
      id: 'tarn-sennit-1/a/U10',
      identification: { state: 'SETTLED' },
    });
    const old = `tarn-sennit-1/a/U10@${instant}`;
    expect(await state(old)).toEqual({ id: old, identification: { state: 'FAVOURED' } });
    for (const id of new Set(earlier)) expect((await state(id))?.id, id).toBe(id);
    await desk.close();
  });

  test('of a time to come lift no embargo, and of no time at all name nothing', async () => {
    const reader = await serve();
    const ask = (id: string) => reader.answer('query ($id: ID!) { node(id: $id) { id } }', { id });
    const future = await ask(`${HIDDEN.devices[0]}@3000-01-01T00:00:00.000Z`);
    expect([future.data, future.errors?.[0].extensions.code]).toEqual([{ node: null }, 'BAD_INPUT']);
    expect((await ask('tarn-sennit-1@then')).data).toEqual({ node: null });
    const past = await ask(`${HIDDEN.devices[0]}@${new Date().toISOString()}`);
    expect(past.data).toEqual({ node: null });
    await reader.close();
  });
});

test('a message quotes no more than a line of input', async () => {
  const reader = await serve();
  const long = 'x'.repeat(50_000);
  for (const query of [
    `{ ${long} }`,
    `{ device(id: 3.${'1'.repeat(5_000)}) { id } }`,
    `{ devices(filter: { releasedFrom: "${long}" }) { totalCount } }`,
    `query ($id: ID!) { device(id: $${long}) { id } }`,
    `"""${long}""" {`,
    `{ devices(filter: { hasCategory: "${long}" }) { totalCount } }`,
    `{ readMarking(text: "A[") { text } device(id: "${long}") { id } compareDevices(ids: ["${long}"]) { sensors { kind } } }`,
  ]) {
    const { errors } = await reader.answer(query);
    expect(errors?.length).toBeGreaterThan(0);
    for (const { message } of errors ?? []) {
      expect(message.length, message.slice(0, 100)).toBeLessThanOrEqual(400);
      expect(message).not.toContain('\n');
    }
  }
  await reader.close();
});

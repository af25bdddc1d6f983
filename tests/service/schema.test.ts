import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  assertValidSchema,
  buildSchema,
  GraphQLSchema,
  isEnumType,
  isInputObjectType,
  isInterfaceType,
  isObjectType,
} from 'graphql/index.js';
import { expect, test } from 'vitest';
import { generatedTypes, TYPES_FILE } from '../../src/service/graphql/generate-types.ts';
import { serviceSchema } from '../../src/service/graphql/schema.ts';

const schema = serviceSchema();
const types = Object.values(schema.getTypeMap()).filter(({ name }) => !name.startsWith('__'));
const OF_THE_STANDARD = new Set(['ID', 'Int', 'Float', 'String', 'Boolean']);

test('the types of the resolvers follow from schema/api; fix with "npm run generate"', async () => {
  const file = new URL(`../../src/service/graphql/${TYPES_FILE}`, import.meta.url);
  expect(readFileSync(file, 'utf8')).toBe(await generatedTypes());
});

test('the schema is valid by the GraphQL specification, as its files have it and as the service answers it', () => {
  const folder = join(import.meta.dirname, '../../schema/api');
  const files = globSync('*.graphql', { cwd: folder });
  const text = files.map((file) => readFileSync(join(folder, file), 'utf8')).join('\n');
  // Neither is asked at a start.
  expect(() => assertValidSchema(buildSchema(text))).not.toThrow();
  expect(() =>
    assertValidSchema(new GraphQLSchema({ ...schema.toConfig(), assumeValid: false })),
  ).not.toThrow();
});

test('every type, field, argument and enum value is described in a sentence', () => {
  const missing: string[] = [];
  const check = (place: string, description: string | null | undefined) => {
    if (!description || !/^[A-Z`].*[.;)]$/su.test(description.trim()))
      missing.push(`${place}: ${description}`);
  };
  for (const type of types) {
    if (!OF_THE_STANDARD.has(type.name)) check(type.name, type.description);
    if (isEnumType(type)) {
      for (const value of type.getValues()) check(`${type.name}.${value.name}`, value.description);
    }
    if (isObjectType(type) || isInterfaceType(type)) {
      for (const field of Object.values(type.getFields())) {
        check(`${type.name}.${field.name}`, field.description);
        for (const arg of field.args) check(`${type.name}.${field.name}(${arg.name})`, arg.description);
      }
    }
    if (isInputObjectType(type)) {
      for (const field of Object.values(type.getFields()))
        check(`${type.name}.${field.name}`, field.description);
    }
  }
  expect(missing).toEqual([]);
});

test('every bare number says in what unit or of what it counts', () => {
  // A number without a Quantity around it is a length, an area, a share, a count, a place in an order, …
  const SAID =
    /\bmm\b|mm²|\b[Pp]ercent\b|\bpixels?\b|0 to 1|degrees|minutes|, s[ ,.]|[Nn]umber|\bHow many\b|[Ii]tems|units of|[Cc]opper layers|year|in `unit`|Its place|Components|chain|Sequence|Sum|most matches/u;
  const silent = types.flatMap((type) =>
    isObjectType(type) || isInputObjectType(type)
      ? Object.values(type.getFields())
          .filter(
            (field) => /^\[?(?:Int|Float)/u.test(String(field.type)) && !SAID.test(field.description ?? ''),
          )
          .map((field) => `${type.name}.${field.name}: ${field.description}`)
      : [],
  );
  expect(silent).toEqual([]);
});

test('a type is called a connection exactly when it is a Relay connection', () => {
  for (const type of types) {
    if (!isObjectType(type)) continue;
    const fields = type.getFields();
    expect(type.name.endsWith('Connection'), type.name).toBe('edges' in fields && 'pageInfo' in fields);
  }
});

test('root fields that the project promises exist', () => {
  const fields = Object.keys(schema.getQueryType()?.getFields() ?? {});
  for (const name of [
    'findPattern',
    'compareDevices',
    'generations',
    'trend',
    'devices',
    'device',
    'search',
  ]) {
    expect(fields).toContain(name);
  }
  expect(Object.keys(schema.getMutationType()?.getFields() ?? {}).toSorted()).toEqual([
    'addPhoto',
    'changePhoto',
    'correct',
    'correctClock',
    'disablePerson',
    'importDossier',
    'importTradeFiles',
    'judgeDecision',
    'judgeIdentification',
    'recall',
    'recordMeasurement',
    'recordObservation',
    'registerWebhook',
    'removeWebhook',
    'resumeWebhook',
    'revokeToken',
    'rotateWebhookSecret',
    'saveFeed',
    'saveListMapping',
    'savePattern',
    'setIdentification',
    'testWebhook',
    'withdrawObservation',
  ]);
});

import {
  type DocumentNode,
  type FieldNode,
  type GraphQLNamedType,
  type GraphQLSchema,
  getNamedType,
  isInterfaceType,
  isObjectType,
  Kind,
  parse,
  type SelectionSetNode,
} from 'graphql/index.js';
import type { Archive } from '../../src/archive.ts';
import { createService } from '../../src/service/create-service.ts';
import type { Case } from './cases.ts';

// Asking a service and comparing what comes back, byte for byte.

/** An answer as it came over HTTP. */
export interface Told {
  readonly status: number;
  readonly headers: string;
  readonly body: string;
}

/** A service for one audience over an archive. */
export class Asked {
  readonly app: ReturnType<typeof createService>;

  constructor(archive: Archive, audience: 'reader' | 'desk') {
    this.app = createService({
      archive,
      audience,
      limits: { depth: 64, cost: 100_000_000, time: 3_600_000, requestTime: 3_600_000 },
    });
  }

  async graphql(query: string, variables: object): Promise<Told> {
    return this.request({
      method: 'POST',
      url: '/graphql',
      headers: { accept: 'application/graphql-response+json' },
      payload: { query, variables },
    });
  }

  async request(request: object): Promise<Told> {
    const response = await this.app.inject(request);
    // What the clock of the machine and the count of requests say is no part of an answer.
    const { date: _, 'x-request-id': __, ...headers } = response.headers;
    const body = response.body.replaceAll(/\bin \d+(?:\.\d+)? ms\b/gu, 'in a time');
    if (body !== response.body) delete headers['content-length'];
    // A state token is encrypted with a nonce drawn anew for each answer, under a key of the archive: two of one state differ as two
    // of different states do. What can be told apart is how long it is, and in what letters it is written.
    const token = headers['caseback-state'];
    if (typeof token === 'string')
      headers['caseback-state'] = `${token.length} characters${/^[\w-]+$/u.test(token) ? '' : ', of others'}`;
    // Likewise the sealed name of a state (`cite/cited-states.ts`).
    if (typeof headers.link === 'string')
      headers.link = headers.link.replaceAll(/state=[\w-]{64}(?=>)/gu, 'state=64 characters');
    return { status: response.statusCode, headers: JSON.stringify(headers), body };
  }

  close(): Promise<void> {
    return this.app.close();
  }
}

/** Cursors of a list as somebody sees it, wherever it stands in the answer. */
export async function cursorsOf(asked: Asked, { cursor, variables }: Case): Promise<readonly string[]> {
  if (!cursor) return [];
  const { [cursor.variable]: _, ...others } = variables;
  const { body } = await asked.graphql(cursor.of, others);
  const found: string[] = [];
  const look = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(look);
    else if (typeof value === 'object' && value !== null)
      for (const [name, inner] of Object.entries(value))
        if (name === 'cursor' && typeof inner === 'string') found.push(inner);
        else look(inner);
  };
  look(JSON.parse(body));
  return found;
}

/** How two answers differ, in a few words; undefined when they are the same to the byte. */
export function difference(one: Told, other: Told): string | undefined {
  if (one.status !== other.status)
    return `status ${one.status} and ${other.status}: ${around(one.body, 0)} | ${around(other.body, 0)}`;
  if (one.body !== other.body) {
    const at = [...one.body].findIndex((_, place) => one.body[place] !== other.body[place]);
    const place = at < 0 ? Math.min(one.body.length, other.body.length) : at;
    return `${around(one.body, place)} | ${around(other.body, place)}`;
  }
  return one.headers === other.headers ? undefined : `headers ${one.headers} | ${other.headers}`;
}

const around = (text: string, place: number) => text.slice(Math.max(0, place - 90), place + 90);

/** Fields that an answer gave something for, `Type.field`. */
export function answered(schema: GraphQLSchema, query: string, body: string, into: Set<string>): void {
  const document: DocumentNode = parse(query);
  const { data } = JSON.parse(body) as { data?: unknown };
  for (const definition of document.definitions)
    if (definition.kind === Kind.OPERATION_DEFINITION)
      note(schema, definition.selectionSet, schema.getQueryType() as GraphQLNamedType, data, into);
}

function note(
  schema: GraphQLSchema,
  { selections }: SelectionSetNode,
  type: GraphQLNamedType,
  data: unknown,
  into: Set<string>,
): void {
  if (Array.isArray(data)) {
    for (const one of data) note(schema, { kind: Kind.SELECTION_SET, selections }, type, one, into);
    return;
  }
  if (typeof data !== 'object' || data === null) return;
  const object = data as Readonly<Record<string, unknown>>;
  const own = isInterfaceType(type) ? (schema.getType(String(object.__typename)) ?? type) : type;
  for (const selected of selections) {
    if (selected.kind === Kind.INLINE_FRAGMENT) {
      if (selected.typeCondition?.name.value === own.name)
        note(schema, selected.selectionSet, own, data, into);
      continue;
    }
    if (selected.kind !== Kind.FIELD || !isObjectType(own)) continue;
    noteField(schema, selected, own.name, object[selected.alias?.value ?? selected.name.value], into);
  }
}

function noteField(
  schema: GraphQLSchema,
  { name, selectionSet }: FieldNode,
  type: string,
  value: unknown,
  into: Set<string>,
): void {
  const isNothing = value === null || value === undefined || (Array.isArray(value) && value.length === 0);
  if (isNothing) return;
  into.add(`${type}.${name.value}`);
  const owner = schema.getType(type);
  const field = isObjectType(owner) ? owner.getFields()[name.value] : undefined;
  if (selectionSet && field) note(schema, selectionSet, getNamedType(field.type), value, into);
}

import {
  type GraphQLArgument,
  type GraphQLField,
  type GraphQLNamedType,
  type GraphQLObjectType,
  type GraphQLSchema,
  getNamedType,
  isAbstractType,
  isCompositeType,
  isInterfaceType,
  isNonNullType,
  isObjectType,
} from 'graphql/index.js';
import { plainOf, probesOf, togetherWith } from './values.ts';

// Questions about every field of the schema, made from the schema: each field that a reader can reach, by the shortest way, and
// each of its arguments with everything that `values.ts` has for it.

/** One question to ask of two archives. */
export interface Case {
  /** The field it is about, `Type.field`. */
  readonly place: string;
  /** The argument it varies; absent where it varies none. */
  readonly argument?: string;
  /** What the argument is given. */
  readonly kind: string;
  /** The field of an input that it varies, `Input.field`. */
  readonly origin?: string;
  readonly query: string;
  readonly variables: Readonly<Record<string, unknown>>;
  /** The variable that takes a cursor, and the question that the desk asks for one. */
  readonly cursor?: { readonly variable: string; readonly of: string };
}

type Field = GraphQLField<unknown, unknown>;

/** A step from a type to a field of it. */
interface Step {
  readonly type: GraphQLObjectType;
  readonly field: Field;
}

const isEdgeOrPage = (type: GraphQLNamedType) => /(?:Connection|Edge)$/u.test(type.name);
/** Fields that lead back to the whole schema or anywhere in it; they have questions of their own. */
const LEADS_ANYWHERE = ['Query.asOf', 'Query.node'];

/** Ways on which nothing is ever found: a part is on no net. */
const LEADS_NOWHERE = ['Part.pinout'];

/** Every type that a reader can reach, with the shortest way to it; a field that takes work makes a way longer. */
export function waysTo(
  schema: GraphQLSchema,
  weights: ReadonlyMap<string, number>,
): ReadonlyMap<string, readonly Step[]> {
  const query = schema.getQueryType() as GraphQLObjectType;
  const ways = new Map<string, readonly Step[]>([[query.name, []]]);
  const length = new Map([[query.name, 0]]);
  const waiting = new Set([query.name]);
  while (waiting.size > 0) {
    const name = [...waiting].sort(
      (a, b) => (length.get(a) as number) - (length.get(b) as number),
    )[0] as string;
    waiting.delete(name);
    const type = schema.getType(name) as GraphQLObjectType;
    for (const field of Object.values(type.getFields())) {
      const place = `${name}.${field.name}`;
      if (LEADS_ANYWHERE.includes(place) || LEADS_NOWHERE.includes(place)) continue;
      const target = getNamedType(field.type);
      if (!isCompositeType(target)) continue;
      const isPage = isEdgeOrPage(target);
      const work = (weights.get(place) ?? 0) >= 100 ? 4 : 0;
      const step = (isPage ? 3 : 2) + (String(field.type).includes('[') ? 1 : 0) + work;
      const far = (length.get(name) as number) + step;
      // What several kinds of things stand for is each of them.
      for (const possible of isAbstractType(target) ? [] : [target]) {
        if (far >= (length.get(possible.name) ?? Number.POSITIVE_INFINITY)) continue;
        length.set(possible.name, far);
        ways.set(possible.name, [...(ways.get(name) as readonly Step[]), { type, field }]);
        waiting.add(possible.name);
      }
    }
  }
  return ways;
}

/** Variables of one question, numbered as they come. */
class Variables {
  readonly values: Record<string, unknown> = {};
  /** Name of the argument that each variable is for. */
  readonly names = new Map<string, string>();
  readonly #declared: string[] = [];

  add(argument: GraphQLArgument, value: unknown): string {
    const name = `v${this.#declared.length}`;
    this.#declared.push(`$${name}: ${argument.type}`);
    this.names.set(name, argument.name);
    this.values[name] = value;
    return `${argument.name}: $${name}`;
  }

  get count(): number {
    return this.#declared.length;
  }

  get declared(): string {
    return this.#declared.length > 0 ? `(${this.#declared.join(', ')})` : '';
  }
}

const placeOf = ({ type, field }: Step) => `${type.name}.${field.name}`;

/** A field with the arguments given, the others as usual. */
function written(step: Step, given: Readonly<Record<string, unknown>>, variables: Variables): string {
  const args = step.field.args.flatMap((argument) => {
    const isGiven = argument.name in given;
    const value = isGiven
      ? given[argument.name]
      : plainOf(argument.type, `${placeOf(step)}.${argument.name}`, argument.defaultValue !== undefined);
    return value === undefined || (value === null && !isNonNullType(argument.type) && isGiven)
      ? []
      : [variables.add(argument, value)];
  });
  return args.length > 0 ? `${step.field.name}(${args.join(', ')})` : step.field.name;
}

/** Everything of a type that is there for the asking, some levels down; below that nothing but what is not made of fields. */
function selection(
  schema: GraphQLSchema,
  type: GraphQLNamedType,
  levels: number,
  weights: ReadonlyMap<string, number>,
): string {
  if (isInterfaceType(type)) {
    // Fields of several types may have one name and not one type: each has the name of its type ahead.
    const each = schema.getPossibleTypes(type).map(
      (one) =>
        `... on ${one.name} { ${leavesOf(one)
          .map((name) => `${one.name}_${name}: ${name}`)
          .join(' ')} }`,
    );
    return `{ __typename ${each.join(' ')} }`;
  }
  if (!isObjectType(type)) return '';
  const deeper = Object.values(type.getFields()).flatMap((field) => {
    const target = getNamedType(field.type);
    const isDear = (weights.get(`${type.name}.${field.name}`) ?? 0) >= 50;
    if (!isCompositeType(target) || mustBeGiven(field) || isDear || target.name === 'Query') return [];
    // A page says what is on it, however deep it stands; its edges have the items over again.
    const below = isEdgeOrPage(type) ? (field.name === 'node' ? 0 : levels) : levels - 1;
    return below < 0 ? [] : [`${field.name} ${selection(schema, target, below, weights)}`];
  });
  return `{ __typename ${[...leavesOf(type), ...deeper].join(' ')} }`;
}

const leavesOf = (type: GraphQLObjectType) =>
  Object.values(type.getFields())
    .filter((field) => !isCompositeType(getNamedType(field.type)) && !mustBeGiven(field))
    .map(({ name }) => name);

const mustBeGiven = ({ args }: Field) =>
  args.some(({ type, defaultValue }) => isNonNullType(type) && defaultValue === undefined);

/** The text of a question, its variables, and which of them are arguments of the field at the end. */
interface Question {
  readonly query: string;
  readonly variables: Readonly<Record<string, unknown>>;
  readonly ofEnd: ReadonlyMap<string, string>;
}

/** A question that goes a way, asks for a field at its end with some arguments, and for something below. */
function question(
  way: readonly Step[],
  end: Step,
  given: Readonly<Record<string, unknown>>,
  below: string,
): Question {
  const variables = new Variables();
  const heads = way.map((step) =>
    written(step, isEdgeOrPage(getNamedType(step.field.type)) ? pageOf(step) : {}, variables),
  );
  const before = variables.count;
  const head = `${written(end, given, variables)} ${below}`;
  const body = heads.reduceRight((inner, outer) => `${outer} { ${inner} }`, head);
  return {
    query: `query${variables.declared} { ${body} }`,
    variables: variables.values,
    ofEnd: new Map([...variables.names].slice(before)),
  };
}

/** On the way somewhere a few items of a page are enough. */
function pageOf({ field }: Step): Readonly<Record<string, unknown>> {
  return field.args.some(({ name }) => name === 'first') ? { first: 3 } : {};
}

/** What the shortest way does not come to: other measures than shares, a change that settles something. */
const BY_HAND: Readonly<Record<string, string>> = {
  'a count over time': `{ trend(of: { count: "Sensor" }, by: MAKER) { ${trendFields('distribution { minimum lowerQuartile median upperQuartile maximum } median { value interval { low high } }')} } }`,
  'a quantity over time': `{ trend(of: { quantity: { device: MASS } }) { ${trendFields('certainMedian interval { low high }')} } }`,
  'a parameter over time': `{ trend(of: { quantity: { parameter: "capacity", of: "Battery" } }, per: QUARTER) { ${trendFields('certainMedian')} } }`,
  'a change that settles a finding': `{ whatIf(change: { identify: { component: "dev-1/a/U2", candidates: [{ part: "quistle/QWR4T10", probability: 0.97 }], state: SETTLED } }) {
    claims { nodes { id before after settledFindings { kind message } newFindings { message } movedFindings { message } } } } }`,
  'what the evidence contradicts': `{ candidates(component: "dev-9/a/U2") { disagreement { recorded recordedProbability probability insteadProbability } } }`,
  'codes of a marking': `{ readMarking(text: "(wave) 419", released: "2014") { logos lines { text readings { as rule source description doubt } } } }`,
  'an observation and what corrects it': `{ specimen(id: "dev-1/a") { observations(first: 50) { nodes { id corrects { id } correctedBy { id } } } } }`,
  'links within and between boards': `{ structures(minSupport: 3, distinguishBoards: true, first: 3) { structures { words links { boards relation from to } } } }`,
  'a rejection that holds': `{ decisions(device: "dev-7", includeRejected: true) { nodes { id standing judgements { verdict } } } }`,
  'figures of a part': `{ part(id: "quistle/QWR4T10") { name parameters { name } } }`,
  'a circle of supports': `{ whatIf(change: { observe: { specimen: "dev-1/a", observation: { id: "x1", about: ["U2"], kind: APPEARANCE, text: "seen", cites: ["letter-one/c1"] } } }) { devices { totalCount } } }`,
};

function trendFields(more: string): string {
  const cell = `devices n notObserved absent value certain likely expected possible productLines ${more}`;
  return `of unit total { total { ${cell} } periods { period ${cell} } test { name n periods z p q qAtMost slope slopeInterval { low high } isRobust basis byProductLine { productLines t degreesOfFreedom p designEffect slopeInterval { low high } } } verdict { direction sentence } }
    groups { group total { ${cell} } } cautions`;
}

/** Every question about every field that a reader can reach. */
export function casesOf(schema: GraphQLSchema, weights: ReadonlyMap<string, number>): readonly Case[] {
  const ways = waysTo(schema, weights);
  const byHand = Object.entries(BY_HAND).map(([kind, query]) => ({
    place: 'by hand',
    argument: kind,
    kind,
    query: `query ${query}`,
    variables: {},
  }));
  const made = [...ways].flatMap(([name, way]) => {
    const type = schema.getType(name) as GraphQLObjectType;
    return Object.values(type.getFields())
      .filter(
        (field) => isCompositeType(getNamedType(field.type)) || field.args.length > 0 || name === 'Query',
      )
      .flatMap((field) => casesOfField(schema, way, { type, field }, weights));
  });
  return [...made, ...byHand];
}

function casesOfField(
  schema: GraphQLSchema,
  way: readonly Step[],
  end: Step,
  weights: ReadonlyMap<string, number>,
): readonly Case[] {
  const place = placeOf(end);
  // Under an instant: what is there to see, not all of the schema again.
  const target = getNamedType(end.field.type);
  const below = (levels: number) =>
    place === 'Query.asOf' ? ALL_THERE_IS : selection(schema, target, levels, weights);
  // Questions that differ in what an argument is given have one text.
  const texts = new Map<string, Question>();
  const ask = (given: Readonly<Record<string, unknown>>) => {
    const key = JSON.stringify(Object.entries(given).map(([name, value]) => [name, value === null]));
    // Whatever an argument changes shows on the items of a page themselves.
    const levels = isEdgeOrPage(target) && Object.keys(given).length > 0 ? 0 : 1;
    const text = texts.get(key) ?? question(way, end, given, below(levels));
    texts.set(key, text);
    const variables = Object.fromEntries(
      Object.entries(text.variables).map(([variable, value]) => {
        const argument = text.ofEnd.get(variable);
        return [variable, argument !== undefined && argument in given ? given[argument] : value];
      }),
    );
    return { query: text.query, variables };
  };
  const plain: Case = { place, kind: 'plain', ...ask({}) };
  const varied = end.field.args.flatMap((argument): readonly Case[] => {
    const argumentPlace = `${place}.${argument.name}`;
    if (argument.name === 'after' || argument.name === 'before') {
      const asked = ask({ [argument.name]: '' });
      const variable = Object.keys(asked.variables).find((one) => asked.variables[one] === '') as string;
      const { query: of } = question(way, end, {}, '{ edges { cursor } }');
      return [{ place, argument: argument.name, kind: 'cursor', ...asked, cursor: { variable, of } }];
    }
    return probesOf(argument.type, argumentPlace).map(({ kind, value, origin }) => ({
      place,
      argument: argument.name,
      kind,
      origin,
      ...ask({ ...togetherWith(argumentPlace), [argument.name]: value }),
    }));
  });
  return [plain, ...varied];
}

/** What one sees of an archive at a glance. */
export const ALL_THERE_IS = `{
  archive { devices specimens components parts makers productLines publications patterns firstYear lastYear inventedDevices sequence changedAt }
  devices(first: 100) { totalCount edges { cursor } nodes { id name specimens { id } predecessors { id } successors { id } } }
  publications { totalCount nodes { id title claims { id supportedBy { id } } corrections { id summary } } }
  parts { nodes { id specimens { totalCount } components { totalCount } } }
  makers { nodes { id devices { totalCount } productLines { nodes { id devices { totalCount } } } } }
  search(text: "dev") { totalCount nodes { id } }
  corrections { nodes { id summary } }
}`;

/**
 * A draw of the questions that still has every pair of an argument, or a field of an input wherever it is used, and a kind of
 * thing to give it, and of each argument some. The same seed gives the same draw.
 */
export function drawn(cases: readonly Case[], random: () => number): readonly Case[] {
  const met = new Set<string>();
  const shuffled = cases.map((one) => ({ one, at: random() })).sort((a, b) => a.at - b.at);
  const kept = shuffled.filter(({ one: { place, argument, kind, origin } }) => {
    const of = `${place}.${argument}`;
    const pairs = origin === undefined ? [`${of} ${kind}`] : [`${origin} ${kind}`, `${of} ${origin}`];
    const isNew = pairs.some((pair) => !met.has(pair));
    for (const pair of pairs) met.add(pair);
    return isNew;
  });
  const places = new Set(kept.map(({ one }) => one));
  return cases.filter((one) => places.has(one));
}

/**
 * Random patterns that both our language and SPARQL 1.1 can say, written in both, and the graph as RDF.
 *
 * Where the two differ, and what is done about it:
 * - RDF has no edges with properties, no parallel edges and no undirected ones. Every edge is a resource, and every
 *   way of walking it is another: a *hop* with the edge, the node it leaves, the node it reaches, and the way (out,
 *   in, undirected).
 * - A directed loop has two hops but is one edge of one path, and a pattern without a direction finds it once.
 *   SPARQL counts bindings of hops, so the inner SELECT DISTINCT keeps nodes and edges only.
 * - SPARQL is homomorphic. Distinct nodes and different edges are written out as FILTER.
 * - A missing property is null with us and unbound in SPARQL; a comparison with it is unknown with us and an error
 *   in SPARQL. AND, OR and NOT treat error as unknown (SPARQL 1.1, section 17.2), so conditions come out the same.
 * - Quantified paths: SPARQL's property paths tell only whether there is a way, so they are compared inside EXISTS,
 *   where that is all that is asked: if there is a walk, there is a trail.
 */
import { pick, type Random, type SmallGraph } from './random-query.ts';

const P = 'urn:t:';

/** N-Triples. */
export function triplesOf({ nodes, edges }: SmallGraph): string {
  const lines: string[] = [];
  const say = (s: string, p: string, o: string) => lines.push(`<${P}${s}> <${P}${p}> ${o} .`);
  const iri = (name: string) => `<${P}${name}>`;
  for (const { id, labels = [], properties = {} } of nodes) {
    say(id, 'is', iri('node'));
    for (const label of labels) say(id, 'label', iri(`L${label as string}`));
    for (const [key, value] of Object.entries(properties)) {
      if (typeof value === 'number') say(id, key, `"${value}"^^<http://www.w3.org/2001/XMLSchema#integer>`);
      if (typeof value === 'string') say(id, key, `"${value}"`);
    }
  }
  for (const { id, source, target, label, directed, properties = {} } of edges) {
    if (label) say(id, 'edgeLabel', iri(`E${label}`));
    if (typeof properties.w === 'number')
      say(id, 'w', `"${properties.w}"^^<http://www.w3.org/2001/XMLSchema#integer>`);
    const hop = (number: number, from: string, to: string, way: string) => {
      const name = `${id}h${number}`;
      say(name, 'edge', iri(id));
      say(name, 'from', iri(from));
      say(name, 'to', iri(to));
      say(name, 'way', iri(way));
      if (label && directed && way === 'out') say(from, `path${label}`, iri(to));
    };
    hop(0, source, target, directed ? 'out' : 'undirected');
    if (directed || source !== target) hop(1, target, source, directed ? 'in' : 'undirected');
  }
  return lines.join('\n');
}

interface Piece {
  readonly gql: string;
  readonly sparql: string;
}

interface Written {
  readonly gql: string;
  readonly sparql: string;
  readonly distinctNodes: boolean;
}

/** One pattern in both languages; both answer one number of matches. */
export function writePattern(random: Random): Written {
  const size = 1 + Math.floor(random() * 4);
  const distinctNodes = random() < 0.5;
  const differentEdges = random() < 0.5;
  const nodes = Array.from({ length: size }, (_, i) => `a${i}`);
  const paths: string[] = [];
  const where: string[] = [];
  const clauses: string[] = [];
  const edges: string[] = [];
  const named = new Set<string>();
  const labelled = (name: string): string => {
    if (named.has(name) || random() < 0.4) return `(${name})`;
    named.add(name);
    const label = labelOf(random);
    clauses.push(`FILTER(${label.sparql.replaceAll('$', `?${name}`)})`);
    return `(${name}:${label.gql})`;
  };
  for (const name of nodes) clauses.push(`?${name} <${P}is> <${P}node> .`);
  const count = size === 1 ? Math.floor(random() * 2) : size - 1 + Math.floor(random() * 3);
  for (let e = 0; e < count; e++) {
    const from = e < size - 1 ? nodes[Math.floor(random() * (e + 1))]! : pick(random, nodes);
    const to = e < size - 1 ? nodes[e + 1]! : pick(random, nodes);
    const edge = edgeOf(random, `e${e}`);
    edges.push(`e${e}`);
    paths.push(`${labelled(from)}${edge.gql}${labelled(to)}`);
    clauses.push(
      `?h${e} <${P}edge> ?e${e} ; <${P}from> ?${from} ; <${P}to> ?${to} ; <${P}way> ?y${e} . ${edge.sparql}`,
    );
  }
  for (const name of nodes) if (!paths.some((path) => path.includes(`(${name}`))) paths.push(labelled(name));
  for (let c = Math.floor(random() * 3); c > 0; c--) {
    const condition = conditionOf(random, nodes, 2);
    where.push(condition.gql);
    clauses.push(`FILTER(${condition.sparql})`);
  }
  if (random() < 0.35) {
    const negated = random() < 0.5;
    const inner = existsOf(random, pick(random, nodes), distinctNodes);
    where.push(`${negated ? 'NOT ' : ''}EXISTS { ${inner.gql} }`);
    clauses.push(`FILTER(${negated ? 'NOT ' : ''}EXISTS { ${inner.sparql} })`);
  }
  if (distinctNodes) for (const [a, b] of pairs(nodes)) clauses.push(`FILTER(?${a} != ?${b})`);
  if (differentEdges) for (const [a, b] of pairs(edges)) clauses.push(`FILTER(?${a} != ?${b})`);
  const optional = random() < 0.25 ? optionalOf(random, pick(random, nodes)) : undefined;
  const kept = [...nodes, ...edges, ...(optional ? ['o', 'oe'] : [])].map((name) => `?${name}`).join(' ');
  const mode = differentEdges ? 'DIFFERENT EDGES' : 'REPEATABLE ELEMENTS';
  // A node that is optional is told apart from the others by us only when nodes must be distinct.
  const apart = optional && distinctNodes ? nodes.map((name) => `FILTER(?o != ?${name})`).join(' ') : '';
  return {
    distinctNodes,
    gql: `MATCH ${mode} ${paths.join(', ')}${where.length > 0 ? ` WHERE ${where.join(' AND ')}` : ''}${
      optional ? ` OPTIONAL MATCH ${optional.gql}` : ''
    } RETURN COUNT(*) AS n`,
    sparql: `SELECT (COUNT(*) AS ?n) WHERE { SELECT DISTINCT ${kept} WHERE { ${clauses.join(' ')} ${
      optional ? `OPTIONAL { ${optional.sparql} ${apart} }` : ''
    } } }`,
  };
}

function pairs(names: readonly string[]): [string, string][] {
  return names.flatMap((a, i) => names.slice(0, i).map((b): [string, string] => [a, b]));
}

/** `$` stands for the node. */
function labelOf(random: Random): Piece {
  const one = (): Piece => {
    const label = pick(random, ['A', 'B', 'C']);
    return { gql: label, sparql: `EXISTS { $ <${P}label> <${P}L${label}> }` };
  };
  const [a, b] = [one(), one()];
  return pick(random, [
    a,
    a,
    { gql: `!${a.gql}`, sparql: `!(${a.sparql})` },
    { gql: `${a.gql}&${b.gql}`, sparql: `(${a.sparql} && ${b.sparql})` },
    { gql: `(${a.gql}|${b.gql})`, sparql: `(${a.sparql} || ${b.sparql})` },
    { gql: '%', sparql: `EXISTS { $ <${P}label> ?any }` },
  ]);
}

const WAYS: readonly (readonly [left: string, right: string, ways: readonly string[]])[] = [
  ['-[', ']->', ['out']],
  ['<-[', ']-', ['in']],
  ['~[', ']~', ['undirected']],
  ['-[', ']-', ['out', 'in', 'undirected']],
  ['<-[', ']->', ['out', 'in']],
  ['<~[', ']~', ['in', 'undirected']],
  ['~[', ']~>', ['out', 'undirected']],
];

function edgeOf(random: Random, name: string): Piece {
  const [left, right, ways] = pick(random, WAYS);
  const label = random() < 0.5 ? pick(random, ['R', 'S']) : '';
  const way = `FILTER(?y${name.slice(1)} IN (${ways.map((w) => `<${P}${w}>`).join(', ')}))`;
  return {
    gql: `${left}${name}${label ? `:${label}` : ''}${right}`,
    sparql: `${way} ${label ? `?${name} <${P}edgeLabel> <${P}E${label}> .` : ''}`,
  };
}

/** Properties are looked up by sub-select, so that a missing one is an error in the FILTER and nothing more. */
function conditionOf(random: Random, nodes: readonly string[], depth: number): Piece {
  if (depth > 0 && random() < 0.5) {
    const [a, b] = [conditionOf(random, nodes, depth - 1), conditionOf(random, nodes, depth - 1)];
    return pick(random, [
      { gql: `(${a.gql} AND ${b.gql})`, sparql: `(${a.sparql} && ${b.sparql})` },
      { gql: `(${a.gql} OR ${b.gql})`, sparql: `(${a.sparql} || ${b.sparql})` },
      { gql: `NOT (${a.gql})`, sparql: `(!(${a.sparql}))` },
    ]);
  }
  const [x, y] = [pick(random, nodes), pick(random, nodes)];
  const value = Math.floor(random() * 4);
  const operator = pick(random, [
    ['=', '='],
    ['<>', '!='],
    ['<', '<'],
    ['>=', '>='],
  ] as const);
  return pick(random, [
    { gql: `${x}.k ${operator[0]} ${value}`, sparql: `(?${x}_k ${operator[1]} ${value})` },
    { gql: `${x}.k ${operator[0]} ${y}.k`, sparql: `(?${x}_k ${operator[1]} ?${y}_k)` },
    { gql: `${x}.s = 'x'`, sparql: `(?${x}_s = "x")` },
    { gql: `${x}.k + ${y}.k > ${value}`, sparql: `(?${x}_k + ?${y}_k > ${value})` },
    { gql: `${x}.s IS NULL`, sparql: `(!BOUND(?${x}_s))` },
    { gql: `${x}.k IN [1, ${value}]`, sparql: `(?${x}_k IN (1, ${value}))` },
  ]);
}

/** Adds the properties that conditions read. */
export function withProperties(sparql: string): string {
  const wanted = new Set([...sparql.matchAll(/\?(a\d)_([ks])\b/g)].map(([, name, key]) => `${name} ${key}`));
  const lookups = [...wanted].map((pair) => {
    const [name, key] = pair.split(' ');
    return `OPTIONAL { ?${name} <${P}${key}> ?${name}_${key} }`;
  });
  return sparql.replace('FILTER', `${lookups.join(' ')} FILTER`);
}

/** With distinct nodes, a path that walks an edge does not end where it began; an empty one does. */
function existsOf(random: Random, node: string, distinctNodes: boolean): Piece {
  if (random() < 0.5) {
    const label = pick(random, ['R', 'S']);
    const [sign, path] = pick(random, [
      ['*', '*'],
      ['+', '+'],
      ['?', '?'],
      ['{0,1}', '?'],
    ] as const);
    return {
      gql: `(${node})-[:${label}]->${sign}(:B)`,
      sparql: `?${node} <${P}path${label}>${path} ?far . ?far <${P}label> <${P}LB>${
        distinctNodes && sign === '+' ? ` FILTER(?far != ?${node})` : ''
      }`,
    };
  }
  const label = pick(random, ['A', 'C']);
  return {
    gql: `(${node})-[]-(:${label})`,
    sparql: `?ih <${P}from> ?${node} ; <${P}to> ?io . ?io <${P}label> <${P}L${label}>${
      distinctNodes ? ` FILTER(?io != ?${node})` : ''
    }`,
  };
}

function optionalOf(random: Random, node: string): Piece {
  const label = pick(random, ['R', 'S']);
  return {
    gql: `(${node})-[oe:${label}]->(o)`,
    sparql: `?oh <${P}edge> ?oe ; <${P}from> ?${node} ; <${P}to> ?o ; <${P}way> <${P}out> . ?oe <${P}edgeLabel> <${P}E${label}> .`,
  };
}

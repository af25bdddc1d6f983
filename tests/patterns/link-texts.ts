import type { Random } from '../../src/statistics/random.ts';

// Texts that use the links that follow from nets in every role.

const LABELS = [
  'Component',
  'Sensor',
  'Microcontroller',
  'Processor',
  'Resistor',
  'Passive',
  'Amplifier',
  'Regulator',
  'LinearRegulator',
  'Charger',
  'Connector',
  'Battery',
  'Memory',
  'LoadSwitch',
  'LevelShifter',
  'Transistor',
] as const;

/** {L} is a label, {F} a link from source to load, {S} a link without direction, {A} any of these without direction, {N} a net's. */
const TEMPLATES = [
  'MATCH (a:{L})-[:{F}]->(b:{L}) RETURN a, b',
  'MATCH (a)-[:{F}]->(b) RETURN a, b',
  'MATCH (a:{L})-[:{S}]-(b:{L}) RETURN a, b',
  'MATCH (a:{L})-[:{S}]-(b) RETURN a, b',
  'MATCH (a)-[e:{A}]-(b:{L}) WHERE e.passed > 0 RETURN a, b',
  'MATCH (a)-[e:{A}]-(b) WHERE e.passed = 0 AND NOT a:{L} RETURN a, b',
  "MATCH (a)-[e:SIGNAL_PATH]-(b) WHERE e.bus = 'I2C' RETURN a, b",
  'MATCH (a)-[e:SIGNAL_PATH]-(b) WHERE e.lines > 1 RETURN a, b',
  "MATCH (a)-[e:FEEDS]->(b) WHERE e.supply = 'linear' OR e.supply = 'connector' RETURN a, b",
  "MATCH (a)-[e:FEEDS]->(b) WHERE e.through = 'WA1' RETURN a, b",
  'MATCH (a)-[e:FEEDS]->(b) WHERE e.switched RETURN a, b',
  'MATCH (a)-[e:FEEDS]->(b) WHERE e.switched IS NULL OR e.output IS NOT NULL RETURN a, b',
  'MATCH (a:{L}) WHERE NOT EXISTS { (a)-[:{A}]-() } RETURN a',
  'MATCH (a:{L}) WHERE NOT EXISTS { ()-[:{F}]->(a) } RETURN a',
  'MATCH (a:{L}) WHERE EXISTS { (a)-[:{A}]-(b:{L}) } RETURN a',
  'MATCH (a:{L}) WHERE NOT EXISTS { (a)-[:{A}]-(b:{L}) } RETURN a',
  'MATCH (a)-[:{A}]-(b) WHERE NOT EXISTS { (a)-[:{A}]-(c) WHERE NOT c:{L} } RETURN a, b',
  'MATCH (a:{L}) WHERE NOT EXISTS { (a)-[:{A}]-(b) WHERE NOT EXISTS { (b)-[:{A}]-(c:{L}) } } RETURN a',
  'MATCH (a)-[:{A}]-(b)-[:{A}]-(c) RETURN a, b, c',
  'MATCH (a:{L})-[:{A}]-(b)-[:{A}]-(c:{L}) RETURN a, b, c',
  'MATCH (a)-[:{F}]->(b), (a)-[:{F}]->(c) RETURN a, b, c',
  'MATCH (a)-[:{A}]-(b), (c)-[:{A}]-(d) RETURN a, b, c, d',
  'MATCH (a)-[:FEEDS]->(b)-[:SIGNAL_PATH]-(c) RETURN a, b, c',
  'MATCH (a:{L})-[:{A}]-{1,3}(b:{L}) RETURN a, b',
  'MATCH (a)-[:{F}]->{2}(b) RETURN a, b',
  'MATCH TRAIL (a:{L})-[:{A}]-+(b:{L}) RETURN a, b',
  'MATCH (a) ((x)-[:{A}]-(y WHERE NOT y:{L})){1,2} (b:{L}) RETURN a, b',
  'MATCH (a:{L}) ((x)-[:{A}]-(y:{L}))? (b)-[:{A}]-(c) RETURN a, c',
  'MATCH (a:{L}) OPTIONAL MATCH (a)-[:{A}]-(b:{L}) MATCH (c:{L}) WHERE b IS NULL RETURN a, c',
  'MATCH (a:{L}) OPTIONAL MATCH (a)-[:{A}]-(b) FILTER b IS NULL OR NOT b:{L} RETURN a',
  'MATCH (a)-[:{A}]-(b) MATCH (b)-[:{A}]-(c) WHERE NOT c:{L} RETURN a, c',
  "MATCH (n:Net)-[j:JOINS]->(a) WHERE j.function = 'supply-input' RETURN n, a",
  "MATCH (n:Net)-[j:JOINS]->(a:{L}) WHERE j.name = 'SDA' OR j.function IS NULL RETURN n, a",
  'MATCH (n:Net) WHERE NOT EXISTS { (n)-[:JOINS]->(a:{L}) } RETURN n',
  'MATCH (a)-[]-(b:{L}) RETURN a, b',
  'MATCH (a:{L})-[e]-(b) WHERE NOT b:{L} RETURN a, b',
  'MATCH (a:{L})-[:{A}|{A}]-(b:{L}) RETURN a, b',
  'MATCH (a:{L})-[:{A}]-(b) WHERE a:{L} XOR b:{L} RETURN a, b',
  'MATCH (a:{L}), (b:{L}) WHERE EXISTS { (a)-[:{A}]-(b) } AND NOT EXISTS { (a)-[:FEEDS]->(b) } RETURN a, b',
] as const;

const DIRECTED = ['FEEDS'] as const;
const UNDIRECTED = ['SIGNAL_PATH', 'SIGNAL_PATH', 'SHARES_BUS', 'SHARES_NET'] as const;

/** One text of each template. @param kinds labels that are drawn besides those of all texts */
export function linkTexts(random: Random, kinds: readonly string[] = []): readonly string[] {
  return TEMPLATES.map((template) =>
    template.replace(/\{(L|F|S|A)\}/gu, (_, what: string) => {
      if (what === 'L')
        return random.chance(0.3) ? random.pick(LABELS) : random.pick([...kinds, 'Component']);
      if (what === 'F') return random.pick(DIRECTED);
      return random.pick(what === 'S' ? UNDIRECTED : [...UNDIRECTED, ...DIRECTED]);
    }),
  );
}

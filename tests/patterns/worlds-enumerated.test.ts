import { describe, expect, test } from 'vitest';
import { findPattern, patternRows } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { testSeed } from '../random.ts';
import { catalogueChanges, dossierChange, liveOf } from '../state/archive-of.ts';
import {
  type DrawnDevice,
  dossiersOf,
  drawDevice,
  EnumeratedDevice,
  PARTS,
  withKinds,
  withUnidentified,
} from './worlds-boards.ts';

// Probabilities of patterns against their definition: the sum over all worlds in which the text has at least one row.
// The worlds are enumerated over graphs of certain labels (worlds-boards.ts), so that nothing here shares an assumption
// with the code that works probabilities out. What a text says of certain labels is the affair of tests/gql.
//
// Placeholders in the templates, drawn anew for every text:
//   {L}  a term         {E}  a label expression         {N}  a number of pins
//   {C:a}  a condition on variable a, up to three levels of AND, OR, XOR, NOT and EXISTS

const LABELS = [
  'Sensor',
  'Sensor',
  'InertialSensor',
  'Accelerometer',
  'Gyroscope',
  'OpticalSensor',
  'Regulator',
  'LinearRegulator',
  'Processor',
  'Microcontroller',
  'Radio',
  'Memory',
  'Passive',
  'Connector',
] as const;

/** Templates of texts by what they are built of. */
const CONSTRUCTS: Readonly<Record<string, readonly string[]>> = {
  'labels and edges': [
    'MATCH (a:{L}) RETURN a',
    'MATCH (a:{L})~[:CONNECTS]~(b:{L}) RETURN a, b',
    "MATCH (a:{L})-[:CONNECTS {bus: 'I2C'}]-(b:{L})-[:ON]->(m:Board) RETURN a, b, m",
    'MATCH (a:{L})-[:ON]->(m:Board)<-[:ON]-(b:{L}) RETURN a, b, m',
    "MATCH (a:{L} {side: 'top'})~[e:CONNECTS]~(b)~[:CONNECTS]~(c:{L}) RETURN a, c",
  ],
  'label expressions': [
    'MATCH (a:{E}) RETURN a',
    'MATCH (a:Component&{E})~[:CONNECTS]~(b:{E}) RETURN a, b',
    'MATCH (a:{L}&!{L}) RETURN a',
    'MATCH (a:!({L}|{L}))~[:CONNECTS]~(b:%&!{L}) RETURN a, b',
  ],
  'comma patterns': [
    'MATCH (a:{L}), (b:{L}) RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b), (b)~[:CONNECTS]~(c:{L}), (c)-[:ON]->(m:Board) RETURN a, b, c',
    'MATCH (a:{L})-[:ON]->(m:Board), (b:{E})-[:ON]->(n:Board) RETURN a, b',
  ],
  'several MATCH': [
    'MATCH (a:{L}) MATCH (b:{L}) RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b) MATCH (b)~[:CONNECTS]~(c:{L}) WHERE c.pins > {N} RETURN a, b, c',
    'MATCH (a:{L}) WHERE a.pins > {N} MATCH (a)~[:CONNECTS]~(b:{E}) RETURN a, b',
  ],
  'quantified edges': [
    'MATCH (a:{L})~[:CONNECTS]~{1,3}(b:{L}) RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~{2}(b:{E}) RETURN a, b',
    'MATCH ACYCLIC (a:{L})~[:CONNECTS]~+(b:{L}) RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~{0,2}(b:{L}) RETURN a, b',
  ],
  'quantified paths': [
    'MATCH (a:{L}) ((x)~[:CONNECTS]~(y:!{L})){1,3} (b:{L}) RETURN a, b',
    'MATCH (a:{L}) ((x:{E})~[:CONNECTS]~(y)){1,2} (b) RETURN a, b',
    'MATCH TRAIL (a:{L}) ((x)~[:CONNECTS]~(y) WHERE y:{L} OR y.pins > {N}){1,3} (b:{L}) RETURN a, b',
    'MATCH (a:{L}) ((x)~[:CONNECTS]~(y) WHERE NOT y:{L}){2} (b) RETURN a, b',
  ],
  'questioned paths': [
    'MATCH (a:{L})~[:CONNECTS]~?(b:{L}) RETURN a, b',
    'MATCH (a:{L}) ((x)~[:CONNECTS]~(y:{L}))? (b)~[:CONNECTS]~(c:{L}) RETURN a, c',
  ],
  'WHERE x:L': [
    'MATCH (a:Component) WHERE a:{L} RETURN a',
    'MATCH (a:{L})~[:CONNECTS]~(b) WHERE b:{L} RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b:{L}) WHERE a:{L} AND b:{E} RETURN a, b',
    'MATCH (a:{L} WHERE a:{L})~[:CONNECTS]~(b WHERE b IS LABELED {E}) RETURN a, b',
  ],
  'WHERE NOT x:L': [
    'MATCH (a:{L}) WHERE NOT a:{L} RETURN a',
    'MATCH (a:{L})~[:CONNECTS]~(b) WHERE NOT b:{L} RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b:Component) WHERE b IS NOT LABELED {E} RETURN a, b',
    'MATCH (a:Component)~[:CONNECTS]~(b:{L}) WHERE NOT (a:{L} AND b:{L}) AND NOT a:{L} RETURN a, b',
  ],
  'labels with properties': [
    'MATCH (a:Component) WHERE a:{L} OR a.pins > {N} RETURN a',
    "MATCH (a:{L})~[e:CONNECTS]~(b) WHERE (b:{L} AND e.bus = 'I2C') OR (NOT b:{L} AND b.side = 'top') RETURN a, b",
    'MATCH (a:{L})~[:CONNECTS]~(b) WHERE a:{L} XOR b:{L} RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b) WHERE (b:{L} AND b.pins > {N}) IS NOT TRUE RETURN a, b',
    'MATCH (a:Component) WHERE CASE WHEN a:{L} THEN a.pins WHEN a:{L} THEN 2 * a.pins ELSE 0 END > {N} RETURN a',
  ],
  'one label in two places': [
    'MATCH (a:{L}), (b:Component) WHERE a:{L} OR b:{L} RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b:{L}), (a)-[:ON]->(m)<-[:ON]-(c:{L}) WHERE NOT c:{L} OR b:{L} RETURN a, b, c',
  ],
  EXISTS: [
    'MATCH (a:{L}) WHERE EXISTS {(a)~[:CONNECTS]~(b:{L})} RETURN a',
    'MATCH (a:{L})-[:ON]->(m:Board) WHERE EXISTS {(b:{L})-[:ON]->(m)} RETURN a',
    'MATCH (a:Component) WHERE EXISTS {(b:{L})} AND a:{L} RETURN a',
    'MATCH (a:{L}) WHERE EXISTS {MATCH (a)~[:CONNECTS]~(b) MATCH (b)~[:CONNECTS]~(c:{L}) WHERE NOT b:{L}} RETURN a',
    'MATCH (a:{L}) WHERE EXISTS {(a)~[:CONNECTS]~(b WHERE b:{L} OR b.pins > {N})} OR a:{L} RETURN a',
  ],
  'NOT EXISTS': [
    'MATCH (a:{L}) WHERE NOT EXISTS {(b:{L})} RETURN a',
    'MATCH (a:{L}) WHERE NOT EXISTS {(a)~[:CONNECTS]~(b:{L})} RETURN a',
    'MATCH (a:{L})-[:ON]->(m:Board) WHERE NOT EXISTS {(m)<-[:ON]-(b:{E})} RETURN a',
    'MATCH (a:{L})~[:CONNECTS]~(b:{L}) WHERE NOT EXISTS {(a)~[:CONNECTS]~{1,2}(c:{L} WHERE NOT c:{L})} RETURN a',
  ],
  'EXISTS within EXISTS': [
    'MATCH (a:{L}) WHERE NOT EXISTS {(a)~[:CONNECTS]~(b:{L}) WHERE NOT EXISTS {(b)~[:CONNECTS]~(c:{L})}} RETURN a',
    'MATCH (m:Board) WHERE NOT EXISTS {(a:{L})-[:ON]->(m) WHERE NOT EXISTS {(a)~[:CONNECTS]~(b:{L})}} RETURN m',
    'MATCH (a:{L}) WHERE EXISTS {(a)~[:CONNECTS]~(b) WHERE EXISTS {(b)~[:CONNECTS]~(c:{L}) WHERE NOT c:{L}} AND NOT b:{L}} RETURN a',
  ],
  'conditions of any shape': [
    'MATCH (a:Component) WHERE {C:a} RETURN a',
    'MATCH (a:{L})~[:CONNECTS]~(b) WHERE {C:a} AND {C:b} RETURN a, b',
    'MATCH (a:{L})~[:CONNECTS]~(b:{L}) WHERE {C:b} OR {C:a} RETURN a, b',
  ],
  'OPTIONAL MATCH': [
    'MATCH (a:{L}) OPTIONAL MATCH (a)~[:CONNECTS]~(b:{L}) RETURN a, b',
    'MATCH (a:{L}) OPTIONAL MATCH (b:{L}) WHERE NOT b:{L} RETURN a, b',
    'MATCH (a:Component) WHERE a:{L} OPTIONAL { MATCH (a)~[:CONNECTS]~(b:{L}) MATCH (b)~[:CONNECTS]~(c:{L}) } RETURN a, b, c',
  ],
  'MATCH after OPTIONAL MATCH': [
    'MATCH (a:{L}) OPTIONAL MATCH (a)~[:CONNECTS]~(b:{L}) MATCH (a)-[:ON]->(m:Board) WHERE b IS NULL RETURN a',
    'MATCH (a:{L}) OPTIONAL MATCH (a)~[:CONNECTS]~(b:{L}) MATCH (c:{L}) WHERE b IS NOT NULL OR c.pins > {N} RETURN a, c',
    'MATCH (a:{L}) OPTIONAL MATCH (a)~[:CONNECTS]~(b:{L}) MATCH (a)~[:CONNECTS]~(c) WHERE b IS NULL OR NOT b:{L} RETURN a, c',
  ],
  IDENTIFIED_AS: [
    'MATCH (a:{L})-[:IDENTIFIED_AS]->(p:Part) RETURN a, p',
    "MATCH (a)-[:IDENTIFIED_AS]->(p:Part)-[:MADE_BY]->(m:Maker {id: 'quistle'}) RETURN a, p",
    'MATCH (a:{L})-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(b:Component) RETURN a, b',
    "MATCH (a)-[:IDENTIFIED_AS]->(p:Part) WHERE p.number = 'IMU2' OR p.number = 'LDO5' RETURN a, p",
    "MATCH (a)-[e:IDENTIFIED_AS {state: 'favoured'}]->(p:Part) WHERE e.probability > 0.4 AND NOT a:{L} RETURN a",
    'MATCH (a:{L}) WHERE NOT EXISTS {(a)-[:IDENTIFIED_AS]->(p:Part)} RETURN a',
    'MATCH (a:{L}) OPTIONAL MATCH (a)-[:IDENTIFIED_AS]->(p:Part) MATCH (a)-[:ON]->(m) WHERE p IS NULL RETURN a',
    'MATCH (a)-[:IDENTIFIED_AS|CONNECTS]-(b:{L}|Part) WHERE a:{L} RETURN a, b',
  ],
  'REPEATABLE ELEMENTS': [
    'MATCH REPEATABLE ELEMENTS (a:{L})~[:CONNECTS]~(b)~[:CONNECTS]~(c:{L}) WHERE NOT c:{L} RETURN a, b, c',
    'MATCH REPEATABLE ELEMENTS (a:{L})~[:CONNECTS]~{2,3}(b:{L}) RETURN a, b',
  ],
  'predicates on elements': [
    'MATCH (a:{L})~[:CONNECTS]~(b)~[:CONNECTS]~(c:{L}) WHERE ALL_DIFFERENT(a, b, c) AND NOT b:{L} RETURN a, b, c',
    'MATCH (a:{L}), (b:{L}) WHERE SAME(a, b) OR a.pins = b.pins RETURN a, b',
    'MATCH (a:{L}) WHERE PROPERTY_EXISTS(a, pins) AND (a:{L} OR NOT a.pins > {N}) RETURN a',
  ],
  'aggregates along a path': [
    'MATCH (a:{L}) ((x)~[e:CONNECTS]~(y:!{L})){1,3} (b:{L}) WHERE SUM(y.pins) > {N} RETURN a, b',
    'MATCH (a:{L})~[e:CONNECTS]~{1,3}(b) WHERE COUNT(e) > 1 AND NOT b:{L} RETURN a, b',
  ],
  'LET and FILTER': [
    'MATCH (a:{L})~[:CONNECTS]~(b) LET n = a.pins + b.pins FILTER n > {N} RETURN a, b, n',
    'MATCH (a:{L})~[:CONNECTS]~(b) FILTER NOT b:{L} RETURN a, b',
    'MATCH (a:Component) LET labelled = a IS LABELED {L} FILTER NOT labelled RETURN a',
    'MATCH (a:{L}) LET n = CASE WHEN a:{L} THEN a.pins WHEN a:{L} THEN 2 ELSE 9 END LET m = n + 1 FILTER m > {N} OR NOT a:{L} RETURN a',
    'MATCH (a:{L}) LET has = EXISTS {(a)~[:CONNECTS]~(b:{L})} FILTER has XOR a:{L} RETURN a',
    'MATCH (a:{L}) OPTIONAL MATCH (a)~[:CONNECTS]~(b:{L}) FILTER b IS NULL OR NOT b:{L} RETURN a',
    'LET n = {N} MATCH (a:{L}) LET again = a MATCH (again)~[:CONNECTS]~(c) WHERE c.pins > n FILTER {C:c} RETURN a, c',
    'MATCH (a:{L}) LET labelled = a IS LABELED {L} MATCH (a)~[:CONNECTS]~(c) WHERE (c:{L}) = labelled RETURN a, c',
  ],
  FOR: [
    'MATCH (a:{L}) FOR n IN [a.pins, 4, {N}] FILTER n > {N} RETURN a, n',
    'MATCH (a:{L}) ((x)~[:CONNECTS]~(y)){1,2} (b) FOR z IN y WITH ORDINALITY i FILTER NOT z:{L} AND i > 1 RETURN a, z',
    'FOR n IN [{N}, {N}] MATCH (a:{L}) WHERE a.pins < n RETURN a, n',
    'MATCH (a:{L}) FOR n IN a.pins RETURN a',
  ],
  records: [
    'MATCH (a:{L})~[:CONNECTS]~(b) LET r = {n: b.pins, labelled: b:{L}} FILTER r.n > {N} OR NOT r.labelled RETURN a, r',
    'MATCH (a:{L}) RETURN RECORD {element: a} AS r, a NEXT MATCH (a)~[:CONNECTS]~(b:{L}) RETURN r, b',
    'MATCH (a:{L}) RETURN a, VALUE { MATCH (b:{L}) RETURN COUNT(*) } AS n',
  ],
  'NEXT with a row for each match': [
    'MATCH (a:{L})~[:CONNECTS]~(b) RETURN a, b.pins AS n NEXT MATCH (a)~[:CONNECTS]~(c:{L}) WHERE c.pins > n RETURN a, c',
    'MATCH (a:{L})~[:CONNECTS]~(b) RETURN b, a:{L} AS labelled NEXT FILTER NOT labelled OR b:{L} RETURN b',
    'MATCH (a:{L}) RETURN a AS b NEXT MATCH (b)-[:ON]->(m:Board)<-[:ON]-(c:{E}) RETURN b NEXT MATCH (a:{L}) RETURN a, b',
    'MATCH (a:{L}) OPTIONAL MATCH (a)~[:CONNECTS]~(b:{L}) RETURN a, b NEXT FILTER b IS NULL RETURN a',
  ],
  'RETURN with a row for each group': [
    'MATCH (a:{L})-[:ON]->(m:Board) WHERE NOT a:{L} RETURN m.kind, COUNT(*) AS n ORDER BY n DESC LIMIT 2',
    'MATCH (a:{L})~[:CONNECTS]~(b) WHERE b:{L} RETURN a, COUNT(DISTINCT b) AS n, MAX(b.pins) GROUP BY a',
    'MATCH (a:Component) WHERE a:{L} RETURN DISTINCT a.side ORDER BY a.side LIMIT 1',
  ],
};

/**
 * Texts whose number of rows RETURN decides: always one, or fewer than were found. Either the definition holds, or the
 * text is refused with a word that no probability is defined for it.
 */
const ROWS_OF_RETURN = [
  'MATCH (a:{L}) RETURN COUNT(*) AS n',
  'MATCH (a:{L})~[:CONNECTS]~(b) WHERE b:{L} RETURN MAX(b.pins) AS most',
  'MATCH (a:{L}) RETURN a OFFSET 1',
  'MATCH (a:{L})-[:ON]->(m:Board) RETURN DISTINCT m OFFSET 1',
  'MATCH (a:{L}) RETURN a LIMIT 0',
  'LET n = 1 RETURN n',
  'MATCH (a:{L}), (b:{L}) LET x = CASE WHEN a:{L} THEN a ELSE b END FILTER x.pins > {N} RETURN x',
  'MATCH (a:{L}), (b) FOR x IN CASE WHEN b:{L} THEN [1] ELSE [] END RETURN a, x',
  'MATCH (a:{L}), (b:{L}) RETURN CASE WHEN a:{L} THEN a ELSE b END AS x NEXT FILTER x.pins > {N} RETURN x',
  'MATCH (a:{L})-[:ON]->(m:Board) RETURN m, COUNT(*) AS n NEXT FILTER n > 1 RETURN m',
  'MATCH (a:{L}) RETURN DISTINCT a NEXT MATCH (a)~[:CONNECTS]~(b:{L}) RETURN a',
  'MATCH (a:{L}) RETURN a LIMIT 1 NEXT MATCH (a)~[:CONNECTS]~(b:{L}) RETURN a',
  'MATCH (a:{L}) ORDER BY a.pins LIMIT 1 FILTER a:{L} RETURN a',
  'MATCH (a:{L}) RETURN a UNION MATCH (a:{L}) RETURN a',
  'MATCH (a:{L}) WHERE VALUE { MATCH (a)~[:CONNECTS]~(b:{L}) RETURN COUNT(*) } > 1 RETURN a',
  'MATCH (a:{L}) LET n = VALUE { MATCH (b:{L}) RETURN COUNT(*) } FILTER n < 3 RETURN a',
  'MATCH (a:{L}) RETURN a, VALUE { MATCH (b:{L}) RETURN COUNT(*) } AS n NEXT FILTER n < 3 RETURN a',
  'MATCH (a:{L}) RETURN a OTHERWISE MATCH (a:{L}) RETURN a',
  'OPTIONAL MATCH (a:{L}) RETURN a',
  'OPTIONAL MATCH (a:{L}) MATCH (b:{L}) WHERE a IS NULL RETURN b',
];

/** A text of a template. */
function drawText(random: Random, template: string): string {
  return template.replaceAll(/\{(?:([LEN])|C:(\w))\}/gu, (_, kind: string, variable: string) => {
    if (kind === 'L') return random.pick(LABELS);
    if (kind === 'E') return `(${labelExpression(random, 2)})`;
    if (kind === 'N') return String(random.integer(2, 10));
    return condition(random, variable, 3);
  });
}

function labelExpression(random: Random, depth: number): string {
  if (depth === 0 || random.chance(0.3)) return (random.chance(0.3) ? '!' : '') + random.pick(LABELS);
  const [one, other] = [labelExpression(random, depth - 1), labelExpression(random, depth - 1)];
  return random.pick([`(${one}|${other})`, `(${one}&${other})`, `!(${one}|${other})`, `!(${one}&${other})`]);
}

function condition(random: Random, variable: string, depth: number): string {
  const inner = () => condition(random, variable, depth - 1);
  const other = `${variable}${depth}`;
  const kind = random.weighted(depth === 0 ? [4, 2] : [3, 2, 2, 2, 1, 2, 3]);
  if (kind === 0) return `${variable}:${random.pick(LABELS)}`;
  if (kind === 1) return `${variable}.pins > ${random.integer(2, 10)}`;
  if (kind === 2) return `(${inner()} AND ${inner()})`;
  if (kind === 3) return `(${inner()} OR ${inner()})`;
  if (kind === 4) return `(${inner()} XOR ${inner()})`;
  if (kind === 5) return `NOT (${inner()})`;
  const within = random.chance(0.6) ? `:${random.pick(LABELS)}` : '';
  const where = random.chance(0.5) ? ` WHERE ${condition(random, other, depth - 1)}` : '';
  return `${random.pick(['', 'NOT '])}EXISTS {(${variable})~[:CONNECTS]~(${other}${within})${where}}`;
}

const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'], invented: true },
    { id: 'quistle', name: 'Quistle', makes: ['parts'], invented: true },
    { id: 'ostrel', name: 'Ostrel', makes: ['parts'], invented: true },
  ],
  parts: PARTS.map((part) => ({ ...part, categories: [...part.categories] })),
});

const archiveOf = (devices: readonly DrawnDevice[]) =>
  liveOf([...CATALOGUE, ...devices.flatMap((device) => dossiersOf(device).map(dossierChange))]).state(
    'desk',
    '2026-06-01T00:00:00Z',
  );

interface Asked {
  readonly devices: readonly DrawnDevice[];
  readonly texts: readonly string[];
  /** @default true */
  readonly distinctNodes?: boolean;
  /** What is enumerated instead of the devices. */
  readonly meant?: (state: State, device: DrawnDevice) => DrawnDevice;
}

/**
 * Asks texts of devices that are all in one archive, beside enumeration.
 * @returns for every text and device the answer, undefined where the device is neither listed nor unlikely, and the
 *   probability over the worlds
 */
async function answered({ devices, texts, distinctNodes = true, meant = (_, device) => device }: Asked) {
  const state = archiveOf(devices);
  const enumerated = devices.map((device) => new EnumeratedDevice(meant(state, device)));
  const answers = [];
  for (const text of texts) {
    const answer = await findPattern(state, { text, distinctNodes });
    for (const one of enumerated) {
      const device = one.device.id;
      const worlds = await one.probability({ text, distinctNodes });
      const listed = answer.devices.find(({ deviceId }) => deviceId === device);
      answers.push({ text, device, worlds, listed, unlikely: answer.unlikely.get(device) });
    }
  }
  return answers;
}
type Answered = Awaited<ReturnType<typeof answered>>[number];

/** Lower and upper limit of what an answer says: equal where it is exact. */
function limits({ listed, unlikely = 0 }: Answered): { readonly low: number; readonly high: number } {
  if (!listed) return { low: unlikely, high: unlikely };
  const { method, probability, low, high } = listed;
  return method === 'estimate' ? { low, high } : { low: probability, high: probability };
}

/** Answers that are not those of the worlds: unequal, or outside the interval of an estimate. */
async function wrongAnswers(asked: Asked) {
  return (await answered(asked)).flatMap((one) => {
    const { low, high } = limits(one);
    if (low - 1e-9 <= one.worlds && one.worlds <= high + 1e-9) return [];
    const { text, device, worlds, listed } = one;
    return [{ text, device, worlds, low, high, method: listed?.method ?? 'none' }];
  });
}

/** Devices of one specimen, and the last of two. */
function drawDevices(random: Random, count: number): DrawnDevice[] {
  return Array.from({ length: count }, (_, at) =>
    drawDevice(random.stream(`device ${at}`), `tarn-${at + 1}`, { specimens: at === count - 1 ? 2 : 1 }),
  );
}

/** 24 and 3 for the table of a report. */
const DEVICES = Number(process.env.CASEBACK_WORLDS_DEVICES ?? 3);
const TEXTS_EACH = Number(process.env.CASEBACK_WORLDS_TEXTS ?? 1);

const textsOf = (random: Random, templates: readonly string[]) =>
  templates.flatMap((template) => Array.from({ length: TEXTS_EACH }, () => drawText(random, template)));

/** Devices and texts for a test, drawn by its seed. */
function draw(templates: readonly string[]): Asked {
  const random = seededRandom(testSeed());
  return { devices: drawDevices(random, DEVICES), texts: textsOf(random.stream('texts'), templates) };
}

describe('the probability of a pattern is that of the worlds in which it has a row', () => {
  test.each(Object.entries(CONSTRUCTS))('%s', async (_, templates) => {
    expect(await wrongAnswers(draw(templates))).toEqual([]);
  });

  test.each(Object.entries(CONSTRUCTS))('%s, where one thing may be matched twice', async (_, templates) => {
    expect(await wrongAnswers({ ...draw(templates), distinctNodes: false })).toEqual([]);
  });

  test.each(ROWS_OF_RETURN)('or none is defined: %s', async (template) => {
    await expect(wrongAnswers(draw([template]))).rejects.toThrow(/probabilit/u);
  });

  test('an unidentified component is one of the kinds that the archive thinks possible, or none', async () => {
    const random = seededRandom(testSeed());
    const devices = Array.from({ length: 2 }, (_, at) =>
      withUnidentified(random, drawDevice(random, `tarn-${at + 1}`, { uncertain: 2 })),
    );
    const texts = [
      'MATCH (a:{L}) RETURN a',
      'MATCH (a:{L})~[:CONNECTS]~(b) WHERE NOT b:{L} RETURN a, b',
      'MATCH (a:Component) WHERE a:{L} AND NOT EXISTS {(b:{L})} RETURN a',
    ].map((template) => drawText(random, template));
    const meant = (state: State, device: DrawnDevice) =>
      withKinds(device, (id) => state.specimen(`${device.id}/a`)?.spreads.get(id) ?? []);
    expect(await wrongAnswers({ devices, texts, meant })).toEqual([]);
  });

  test('what never holds is not listed, what is possible is, and what is extremely likely is certain', async () => {
    const answers = await answered(draw(Object.values(CONSTRUCTS).map((templates) => templates[0])));
    const wrong = answers.filter(({ worlds, listed, unlikely }) => {
      if (worlds < 1e-12) return listed !== undefined || (unlikely ?? 0) > 1e-12;
      const isNear = (edge: number) => Math.abs(worlds - edge) < 1e-6;
      if (!isNear(0.05) && (listed !== undefined) !== worlds > 0.05 && listed?.method !== 'estimate')
        return true;
      return !isNear(0.95) && listed?.method === 'exact' && listed.certain !== worlds > 0.95;
    });
    expect(
      wrong.map(({ text, device, worlds, listed }) => ({ text, device, worlds, certain: listed?.certain })),
    ).toEqual([]);
  });
});

test('the graphs of the worlds are those that the archive makes of a device without doubt', async () => {
  const random = seededRandom(testSeed());
  for (let at = 0; at < DEVICES; at++) {
    const device = drawDevice(random, 'tarn-1', { uncertain: 0 });
    const state = archiveOf([device]);
    const enumerated = new EnumeratedDevice(device);
    const others = [
      'MATCH (s:Specimen)-[:HAS_BOARD]->(b:Board) RETURN s, b',
      'MATCH (s:Specimen)-[:SPECIMEN_OF]->(d:Device)-[:MADE_BY]->(m:Maker) RETURN s, d, m',
    ];
    for (const template of [...Object.values(CONSTRUCTS).flat(), ...ROWS_OF_RETURN, ...others]) {
      const distinctNodes = random.chance(0.5);
      const text = drawText(random, template);
      const { rows } = await patternRows(state, { text, distinctNodes });
      expect([text, distinctNodes, rows.length]).toEqual([
        text,
        distinctNodes,
        await enumerated.rows({ text, distinctNodes }),
      ]);
    }
  }
});

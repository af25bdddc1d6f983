/**
 * Ten patterns on the flat archive, each as a graph pattern with categories as labels or as properties, as SQL, and as
 * loops over typed arrays. All count the same bindings: no edge is bound twice.
 */
import { CATEGORY, type FlatTables, labelOf, type Style } from './match-flat-archive.ts';

export interface FlatPattern {
  readonly name: string;
  /** The text of the pattern; `x('s', 'sensor')` is a node pattern of a variable and a category. */
  readonly text: (x: (variable: string, category: string, where?: string) => string) => string;
  readonly sql: string;
  readonly loops: (t: FlatTables) => number;
}

/** The text of a pattern for a graph of a style. */
export function flatText({ text }: FlatPattern, style: Style): string {
  const node = (variable: string, category: string, where?: string): string => {
    if (style === 'label')
      return `(${variable}:${labelOf(category)}${where ? ` WHERE ${variable}.${where}` : ''})`;
    return `(${variable} WHERE ${variable}.category = '${category}'${where ? ` AND ${variable}.${where}` : ''})`;
  };
  return `${text(node)} RETURN COUNT(*) AS n`;
}

const ACCELEROMETER = CATEGORY.accelerometer!;
const AMPLIFIER = CATEGORY.amplifier!;
const ANTENNA = CATEGORY.antenna!;
const BATTERY = CATEGORY.battery!;
const CAPACITOR = CATEGORY.capacitor!;
const CONNECTOR = CATEGORY.connector!;
const CRYSTAL = CATEGORY.crystal!;
const DISPLAY = CATEGORY.display!;
const INDUCTOR = CATEGORY.inductor!;
const LED = CATEGORY.led!;
const MEMORY = CATEGORY.memory!;
const MICROCONTROLLER = CATEGORY.microcontroller!;
const RADIO = CATEGORY.radio!;
const REGULATOR = CATEGORY.regulator!;
const RESISTOR = CATEGORY.resistor!;
const SENSOR = CATEGORY.sensor!;

/** Components wired to c that are of a category. */
function around(t: FlatTables, c: number, category: number): number {
  let n = 0;
  for (let i = t.from[c]!; i < t.from[c + 1]!; i++) if (t.category[t.to[i]!] === category) n++;
  return n;
}

const WIDTHS_SQL = (a: string, b: string, from: string) =>
  `SELECT count(*) FROM component m JOIN component n ON n.device = m.device ${from} WHERE m.category = 'microcontroller' AND n.category = 'microcontroller' AND ${a} = 32 AND ${b} = 64`;

function widths(t: FlatTables): number {
  let n = 0;
  for (let d = 0; d < t.devices; d++) {
    let narrow = 0;
    let wide = 0;
    for (let c = t.start[d]!; c < t.start[d + 1]!; c++) {
      if (t.category[c] !== MICROCONTROLLER) continue;
      const width = t.partWidth[t.part[c]!];
      if (width === 32) narrow++;
      else if (width === 64) wide++;
    }
    n += narrow * wide;
  }
  return n;
}

/** Walks from a component along wires through components of these categories, one after another. */
function walks(t: FlatTables, c: number, categories: readonly number[], at = 0): number {
  if (at === categories.length) return 1;
  let n = 0;
  for (let i = t.from[c]!; i < t.from[c + 1]!; i++)
    if (t.category[t.to[i]!] === categories[at]) n += walks(t, t.to[i]!, categories, at + 1);
  return n;
}

export const FLAT_PATTERNS: readonly FlatPattern[] = [
  {
    name: 'amplifier between sensor and connector, one board',
    text: (x) =>
      `MATCH ${x('s', 'sensor')}-[:ON]->(b:Board)<-[:ON]-${x('a', 'amplifier')}, (s)~[:WIRED]~(a)~[:WIRED]~${x('c', 'connector')}, (c)-[:ON]->(b)`,
    sql: `SELECT count(*) FROM component a JOIN wire v ON v.a = a.id JOIN component s ON s.id = v.b JOIN wire w ON w.a = a.id JOIN component c ON c.id = w.b
          WHERE a.category = 'amplifier' AND s.category = 'sensor' AND c.category = 'connector' AND s.board = a.board AND c.board = a.board`,
    loops: (t) => {
      let n = 0;
      for (let a = 0; a < t.components; a++) {
        if (t.category[a] !== AMPLIFIER) continue;
        let sensors = 0;
        let connectors = 0;
        for (let i = t.from[a]!; i < t.from[a + 1]!; i++) {
          const c = t.to[i]!;
          if (t.board[c] !== t.board[a]) continue;
          if (t.category[c] === SENSOR) sensors++;
          else if (t.category[c] === CONNECTOR) connectors++;
        }
        n += sensors * connectors;
      }
      return n;
    },
  },
  {
    name: 'two word widths in one device, by parts',
    text: (x) =>
      `MATCH ${x('m', 'microcontroller')}-[:IN]->(d:Device)<-[:IN]-${x('n', 'microcontroller')}, (m)-[:IS]->(p:Part WHERE p.width = 32), (n)-[:IS]->(q:Part WHERE q.width = 64)`,
    sql: WIDTHS_SQL('p.width', 'q.width', 'JOIN part p ON p.id = m.part JOIN part q ON q.id = n.part'),
    loops: widths,
  },
  {
    name: 'two word widths in one device, by components',
    text: (x) =>
      `MATCH ${x('m', 'microcontroller', 'width = 32')}-[:IN]->(d:Device)<-[:IN]-${x('n', 'microcontroller', 'width = 64')}`,
    sql: WIDTHS_SQL('m.width', 'n.width', ''),
    loops: widths,
  },
  {
    name: 'one accelerometer twice in a device',
    text: (x) =>
      `MATCH ${x('a', 'accelerometer')}-[:IN]->(d:Device)<-[:IN]-${x('b', 'accelerometer')}, (a)-[:IS]->(p:Part)<-[:IS]-(b)`,
    sql: `SELECT count(*) FROM component a JOIN component b ON b.device = a.device AND b.part = a.part
          WHERE a.category = 'accelerometer' AND b.category = 'accelerometer' AND a.id <> b.id`,
    loops: (t) => {
      let n = 0;
      const found: number[] = [];
      for (let d = 0; d < t.devices; d++) {
        found.length = 0;
        for (let c = t.start[d]!; c < t.start[d + 1]!; c++) {
          if (t.category[c] !== ACCELEROMETER) continue;
          for (const other of found) if (t.part[other] === t.part[c]) n += 2;
          found.push(c);
        }
      }
      return n;
    },
  },
  {
    name: 'chain of eight',
    text: (x) =>
      `MATCH ${x('c', 'connector')}~[:WIRED]~${x('r', 'resistor')}~[:WIRED]~${x('a', 'amplifier')}~[:WIRED]~${x('k', 'capacitor')}~[:WIRED]~${x('m', 'microcontroller')}~[:WIRED]~${x('q', 'resistor')}~[:WIRED]~${x('g', 'regulator')}~[:WIRED]~${x('b', 'battery')}`,
    sql: `SELECT count(*) FROM component m
          JOIN wire w1 ON w1.a = m.id JOIN component k ON k.id = w1.b JOIN wire w2 ON w2.a = k.id JOIN component a ON a.id = w2.b
          JOIN wire w3 ON w3.a = a.id JOIN component r ON r.id = w3.b JOIN wire w4 ON w4.a = r.id JOIN component c ON c.id = w4.b
          JOIN wire w5 ON w5.a = m.id JOIN component q ON q.id = w5.b JOIN wire w6 ON w6.a = q.id JOIN component g ON g.id = w6.b
          JOIN wire w7 ON w7.a = g.id JOIN component b ON b.id = w7.b
          WHERE m.category = 'microcontroller' AND k.category = 'capacitor' AND a.category = 'amplifier' AND r.category = 'resistor'
            AND c.category = 'connector' AND q.category = 'resistor' AND g.category = 'regulator' AND b.category = 'battery'`,
    // Both arms are without a component in common: their edges lead to other categories.
    loops: (t) => {
      let n = 0;
      for (let m = 0; m < t.components; m++) {
        if (t.category[m] !== MICROCONTROLLER) continue;
        const right = walks(t, m, [RESISTOR, REGULATOR, BATTERY]);
        if (right > 0) n += right * walks(t, m, [CAPACITOR, AMPLIFIER, RESISTOR, CONNECTOR]);
      }
      return n;
    },
  },
  {
    name: 'tree of twelve',
    text: (x) =>
      `MATCH ${x('m', 'microcontroller')}-[:ON]->(b:Board)-[:BOARD_OF]->(d:Device), (m)~[:WIRED]~${x('f', 'memory')}, (m)~[:WIRED]~${x('l', 'led')}, (l)~[:WIRED]~${x('o', 'resistor')}, (m)~[:WIRED]~${x('r', 'radio')}, (r)~[:WIRED]~${x('t', 'antenna')}, (m)~[:WIRED]~${x('g', 'regulator')}, (g)~[:WIRED]~${x('i', 'inductor')}, (m)~[:WIRED]~${x('s', 'sensor')}, (s)~[:WIRED]~${x('k', 'capacitor')}`,
    sql: `SELECT count(*) FROM component m JOIN wire w1 ON w1.a = m.id JOIN component f ON f.id = w1.b
          JOIN wire w2 ON w2.a = m.id JOIN component r ON r.id = w2.b JOIN wire w3 ON w3.a = r.id JOIN component t ON t.id = w3.b
          JOIN wire w4 ON w4.a = m.id JOIN component g ON g.id = w4.b JOIN wire w5 ON w5.a = g.id JOIN component i ON i.id = w5.b
          JOIN wire w6 ON w6.a = m.id JOIN component s ON s.id = w6.b JOIN wire w7 ON w7.a = s.id JOIN component k ON k.id = w7.b
          JOIN wire w8 ON w8.a = m.id JOIN component l ON l.id = w8.b JOIN wire w9 ON w9.a = l.id JOIN component o ON o.id = w9.b
          WHERE m.category = 'microcontroller' AND f.category = 'memory' AND r.category = 'radio' AND t.category = 'antenna'
            AND g.category = 'regulator' AND i.category = 'inductor' AND s.category = 'sensor' AND k.category = 'capacitor'
            AND l.category = 'led' AND o.category = 'resistor'`,
    loops: (t) => {
      let n = 0;
      for (let m = 0; m < t.components; m++) {
        if (t.category[m] !== MICROCONTROLLER) continue;
        const memories = around(t, m, MEMORY);
        if (memories === 0) continue;
        const twigs = [RADIO, REGULATOR, SENSOR, LED].map((first, k) => {
          let sum = 0;
          for (let i = t.from[m]!; i < t.from[m + 1]!; i++)
            if (t.category[t.to[i]!] === first)
              sum += around(t, t.to[i]!, [ANTENNA, INDUCTOR, CAPACITOR, RESISTOR][k]!);
          return sum;
        });
        n += twigs.reduce((product, sum) => product * sum, memories);
      }
      return n;
    },
  },
  {
    name: 'cycle of four',
    text: (x) =>
      `MATCH ${x('m', 'microcontroller')}~[:WIRED]~${x('r', 'resistor')}~[:WIRED]~${x('s', 'sensor')}~[:WIRED]~${x('k', 'capacitor')}~[:WIRED]~(m)`,
    sql: `SELECT count(*) FROM component m JOIN wire w1 ON w1.a = m.id JOIN component r ON r.id = w1.b JOIN wire w2 ON w2.a = r.id JOIN component s ON s.id = w2.b
          JOIN wire w3 ON w3.a = s.id JOIN component k ON k.id = w3.b JOIN wire w4 ON w4.a = k.id AND w4.b = m.id
          WHERE m.category = 'microcontroller' AND r.category = 'resistor' AND s.category = 'sensor' AND k.category = 'capacitor'`,
    loops: (t) => {
      let n = 0;
      for (let m = 0; m < t.components; m++) {
        if (t.category[m] !== MICROCONTROLLER) continue;
        for (let i = t.from[m]!; i < t.from[m + 1]!; i++) {
          const r = t.to[i]!;
          if (t.category[r] !== RESISTOR) continue;
          for (let j = t.from[r]!; j < t.from[r + 1]!; j++) {
            const s = t.to[j]!;
            if (t.category[s] !== SENSOR) continue;
            for (let k = t.from[s]!; k < t.from[s + 1]!; k++) {
              const c = t.to[k]!;
              if (t.category[c] !== CAPACITOR) continue;
              for (let l = t.from[c]!; l < t.from[c + 1]!; l++) if (t.to[l] === m) n++;
            }
          }
        }
      }
      return n;
    },
  },
  {
    name: 'radio without an antenna in the device',
    text: (x) =>
      `MATCH ${x('r', 'radio')}-[:IN]->(d:Device) WHERE NOT EXISTS { MATCH ${x('t', 'antenna')}-[:IN]->(d) }`,
    sql: `SELECT count(*) FROM component r WHERE r.category = 'radio' AND NOT EXISTS (SELECT 1 FROM component t WHERE t.device = r.device AND t.category = 'antenna')`,
    loops: (t) => {
      let n = 0;
      for (let d = 0; d < t.devices; d++) {
        let radios = 0;
        let antennas = 0;
        for (let c = t.start[d]!; c < t.start[d + 1]!; c++)
          if (t.category[c] === RADIO) radios++;
          else if (t.category[c] === ANTENNA) antennas++;
        if (antennas === 0) n += radios;
      }
      return n;
    },
  },
  {
    name: 'microcontroller with no crystal of its own',
    text: (x) =>
      `MATCH ${x('m', 'microcontroller')}-[:ON]->(b:Board) WHERE NOT EXISTS { MATCH ${x('y', 'crystal')}~[:WIRED]~(m) }`,
    sql: `SELECT count(*) FROM component m WHERE m.category = 'microcontroller' AND NOT EXISTS (SELECT 1 FROM wire w JOIN component y ON y.id = w.b WHERE w.a = m.id AND y.category = 'crystal')`,
    loops: (t) => {
      let n = 0;
      for (let m = 0; m < t.components; m++)
        if (t.category[m] === MICROCONTROLLER && around(t, m, CRYSTAL) === 0) n++;
      return n;
    },
  },
  {
    name: 'two devices with one custom display',
    text: (x) =>
      `MATCH (d:Device)<-[:IN]-${x('a', 'display')}-[:IS]->(p:Part WHERE p.custom = TRUE)<-[:IS]-${x('b', 'display')}-[:IN]->(e:Device) WHERE d <> e`,
    sql: `SELECT count(*) FROM component a JOIN part p ON p.id = a.part JOIN component b ON b.part = a.part
          WHERE a.category = 'display' AND b.category = 'display' AND p.custom AND a.device <> b.device`,
    loops: (t) => {
      let n = 0;
      for (let a = 0; a < t.components; a++) {
        const p = t.part[a]!;
        if (t.category[a] !== DISPLAY || t.partCustom[p] !== 1) continue;
        for (let j = t.usedStart[p]!; j < t.usedStart[p + 1]!; j++) {
          const b = t.used[j]!;
          if (t.category[b] === DISPLAY && t.deviceOf[b] !== t.deviceOf[a]) n++;
        }
      }
      return n;
    },
  },
];

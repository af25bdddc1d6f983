/**
 * Twelve patterns in the spirit of the named patterns of the archive, each asked three ways: as a graph pattern, as
 * SQL, and as loops over typed arrays. All count the same bindings (nodes pairwise distinct, labels that are only
 * probably true read as possible: there may be no heat source nearby when the one there is not certain to be one).
 *
 * The SQL follows what DuckDB's manual advises ("Performance Guide": narrow integer and ENUM columns, data stored in
 * the order it is filtered by, joins on integers, no indexes for analytical scans; the connections stand in the
 * table both ways round so that no OR is needed in a join).
 */
import { BUSES, KIND, MEDIA, type Tables } from './match-tables.ts';

export interface BenchPattern {
  readonly name: string;
  readonly text: string;
  readonly sql: string;
  readonly loops: (t: Tables) => number;
}

const AMPLIFIER = KIND.Amplifier!;
const ANALOGUE_FRONT_END = KIND.AnalogueFrontEnd!;
const APPLICATION_PROCESSOR = KIND.ApplicationProcessor!;
const BOOST_CONVERTER = KIND.BoostConverter!;
const BUCK_CONVERTER = KIND.BuckConverter!;
const CAPACITOR = KIND.Capacitor!;
const CHARGER = KIND.Charger!;
const CONNECTOR = KIND.Connector!;
const CRYSTAL = KIND.Crystal!;
const DISPLAY = KIND.Display!;
const LINEAR_REGULATOR = KIND.LinearRegulator!;
const MEMORY = KIND.Memory!;
const MICROCONTROLLER = KIND.Microcontroller!;
const OPTICAL_SENSOR = KIND.OpticalSensor!;
const PROCESSOR = KIND.Processor!;
const RADIO = KIND.Radio!;
const SENSOR = KIND.Sensor!;
const SENSOR_HUB = KIND.SensorHub!;
const TEMPERATURE_SENSOR = KIND.TemperatureSensor!;
const SPI = BUSES.indexOf('spi');
const POWER = BUSES.indexOf('power');
const FLEX = MEDIA.indexOf('flex');

export const PATTERNS: readonly BenchPattern[] = [
  {
    name: 'amplification at the sensor, ahead of a connector',
    text: `MATCH (s:Sensor)-[:ON]->(b:Board)<-[:ON]-(a:Amplifier), (s)~[:CONNECTS]~(a)~[:CONNECTS]~(c:Connector) RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component a JOIN link l1 ON l1.a = a.id JOIN component s ON s.id = l1.b JOIN link l2 ON l2.a = a.id JOIN component c ON c.id = l2.b
          WHERE a.kind = 'Amplifier' AND s.parent = 'Sensor' AND c.parent = 'Connector' AND s.board = a.board`,
    loops: (t) => {
      let n = 0;
      for (let a = 0; a < t.components; a++) {
        if (t.kind[a] !== AMPLIFIER) continue;
        for (let i = t.from[a]!; i < t.from[a + 1]!; i++) {
          const s = t.to[i]!;
          if (t.parent[s] !== SENSOR || t.board[s] !== t.board[a]) continue;
          for (let j = t.from[a]!; j < t.from[a + 1]!; j++) if (t.parent[t.to[j]!] === CONNECTOR) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'two unlike processors',
    text: `MATCH (p:Microcontroller)-[:ON]->(b1:Board)<-[:HAS_BOARD]-(d:Device)-[:HAS_BOARD]->(b2:Board)<-[:ON]-(q:ApplicationProcessor) RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component p JOIN board b1 ON b1.id = p.board JOIN board b2 ON b2.device = b1.device JOIN component q ON q.board = b2.id
          WHERE p.kind = 'Microcontroller' AND q.kind = 'ApplicationProcessor' AND b1.id <> b2.id`,
    loops: (t) => {
      let n = 0;
      for (let p = 0; p < t.components; p++) {
        if (t.kind[p] !== MICROCONTROLLER) continue;
        const d = t.deviceOf[t.board[p]!]!;
        for (let b = t.boardStart[d]!; b < t.boardStart[d + 1]!; b++) {
          if (b === t.board[p]) continue;
          for (let i = t.onStart[b]!; i < t.onStart[b + 1]!; i++)
            if (t.kind[t.on[i]!] === APPLICATION_PROCESSOR) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'duplicated sensors of one part on one board',
    text: `MATCH (s1:Sensor)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(s2:Sensor), (s1)-[:ON]->(b:Board)<-[:ON]-(s2) RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component s1 JOIN component s2 ON s1.board = s2.board AND s1.part = s2.part
          WHERE s1.parent = 'Sensor' AND s2.parent = 'Sensor' AND s1.id <> s2.id AND s1.part IS NOT NULL`,
    loops: (t) => {
      let n = 0;
      for (let s = 0; s < t.components; s++) {
        if (t.parent[s] !== SENSOR || t.part[s]! < 0) continue;
        const b = t.board[s]!;
        for (let i = t.onStart[b]!; i < t.onStart[b + 1]!; i++) {
          const other = t.on[i]!;
          if (other !== s && t.part[other] === t.part[s] && t.parent[other] === SENSOR) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'sensors of one kind far apart on a board',
    text: `MATCH (a:OpticalSensor)-[:ON]->(b:Board)<-[:ON]-(c:OpticalSensor) WHERE a.side = c.side AND (a.x - c.x) * (a.x - c.x) + (a.y - c.y) * (a.y - c.y) > 400 RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component a JOIN component c ON a.board = c.board
          WHERE a.kind = 'OpticalSensor' AND c.kind = 'OpticalSensor' AND a.id <> c.id AND a.side = c.side
            AND (a.x - c.x) * (a.x - c.x) + (a.y - c.y) * (a.y - c.y) > 400`,
    loops: (t) => {
      let n = 0;
      for (let a = 0; a < t.components; a++) {
        if (t.kind[a] !== OPTICAL_SENSOR) continue;
        const b = t.board[a]!;
        for (let i = t.onStart[b]!; i < t.onStart[b + 1]!; i++) {
          const c = t.on[i]!;
          if (c === a || t.kind[c] !== OPTICAL_SENSOR || t.top[a] !== t.top[c]) continue;
          const dx = t.x[a]! - t.x[c]!;
          const dy = t.y[a]! - t.y[c]!;
          if (dx * dx + dy * dy > 400) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'display rail from its own boost converter',
    text: `MATCH (d:Display)~[:CONNECTS]~(r:BoostConverter)~[:CONNECTS]~(c:Capacitor) RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component r JOIN link l1 ON l1.a = r.id JOIN component d ON d.id = l1.b JOIN link l2 ON l2.a = r.id JOIN component c ON c.id = l2.b
          WHERE r.kind = 'BoostConverter' AND d.kind = 'Display' AND c.kind = 'Capacitor'`,
    loops: (t) => {
      let n = 0;
      for (let d = 0; d < t.components; d++) {
        if (t.kind[d] !== DISPLAY) continue;
        for (let i = t.from[d]!; i < t.from[d + 1]!; i++) {
          const r = t.to[i]!;
          if (t.kind[r] !== BOOST_CONVERTER) continue;
          for (let j = t.from[r]!; j < t.from[r + 1]!; j++) if (t.kind[t.to[j]!] === CAPACITOR) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'separate low-noise supply for the analogue section',
    text: `MATCH (l:LinearRegulator)~[e:CONNECTS]~(f:Amplifier|AnalogueFrontEnd) WHERE e.bus = 'power' RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component l JOIN link e ON e.a = l.id JOIN component f ON f.id = e.b
          WHERE l.kind = 'LinearRegulator' AND f.kind IN ('Amplifier', 'AnalogueFrontEnd') AND e.bus = 'power'`,
    loops: (t) => {
      let n = 0;
      for (let l = 0; l < t.components; l++) {
        if (t.kind[l] !== LINEAR_REGULATOR) continue;
        for (let i = t.from[l]!; i < t.from[l + 1]!; i++) {
          const f = t.kind[t.to[i]!];
          if (t.bus[i] === POWER && (f === AMPLIFIER || f === ANALOGUE_FRONT_END)) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'sensor hub between sensors and the main processor',
    text: `MATCH (s:Sensor)~[:CONNECTS]~(h:SensorHub)~[:CONNECTS]~(p:ApplicationProcessor) RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component h JOIN link l1 ON l1.a = h.id JOIN component s ON s.id = l1.b JOIN link l2 ON l2.a = h.id JOIN component p ON p.id = l2.b
          WHERE h.kind = 'SensorHub' AND s.parent = 'Sensor' AND p.kind = 'ApplicationProcessor'`,
    loops: (t) => {
      let n = 0;
      for (let h = 0; h < t.components; h++) {
        if (t.kind[h] !== SENSOR_HUB) continue;
        for (let i = t.from[h]!; i < t.from[h + 1]!; i++) {
          if (t.kind[t.to[i]!] !== APPLICATION_PROCESSOR) continue;
          for (let j = t.from[h]!; j < t.from[h + 1]!; j++) if (t.parent[t.to[j]!] === SENSOR) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'timing crystal beside the radio',
    text: `MATCH (x:Crystal)-[:ON]->(b:Board)<-[:ON]-(r:Radio) WHERE x.side = r.side AND (x.x - r.x) * (x.x - r.x) + (x.y - r.y) * (x.y - r.y) < 25 RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component x JOIN component r ON x.board = r.board
          WHERE x.kind = 'Crystal' AND r.kind = 'Radio' AND x.side = r.side
            AND (x.x - r.x) * (x.x - r.x) + (x.y - r.y) * (x.y - r.y) < 25`,
    loops: (t) => {
      let n = 0;
      for (let r = 0; r < t.components; r++) {
        if (t.kind[r] !== RADIO) continue;
        const b = t.board[r]!;
        for (let i = t.onStart[b]!; i < t.onStart[b + 1]!; i++) {
          const c = t.on[i]!;
          if (t.kind[c] !== CRYSTAL || t.top[c] !== t.top[r]) continue;
          const dx = t.x[c]! - t.x[r]!;
          const dy = t.y[c]! - t.y[r]!;
          if (dx * dx + dy * dy < 25) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'temperature sensor kept away from heat sources',
    text: `MATCH (t:TemperatureSensor)-[:ON]->(b:Board) WHERE NOT EXISTS { MATCH (h:Charger|BuckConverter|ApplicationProcessor)-[:ON]->(b) WHERE (t.x - h.x) * (t.x - h.x) + (t.y - h.y) * (t.y - h.y) < 100 } RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component t WHERE t.kind = 'TemperatureSensor' AND NOT EXISTS (
            SELECT 1 FROM component h WHERE h.board = t.board AND h.kind IN ('Charger', 'BuckConverter', 'ApplicationProcessor') AND h.certain
              AND (t.x - h.x) * (t.x - h.x) + (t.y - h.y) * (t.y - h.y) < 100)`,
    loops: (t) => {
      let n = 0;
      for (let s = 0; s < t.components; s++) {
        if (t.kind[s] !== TEMPERATURE_SENSOR) continue;
        const b = t.board[s]!;
        let far = true;
        for (let i = t.onStart[b]!; i < t.onStart[b + 1]! && far; i++) {
          const h = t.on[i]!;
          const kind = t.kind[h];
          if (kind !== CHARGER && kind !== BUCK_CONVERTER && kind !== APPLICATION_PROCESSOR) continue;
          if (t.certain[h] === 0) continue;
          const dx = t.x[s]! - t.x[h]!;
          const dy = t.y[s]! - t.y[h]!;
          if (dx * dx + dy * dy < 100) far = false;
        }
        if (far) n++;
      }
      return n;
    },
  },
  {
    name: 'boards linked by flex',
    text: `MATCH (b1:Board)<-[:ON]-(c1:Connector)~[e:CONNECTS {medium: 'flex'}]~(c2:Connector)-[:ON]->(b2:Board) RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component c1 JOIN link e ON e.a = c1.id JOIN component c2 ON c2.id = e.b
          WHERE c1.parent = 'Connector' AND c2.parent = 'Connector' AND e.medium = 'flex' AND c1.board <> c2.board`,
    loops: (t) => {
      let n = 0;
      for (let c = 0; c < t.components; c++) {
        if (t.parent[c] !== CONNECTOR) continue;
        for (let i = t.from[c]!; i < t.from[c + 1]!; i++) {
          const other = t.to[i]!;
          if (t.medium[i] === FLEX && t.parent[other] === CONNECTOR && t.board[other] !== t.board[c]) n++;
        }
      }
      return n;
    },
  },
  {
    name: 'one part reused by several makers',
    text: `MATCH (m1:Maker)<-[:MADE_BY]-(d1:Device)-[:HAS_BOARD]->(b1:Board)<-[:ON]-(c1:SensorHub)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(c2:SensorHub)-[:ON]->(b2:Board)<-[:HAS_BOARD]-(d2:Device)-[:MADE_BY]->(m2:Maker) RETURN COUNT(*) AS n`,
    sql: `WITH u AS (SELECT c.part AS part, d.maker AS maker, d.id AS device, c.id AS id FROM component c JOIN board b ON b.id = c.board JOIN device d ON d.id = b.device WHERE c.kind = 'SensorHub' AND c.part IS NOT NULL)
          SELECT count(*) FROM u u1 JOIN u u2 ON u1.part = u2.part WHERE u1.maker <> u2.maker`,
    loops: (t) => {
      let n = 0;
      for (let p = 0; p < t.parts; p++) {
        for (let i = t.usedStart[p]!; i < t.usedStart[p + 1]!; i++) {
          const c1 = t.used[i]!;
          if (t.kind[c1] !== SENSOR_HUB) continue;
          const m1 = t.deviceMaker[t.deviceOf[t.board[c1]!]!];
          for (let j = t.usedStart[p]!; j < t.usedStart[p + 1]!; j++) {
            const c2 = t.used[j]!;
            if (t.kind[c2] === SENSOR_HUB && t.deviceMaker[t.deviceOf[t.board[c2]!]!] !== m1) n++;
          }
        }
      }
      return n;
    },
  },
  {
    name: 'memory beyond the processor, on its own bus',
    text: `MATCH (p:Processor)~[e:CONNECTS]~(m:Memory), (p)-[:ON]->(b:Board)<-[:ON]-(m) WHERE e.bus = 'spi' RETURN COUNT(*) AS n`,
    sql: `SELECT count(*) FROM component m JOIN link e ON e.a = m.id JOIN component p ON p.id = e.b
          WHERE m.kind = 'Memory' AND p.parent = 'Processor' AND e.bus = 'spi' AND p.board = m.board`,
    loops: (t) => {
      let n = 0;
      for (let m = 0; m < t.components; m++) {
        if (t.kind[m] !== MEMORY) continue;
        for (let i = t.from[m]!; i < t.from[m + 1]!; i++) {
          const p = t.to[i]!;
          if (t.bus[i] === SPI && t.parent[p] === PROCESSOR && t.board[p] === t.board[m]) n++;
        }
      }
      return n;
    },
  },
];

// Time that trends take over a generated archive: cold (indexes built, answer not kept) and warm (the same question
// again on an unchanged archive). Processor time, all threads together, tells more than the clock when others work too.
//
//   npm run bench:trends [-- DEVICES]
import { cpus, loadavg } from 'node:os';
import { toTable } from '../../src/export/table.ts';
import { defaultPool } from '../../src/gql/gql.ts';
import type { TrendQuestion } from '../../src/trends/answer.ts';
import { trend } from '../../src/trends/trends.ts';
import { generatedArchive } from './generated-archive.ts';

const DEVICES = Number(process.argv[2] ?? 10_000);
const ROUNDS = 7;
/** Milliseconds, as promised for a pattern. */
const AIM = { cold: 150, warm: 10 };

const PATTERN = 'MATCH (s:OpticalSensor)~[:CONNECTS]~(a:AnalogueFrontEnd) RETURN s, a';

const QUESTIONS: Readonly<Record<string, TrendQuestion>> = {
  'pattern: amplifier at the sensor': { of: { share: { text: PATTERN } } },
  'pattern: two processors': {
    of: { share: { text: 'MATCH (a:Microcontroller), (b:SensorHub) RETURN a, b' } },
  },
  'pattern, by body site': { of: { share: { text: PATTERN } }, by: 'body-site' },
  'category: PressureSensor': { of: { share: { category: 'PressureSensor' } } },
  'maker of parts': { of: { share: { maker: 'chips-3' } } },
  'count: Sensor, by maker': { of: { count: 'Sensor' }, by: 'maker' },
  'quantity: mass, by price band': { of: { quantity: { device: 'mass' } }, by: 'price-band' },
  'quantity: word width of Processor': { of: { quantity: { parameter: 'wordWidth', of: 'Processor' } } },
};

let asks = 0;
const live = generatedArchive(DEVICES);
const view = live.state('reader', new Date().toISOString());
let start = performance.now();
// Each index is built by the first question that needs it.
await trend(view, { of: { share: { text: 'MATCH (x:Microphone) RETURN x' } } });
await trend(view, { of: { share: { category: 'Microphone' } } });
const indexed = performance.now() - start;

const rows = [];
for (const [question, asked] of Object.entries(QUESTIONS)) {
  const cold: number[] = [];
  const processor: number[] = [];
  const warm: number[] = [];
  let share = '';
  for (let round = 0; round < ROUNDS; round++) {
    // A comment in the text, or another end of time, makes it a question never asked before.
    const fresh = never(asked, `${question} ${round}`);
    const used = process.cpuUsage();
    start = performance.now();
    const { total } = await trend(view, fresh);
    cold.push(performance.now() - start);
    const { user, system } = process.cpuUsage(used);
    processor.push((user + system) / 1000);
    start = performance.now();
    await trend(view, fresh);
    warm.push(performance.now() - start);
    share = `${total.total.value?.toPrecision(3)} of n ${total.total.n}`;
  }
  rows.push({
    question,
    value: share,
    'cold ms': median(cold).toFixed(1),
    'cold, processor ms': median(processor).toFixed(1),
    'warm ms': median(warm).toFixed(2),
  });
}
process.stdout.write(
  `${DEVICES} devices; both indexes built in ${(indexed / 1000).toFixed(1)} s\n\n${toTable(rows)}`,
);
process.stdout.write(
  `\naims for a pattern: cold ${AIM.cold} ms, warm ${AIM.warm} ms; medians of ${ROUNDS}\n${cpus().length} processors, ${cpus()[0]?.model}; on average ${loadavg()[0].toFixed(1)} programs wanted one over the last minute\n`,
);
live.close();
await defaultPool().close();

function never(question: TrendQuestion, mark: string): TrendQuestion {
  const { of } = question;
  if ('share' in of && 'text' in of.share) {
    return { ...question, of: { share: { text: `${of.share.text} // ${mark}` } } };
  }
  return { ...question, where: { releasedTo: String(2090 + asks++) } };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
}

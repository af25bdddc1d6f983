// How often trends without a trend are called one, and how often 95 % intervals of a share hold it, by device and by product
// line: invented lines of one to five devices over twelve years, of which each device follows its line with a probability.
//
//   node src/run.mjs --script tests/bench/cluster-coverage.ts [ROUNDS]
import { toTable } from '../../src/export/table.ts';
import { clusteredShare, effectiveSize } from '../../src/statistics/cluster-interval.ts';
import { clusterSlope } from '../../src/statistics/cluster-slope.ts';
import { cochranArmitage } from '../../src/statistics/cochran-armitage.ts';
import { mannKendall } from '../../src/statistics/mann-kendall.ts';
import { wilson } from '../../src/statistics/proportion.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { midRanks } from '../../src/statistics/ranks.ts';

const ROUNDS = Number(process.argv[2] ?? 400);
const LEVEL = 0.05;
const SHARE = 0.5;

interface Sample {
  readonly years: number[];
  readonly having: number[];
  readonly values: number[];
  readonly lines: number[];
}

function sample(random: Random, lines: number, alike: number): Sample {
  const drawn: Sample = { years: [], having: [], values: [], lines: [] };
  for (let line = 0; line < lines; line++) {
    const start = random.integer(2013, 2020);
    const has = Number(random.chance(SHARE));
    const level = random.normal();
    for (let at = random.integer(1, 5); at > 0; at--) {
      drawn.years.push(start + random.integer(0, 3));
      drawn.having.push(random.chance(alike) ? has : Number(random.chance(SHARE)));
      drawn.values.push(Math.sqrt(alike) * level + Math.sqrt(1 - alike) * random.normal());
      drawn.lines.push(line);
    }
  }
  return drawn;
}

function shareP({ years, having }: Sample): number {
  const groups = [...Map.groupBy(years.keys(), (at) => years[at])].map(([score, members]) => {
    const places = Array.from(members);
    return { score, trials: places.length, successes: places.filter((at) => having[at] === 1).length };
  });
  const test = cochranArmitage(groups);
  return test.kind === 'no-data' ? 1 : test.p;
}

function lineP(values: readonly number[], scores: readonly number[], { lines }: Sample): number {
  const test = clusterSlope(values, scores, lines);
  return test.kind === 'no-data' ? 1 : test.p;
}

function valueP({ years, values }: Sample): number {
  const test = mannKendall(values, years);
  return test.kind === 'no-data' ? 1 : (test.exactP ?? test.p);
}

const rows = [];
for (const lines of [4, 6, 8, 12, 20, 40]) {
  for (const alike of [0, 0.5, 1]) {
    const random = seededRandom(`${lines} lines, alike ${alike}`);
    const found = { share: 0, shareCareful: 0, value: 0, valueCareful: 0, wilson: 0, byLine: 0 };
    let n = 0;
    for (let round = 0; round < ROUNDS; round++) {
      const one = sample(random, lines, alike);
      n += one.years.length / ROUNDS;
      const [share, value] = [shareP(one), valueP(one)];
      if (share <= LEVEL) found.share++;
      if (Math.max(share, lineP(one.having, one.years, one)) <= LEVEL) found.shareCareful++;
      if (value <= LEVEL) found.value++;
      if (Math.max(value, lineP(midRanks(one.values), midRanks(one.years), one)) <= LEVEL)
        found.valueCareful++;
      const count = one.having.reduce((sum, has) => sum + has, 0);
      const mean = count / one.having.length;
      const holds = ({ low, high }: { low: number; high: number }) => low <= SHARE && SHARE <= high;
      if (holds(wilson(count, one.having.length))) found.wilson++;
      const { size } = effectiveSize(one.having, one.lines, mean * (1 - mean));
      if (holds(clusteredShare(mean, size))) found.byLine++;
    }
    const text = (times: number) => (times / ROUNDS).toFixed(3);
    rows.push({
      lines: String(lines),
      alike: String(alike),
      devices: n.toFixed(0),
      'share, by device': text(found.share),
      'careful ': text(found.shareCareful),
      'value, by device': text(found.value),
      careful: text(found.valueCareful),
      'interval, Wilson': text(found.wilson),
      'by line': text(found.byLine),
    });
  }
}
process.stdout.write(`${ROUNDS} rounds; tests at ${LEVEL}, intervals of 95 %\n\n${toTable(rows)}`);

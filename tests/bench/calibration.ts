// How far stated probabilities can be trusted, on archives whose truth is known: four generated worlds of unlike habits and
// three real devices with blanks. "None in the catalogue" counts as the truth where the catalogue lacks the part.
//
//   npm run bench:calibration [-- --devices N] [--seeds N,N] [--only NAME,NAME] [--coverage P,P]
//
// With --coverage also how often candidate sets of the generated worlds hold what chips are. 350 devices are some 5,000 chips.
// Nothing is written.
import { parseArgs } from 'node:util';
import { toTable } from '../../src/export/table.ts';
import { calibrate, calibrateWithoutParts, type Trust } from '../../src/identification/calibration.ts';
import { SetCalibration } from '../../src/identification/conformal.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { clopperPearson } from '../../src/statistics/proportion.ts';
import type { ReliabilityBin } from '../../src/statistics/scores.ts';
import { BLANKS, type Blank, blankedArchive } from './habits/blanked-boards.ts';
import { HABIT_NAMES, habitArchive } from './habits/habits.ts';
import { type MeasuredCoverage, measureCoverage } from './measure-coverage.ts';

const { values } = parseArgs({
  options: {
    devices: { type: 'string', default: '120' },
    seeds: { type: 'string', default: '1' },
    coverage: { type: 'string', default: '' },
    only: { type: 'string', default: [...HABIT_NAMES, 'boards'].join(',') },
  },
});
const wanted = new Set(values.only.split(','));
const coverages = values.coverage.split(',').filter(Boolean).map(Number);
const summary: Record<string, string>[] = [];
const covered: Record<string, string>[] = [];

for (const name of HABIT_NAMES) {
  if (!wanted.has(name)) continue;
  const found: Trust[] = [];
  for (const seed of values.seeds.split(',').map(Number)) {
    const { archive, truth } = await habitArchive(name, { devices: Number(values.devices), seed });
    const view = archive.state('desk');
    const identifier = new Identifier();
    identifier.follow(view);
    const truthOf = (specimen: string, component: string) => truth.get(`${specimen}/${component}`)?.part;
    found.push((await calibrate(identifier, view, { truth: truthOf })) as Trust);
    if (coverages.length > 0) {
      const sets = await SetCalibration.of(identifier, view);
      for (const coverage of coverages)
        covered.push(coverageRow(`${name} ${seed}`, measureCoverage(view, sets, truth, coverage)));
    }
    await archive.close();
  }
  report(name, found);
}
if (wanted.has('boards')) {
  const found: Trust[] = [];
  for (const blank of Object.keys(BLANKS) as Blank[]) {
    const { archive, truth } = await blankedArchive(blank);
    const view = archive.state('desk');
    const identifier = new Identifier();
    identifier.follow(view);
    found.push((await calibrate(identifier, view, { truth })) as Trust);
    found.push((await calibrateWithoutParts(identifier, view, { truth })) as Trust);
    await archive.close();
  }
  report('real boards, blanked', found);
}
process.stdout.write(`\nSummary\n${toTable(summary)}`);
if (covered.length > 0) process.stdout.write(`\nCandidate sets\n${toTable(covered)}`);

function coverageRow(archive: string, found: MeasuredCoverage): Record<string, string> {
  const { coverage, devices, held, error, heldListed, heldAbsent, meanSize, medianSize, withNone } = found;
  return {
    archive,
    asked: String(coverage),
    devices: String(devices),
    held: `${fixed(held)} ± ${fixed(error)}`,
    'in the catalogue': fixed(heldListed),
    'in none': fixed(heldAbsent),
    'mean size': meanSize.toFixed(1),
    'median size': String(medianSize ?? ''),
    'with none': fixed(withNone),
    void: String(found.void),
  };
}

/** Tenths of several runs together. */
function report(name: string, runs: readonly Trust[]): void {
  const bins = runs[0].reliability.map((_, at) => merged(runs.map(({ reliability }) => reliability[at])));
  const sharp = runs[0].nearlyCertain.map((_, at) =>
    merged(runs.map(({ nearlyCertain }) => nearlyCertain[at])),
  );
  const sum = (of: (run: Trust) => number) => runs.reduce((total, run) => total + of(run), 0);
  const components = sum((run) => run.components);
  const mean = (of: (run: Trust) => number) => sum((run) => run.components * of(run)) / components;
  process.stdout.write(
    `\n${name}: ${components} chips of ${sum(({ devices }) => devices)} devices, ${sum(({ absent }) => absent)} in no catalogue\n${toTable([...bins, ...sharp].map(rowOf))}`,
  );
  const good = bins.filter(isGood).length;
  const filled = bins.filter(({ count }) => count > 0).length;
  const top = bins[9];
  summary.push({
    archive: name,
    chips: String(components),
    'tenths good': `${good} of ${filled}`,
    'top stated': fixed(top.stated),
    'top true': fixed(top.observed),
    'top count': String(top.count),
    Brier: mean(({ brier }) => brier).toFixed(4),
    'log loss': mean(({ logLoss }) => logLoss).toFixed(4),
    first: mean(({ first }) => first).toFixed(3),
    'first three': mean(({ firstThree }) => firstThree).toFixed(3),
  });
}

function merged(bins: readonly ReliabilityBin[]): ReliabilityBin {
  const count = bins.reduce((sum, bin) => sum + bin.count, 0);
  if (count === 0) return bins[0];
  const came = Math.round(bins.reduce((sum, bin) => sum + bin.count * (bin.observed ?? 0), 0));
  const stated = bins.reduce((sum, bin) => sum + bin.count * (bin.stated ?? 0), 0) / count;
  const interval = clopperPearson(came, count);
  const calibrated = stated >= interval.low && stated <= interval.high;
  return { ...bins[0], count, stated, observed: came / count, interval, calibrated };
}

/** Inside its exact 95 % interval, or nearer to the diagonal than 0.02. */
function isGood({ stated, observed, calibrated }: ReliabilityBin): boolean {
  return calibrated === true || Math.abs((stated ?? 9) - (observed ?? 0)) < 0.02;
}

function rowOf(bin: ReliabilityBin): Record<string, string> {
  const { from, to, count, stated, observed, interval } = bin;
  return {
    stated: `${from} to ${to}`,
    count: String(count),
    mean: fixed(stated),
    true: fixed(observed),
    low: fixed(interval?.low),
    high: fixed(interval?.high),
    off: stated === null || observed === null ? '' : (stated - observed).toFixed(3),
    good: count === 0 ? '' : isGood(bin) ? 'yes' : 'NO',
  };
}

function fixed(value: number | null | undefined): string {
  return value?.toFixed(3) ?? '';
}

import { toTable } from '../../export/table.ts';
import type { Trust } from '../../identification/calibration.ts';
import { CasebackError } from '../../model/problems.ts';
import { trustOf } from '../../questions/identification.ts';
import type { ReliabilityBin } from '../../statistics/scores.ts';
import { fixed, percentText } from '../../text/rounding.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';
import { whole } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

export const command = defineCommand({
  name: 'calibrate',
  about:
    'How far the probabilities of "candidates" can be trusted on this archive. Every settled identification is hidden and calculated anew, and what was stated is compared with it, in two ways. Devices held out: one at a time with all it teaches; what is settled is in the catalogue, so "none in the catalogue" is left out and the rest scaled to 1. Devices and parts held out: the same as if an eighth of the catalogue had never been heard of; of the chips settled as these parts "none in the catalogue" is the truth, and every probability counts as stated. Stated probabilities that are right lie inside the exact 95 % interval of what came true. About one interval in twenty misses by chance.',
  options: {
    sample: whole('N', {
      help: 'at most N components, drawn at random (default: all)',
      min: 1,
      max: 10_000_000,
    }),
    seed: whole('N', {
      help: 'decides the draw, and which parts are held out together',
      min: 0,
      max: 2 ** 32 - 1,
      default: 1,
    }),
    ...CONFUSION_OPTION,
  },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['calibrate', 'calibrate --sample 2000 --seed 7'],

  async run(call) {
    const { sample, seed } = call.options;
    const view = await call.view();
    const bar = new Progress('asking about settled components, %', 100);
    const onProgress = (done: number, of: number) => bar.update(Math.floor((100 * done) / of));
    const found = await trustOf(view, { sample, seed, onProgress }).finally(() => bar.end());
    if (!found)
      throw new CasebackError('NOT_FOUND', 'no component of the archive is identified with certainty yet');
    const { withoutParts } = found;
    const total = found.settled > found.components ? ` of ${found.settled}` : '';
    const rows = () => [...rowsOf('devices', found), ...rowsOf('devices and parts', withoutParts)];
    return {
      text: () =>
        [
          `Devices held out: ${counted(found.components, 'settled component')}${total} of ${counted(found.devices, 'device')}\n`,
          toTable(binsOf(found).map(rowOf)),
          summaryOf(found),
          `\nDevices and parts held out: an eighth of ${counted(withoutParts.parts, 'part')} at a time, so that the part of ${withoutParts.absent} of ${counted(withoutParts.components, 'component')} is in no catalogue\n`,
          toTable(binsOf(withoutParts).map(rowOf)),
          summaryOf(withoutParts),
        ].join(''),
      table: rows,
      json: () => found,
    };
  },
});

/** Tenths, then what was stated as nearly certain: part of the last tenth. */
function binsOf({ reliability, nearlyCertain }: Trust): readonly ReliabilityBin[] {
  return [...reliability, ...nearlyCertain];
}

function rowsOf(heldOut: string, found: Trust) {
  return binsOf(found).map((bin) => ({ 'held out': heldOut, ...rowOf(bin) }));
}

function rowOf({ from, to, count, stated, observed, interval, calibrated }: ReliabilityBin) {
  const edge = (value: number) => (value > 0.9 && value < 1 ? String(value) : fixed(value, 1));
  return {
    stated: `${edge(from)} to ${edge(to)}`,
    count: String(count),
    mean: inThousandths(stated),
    observed: inThousandths(observed),
    low: inThousandths(interval?.low),
    high: inThousandths(interval?.high),
    inside: calibrated === null ? '' : calibrated ? 'yes' : 'no',
  };
}

function summaryOf({ first, firstThree, brier, logLoss }: Trust): string {
  return `likeliest part right ${percent(first)}, among three ${percent(firstThree)}; Brier ${fixed(brier, 4)}, log loss ${fixed(logLoss, 4)} nats\n`;
}

function percent(share: number): string {
  return percentText(share, 1);
}

function inThousandths(value: number | null | undefined): string {
  return value === null || value === undefined ? '' : fixed(value, 3);
}

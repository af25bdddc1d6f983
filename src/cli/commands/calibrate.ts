import { toTable } from '../../export/table.ts';
import { calibrate } from '../../identification/calibration.ts';
import { identifierOf } from '../../identification/questions.ts';
import { CasebackError } from '../../model/problems.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';
import { whole } from '../frame/options.ts';

export const command = defineCommand({
  name: 'calibrate',
  about:
    'How far the probabilities of "candidates" can be trusted on this archive: every settled identification is hidden, one at a time and with its whole device, calculated anew, and compared. Stated probabilities that are right lie inside the exact 95 % interval of what came true. About one interval in twenty misses by chance. What is settled is in the catalogue, so "none in the catalogue" is left out and the rest scaled to 1.',
  options: {
    sample: whole('N', {
      help: 'at most N components, drawn at random (default: all)',
      min: 1,
      max: 10_000_000,
    }),
    seed: whole('N', { help: 'decides the draw', min: 0, max: 2 ** 32 - 1, default: 1 }),
    ...CONFUSION_OPTION,
  },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['calibrate', 'calibrate --sample 2000 --seed 7'],

  async run(call) {
    const { sample, seed } = call.options;
    const view = await call.view();
    const found = await calibrate(await identifierOf(view), view, { sample, seed });
    if (!found)
      throw new CasebackError('NOT_FOUND', 'no component of the archive is identified with certainty yet');
    const fixed = (value: number | null | undefined) => value?.toFixed(3) ?? '';
    const rows = () =>
      found.reliability.map(({ from, to, count, stated, observed, interval, calibrated }) => ({
        stated: `${from.toFixed(1)} to ${to.toFixed(1)}`,
        count: String(count),
        mean: fixed(stated),
        observed: fixed(observed),
        low: fixed(interval?.low),
        high: fixed(interval?.high),
        inside: calibrated === null ? '' : calibrated ? 'yes' : 'no',
      }));
    const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
    const total = found.settled > found.components ? ` of ${found.settled}` : '';
    return {
      text: () =>
        `${toTable(rows())}\n${counted(found.components, 'settled component')}${total}: likeliest part right ${percent(found.first)}, among three ${percent(found.firstThree)}; Brier ${found.brier.toFixed(4)}, log loss ${found.logLoss.toFixed(4)} nats\n`,
      table: rows,
      json: () => found,
    };
  },
});

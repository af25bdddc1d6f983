import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const linearRegulator = defineCheck({
  name: 'linear-regulator',
  title: 'Loss, efficiency and drop-out of a linear regulator',
  required: {
    inputVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Voltage ahead of the regulator.',
      typical: { low: 3.3, high: 4.4, note: 'common practice, no source' },
    },
    outputVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Voltage that the regulator is to give.',
      typical: { low: 1.2, high: 3.3, note: 'common practice, no source' },
    },
    outputCurrent: {
      unit: 'mA',
      above: 0,
      meaning: 'Current of the load.',
      typical: { low: 0.1, high: 50, note: 'common practice, no source' },
    },
    dropoutVoltage: {
      unit: 'V',
      min: 0,
      meaning: 'Least difference between input and output.',
      typical: { low: 0.05, high: 0.3, note: 'common practice, no source' },
    },
  },
  optional: {
    quiescentCurrent: { unit: 'uA', min: 0, meaning: 'Current the regulator draws for itself.' },
  },
  outputs: {
    reached: {
      unit: 'V',
      meaning: 'Voltage that it gives: the one wanted, or the input less drop-out where that is lower.',
    },
    loss: { unit: 'mW', meaning: 'Power turned into heat by the drop of voltage.' },
    efficiencyAtMost: { unit: '%', meaning: 'Output power over input power, own current left out.' },
    headroom: { unit: 'V', meaning: 'Voltage left above drop-out; below 0 it no longer regulates.' },
  },
  furtherOutputs: {
    efficiency: { unit: '%', meaning: 'Output power over input power, own current included.' },
  },
  formula: 'V = min(Vout, Vin - Vdrop); loss = (Vin - V) Iout; η ≤ V/Vin; headroom = Vin - Vout - Vdrop',
  source: 'Power balance of a series regulator, standard power electronics',
  limits:
    'Steady load; the current of the load is taken as given where the regulator drops out. The check shows what the quiet supply costs, not how quiet it is. The verdict is a rule of this check: ' +
    'supports when it keeps regulating and loses at most 50 mW or 20 %, speaks against when it drops out.',
  hazards: ['lithium-cell', 'probing'],
  compute({ inputVoltage, outputVoltage, outputCurrent, dropoutVoltage, quiescentCurrent }) {
    const reached = Math.min(outputVoltage, Math.max(0, inputVoltage - dropoutVoltage));
    const efficiencyAtMost = (100 * reached) / inputVoltage;
    return {
      reached,
      loss: (inputVoltage - reached) * outputCurrent,
      efficiencyAtMost,
      headroom: inputVoltage - outputVoltage - dropoutVoltage,
      efficiency:
        quiescentCurrent === undefined
          ? undefined
          : (efficiencyAtMost * outputCurrent) / (outputCurrent + quiescentCurrent / 1000),
    };
  },
  // The higher the input the better it reaches its output, and from there on the more it burns.
  turns: { inputVoltage: ({ outputVoltage, dropoutVoltage }) => outputVoltage + dropoutVoltage },
  judge({ reached, loss, efficiencyAtMost, headroom }, { inputVoltage, outputVoltage }) {
    const cheap = loss.high <= 50 || efficiencyAtMost.low >= 80;
    const from = `From ${formatValue(inputVoltage)} to ${formatValue(outputVoltage)}`;
    if (headroom.high < 0) {
      return {
        verdict: 'speaks-against',
        sentence: `${from} the regulator cannot hold its output: the headroom is ${formatValue(headroom)}. It gives ${formatValue(reached)} at most.`,
      };
    }
    return {
      verdict: headroom.low >= 0 && cheap ? 'supports' : 'neutral',
      sentence:
        `${from} the regulator loses ${formatValue(loss)} and is at most ${formatValue(efficiencyAtMost)} efficient, ` +
        `with a headroom of ${formatValue(headroom)}.`,
    };
  },
});

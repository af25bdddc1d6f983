import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const runTime = defineCheck({
  name: 'run-time',
  title: 'Run time from the battery, and what sleeping or switching off buys',
  required: {
    capacity: {
      unit: 'mA.h',
      above: 0,
      meaning: 'Charge the battery holds.',
      typical: { low: 15, high: 500, note: 'common practice, no source' },
    },
    activeCurrent: {
      unit: 'mA',
      above: 0,
      meaning: 'Current at work.',
      typical: { low: 0.1, high: 50, note: 'common practice, no source' },
    },
    sleepCurrent: {
      unit: 'mA',
      min: 0,
      meaning: 'Current at rest.',
      typical: { low: 0.001, high: 0.05, note: 'common practice, no source' },
    },
    activeShare: {
      unit: '%',
      above: 0,
      max: 100,
      meaning: 'Share of the time at work.',
      typical: { low: 0.5, high: 20, note: 'common practice, no source' },
    },
  },
  optional: {
    cellVoltage: { unit: 'V', above: 0, meaning: 'Mean voltage of the cell, for its energy.' },
    usableShare: {
      unit: '%',
      above: 0,
      max: 100,
      meaning: 'Share of the charge that can be used; all of it if not given.',
    },
  },
  outputs: {
    averageCurrent: { unit: 'mA', meaning: 'Current on average.' },
    runTime: { unit: 'h', meaning: 'Run time with rest.' },
    alwaysOn: { unit: 'h', meaning: 'Run time if it were always at work.' },
    longer: { unit: '1', meaning: 'How many times longer it runs by resting.' },
  },
  furtherOutputs: { energy: { unit: 'W.h', meaning: 'Energy the battery holds.' } },
  formula: 'I = d Iactive + (1 - d) Isleep; t = usable charge/I; E = Q V',
  source: 'Charge over current',
  limits:
    'Constant currents; ageing, cold and self-discharge shorten the time. Currents of other subsystems must be in the figures ' +
    'given. The verdict is a rule of this check: supports when resting lasts at least 1.5 times as long, speaks against up to 1.05 times.',
  hazards: ['lithium-cell', 'probing'],
  notAbove: [{ lower: 'sleepCurrent', upper: 'activeCurrent', because: 'rest takes no more than work' }],
  compute({ capacity, activeCurrent, sleepCurrent, activeShare, cellVoltage, usableShare = 100 }) {
    const share = activeShare / 100;
    const averageCurrent = share * activeCurrent + (1 - share) * sleepCurrent;
    const charge = (capacity * usableShare) / 100;
    return {
      averageCurrent,
      runTime: charge / averageCurrent,
      alwaysOn: charge / activeCurrent,
      longer: activeCurrent / averageCurrent,
      energy: cellVoltage === undefined ? undefined : (capacity * cellVoltage) / 1000,
    };
  },
  judge({ averageCurrent, runTime: time, alwaysOn, longer, energy }) {
    const holds = energy ? ` The battery holds ${formatValue(energy)}.` : '';
    return {
      verdict: longer.low >= 1.5 ? 'supports' : longer.high <= 1.05 ? 'speaks-against' : 'neutral',
      sentence:
        `At ${formatValue(averageCurrent)} on average the battery lasts ${formatValue(time)}, always at work ${formatValue(alwaysOn)}: ` +
        `resting makes it ${formatValue(longer)} times as long.${holds}`,
    };
  },
});

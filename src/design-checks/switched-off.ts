import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const switchedOff = defineCheck({
  name: 'switched-off',
  title: 'What cutting a load off saves against leaving it asleep',
  required: {
    sleepCurrent: {
      unit: 'uA',
      min: 0,
      meaning: 'Current of the load at rest, when it is left connected.',
      typical: { low: 0.1, high: 10, note: 'common practice, no source' },
    },
    leakage: {
      unit: 'uA',
      min: 0,
      meaning: 'Current of the switch when it is off: leakage and its own supply.',
      typical: { low: 0.01, high: 1, note: 'common practice, no source' },
    },
    capacity: {
      unit: 'mA.h',
      above: 0,
      meaning: 'Charge the battery holds.',
      typical: { low: 15, high: 500, note: 'common practice, no source' },
    },
  },
  optional: {
    loads: {
      unit: '1',
      min: 1,
      whole: true,
      meaning: 'Number of such loads behind the switch; one if not given.',
    },
  },
  outputs: {
    saved: { unit: 'uA', meaning: 'Current saved; below 0 the switch takes more than the load at rest.' },
    savedADay: { unit: 'mA.h', meaning: 'Charge saved in a day off.' },
    shareADay: {
      unit: '%',
      meaning: 'The same as a share of the battery.',
      plausible: { high: 100, note: 'left connected, the load would empty the battery within a day' },
    },
  },
  formula: 'saved = n Isleep - Ileak; a day: saved × 24 h, over the capacity',
  source: 'Charge balance: current times time',
  limits:
    'The load is off all day; charging its capacitors again at each start and the time it takes to settle are left out. ' +
    'The verdict is on switching off to save charge and a rule of this check: supports when the switch takes less than the ' +
    'load at rest and saves 0.01 % of the battery a day or more, speaks against when it takes more than the load at rest.',
  hazards: ['lithium-cell', 'probing'],
  compute({ sleepCurrent, leakage, capacity, loads = 1 }) {
    const saved = loads * sleepCurrent - leakage;
    const savedADay = (saved * 24) / 1000;
    return { saved, savedADay, shareADay: (100 * savedADay) / capacity };
  },
  judge({ saved, shareADay }) {
    return {
      verdict: shareADay.low >= 0.01 ? 'supports' : saved.high < 0 ? 'speaks-against' : 'neutral',
      sentence:
        saved.high < 0
          ? `The switch takes more when off than the load at rest: the balance is ${formatValue(saved)}.`
          : `Cutting the load off saves ${formatValue(saved)}, ${formatValue(shareADay)} of the battery for a day off.`,
    };
  },
});

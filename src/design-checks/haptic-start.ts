import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const hapticStart = defineCheck({
  name: 'haptic-start',
  title: 'Whether the cell holds its voltage while a haptic actuator starts',
  required: {
    cellVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Voltage of the cell without that load, at the charge of interest.',
      typical: { low: 3.3, high: 4.2, note: 'common practice, no source' },
    },
    internalResistance: {
      unit: 'Ohm',
      min: 0,
      meaning: 'Resistance of the cell as seen by the load, protector and leads included.',
      typical: { low: 0.1, high: 2, note: 'common practice, no source' },
    },
    startCurrent: {
      unit: 'mA',
      above: 0,
      meaning: 'Current the actuator draws from standstill.',
      typical: { low: 50, high: 200, note: 'common practice, no source' },
    },
    lowestVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Voltage below which the device resets or a rail drops out.',
      typical: { low: 2.8, high: 3.3, note: 'common practice, no source' },
    },
  },
  optional: {
    otherCurrent: { unit: 'mA', min: 0, meaning: 'Current of all else at that moment; none if not given.' },
  },
  outputs: {
    current: { unit: 'mA', meaning: 'Current of all; no more than the cell gives into a short circuit.' },
    sag: { unit: 'mV', meaning: 'Fall of the cell voltage.' },
    voltageAtStart: { unit: 'V', meaning: 'Cell voltage during the start.' },
    margin: { unit: 'mV', meaning: 'Voltage left above the lowest one.' },
    heat: { unit: 'mW', meaning: 'Power turned into heat inside the cell.' },
  },
  formula: 'I = min(Istart + Iother, Vcell/R); sag = I R; V = Vcell - sag; heat = I² R',
  source: "Ohm's law and Joule's law; a cell as a voltage source with a resistance in series",
  limits:
    'A start of some tens of milliseconds without a storage capacitor; a cold, old or empty cell has several times the resistance ' +
    '(common practice, no source). The verdict is on driving the actuator straight from the cell and a rule of this check: ' +
    'supports when at least 100 mV are left, speaks against when the voltage falls below the lowest one.',
  hazards: ['lithium-cell', 'probing'],
  compute({ cellVoltage, internalResistance, startCurrent, lowestVoltage, otherCurrent = 0 }) {
    const current = Math.min(startCurrent + otherCurrent, (1000 * cellVoltage) / internalResistance);
    const sag = current * internalResistance;
    const voltageAtStart = cellVoltage - sag / 1000;
    return {
      current,
      sag,
      voltageAtStart,
      margin: (voltageAtStart - lowestVoltage) * 1000,
      heat: (current * sag) / 1000,
    };
  },
  // The heat grows with the resistance until it holds the current down.
  turns: {
    internalResistance: ({ cellVoltage, startCurrent, otherCurrent = 0 }) =>
      (1000 * cellVoltage) / (startCurrent + otherCurrent),
  },
  judge({ sag, voltageAtStart, margin }) {
    return {
      verdict: margin.low >= 100 ? 'supports' : margin.high < 0 ? 'speaks-against' : 'neutral',
      sentence:
        `The start pulls the cell down by ${formatValue(sag)} to ${formatValue(voltageAtStart)}, ` +
        `a margin of ${formatValue(margin)} above the lowest voltage.`,
    };
  },
});

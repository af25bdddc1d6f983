import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const boostInputCurrent = defineCheck({
  name: 'boost-input-current',
  title: 'What a boost converter draws from the cell',
  required: {
    inputVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Voltage of the cell or rail that feeds the converter.',
      typical: { low: 3, high: 4.4, note: 'common practice, no source' },
    },
    outputVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Voltage that the converter gives.',
      typical: { low: 4.6, high: 15, note: 'common practice, no source' },
    },
    outputCurrent: {
      unit: 'mA',
      above: 0,
      meaning: 'Current of the load.',
      typical: { low: 5, high: 100, note: 'common practice, no source' },
    },
    efficiency: {
      unit: '%',
      above: 0,
      max: 100,
      meaning: 'Output power over input power at that load.',
      typical: { low: 70, high: 95, note: 'common practice, no source' },
    },
  },
  optional: {
    inputCurrentAllowed: { unit: 'mA', above: 0, meaning: 'Current that the cell or rail may give for it.' },
  },
  outputs: {
    inputCurrent: { unit: 'mA', meaning: 'Current drawn from the cell or rail.' },
    loss: { unit: 'mW', meaning: 'Power lost in the converter.' },
    stepUp: { unit: '1', meaning: 'Output voltage over input voltage.' },
    dutyCycle: { unit: '1', meaning: 'Duty cycle of an ideal converter; 0 where no boost is needed.' },
  },
  furtherOutputs: { useOfAllowance: { unit: '%', meaning: 'Current drawn over the current allowed.' } },
  formula: 'Iin = Vout Iout/(η Vin); loss = Vout Iout (1/η - 1); D = max(0, 1 - Vin/Vout)',
  source: 'Power balance; ideal boost converter in continuous conduction, standard power electronics',
  limits:
    'Steady load in continuous conduction. The verdict is a rule of this check: speaks against when the load needs no ' +
    'higher voltage than the input or the allowance is exceeded, supports when the output is above the input.',
  hazards: ['lithium-cell', 'probing'],
  compute({ inputVoltage, outputVoltage, outputCurrent, efficiency, inputCurrentAllowed }) {
    const power = outputVoltage * outputCurrent;
    const inputCurrent = (100 * power) / (efficiency * inputVoltage);
    return {
      inputCurrent,
      loss: power * (100 / efficiency - 1),
      stepUp: outputVoltage / inputVoltage,
      dutyCycle: Math.max(0, 1 - inputVoltage / outputVoltage),
      useOfAllowance:
        inputCurrentAllowed === undefined ? undefined : (100 * inputCurrent) / inputCurrentAllowed,
    };
  },
  judge({ inputCurrent, loss, stepUp, useOfAllowance }, { inputVoltage, outputVoltage, outputCurrent }) {
    const against = stepUp.high <= 1 || (useOfAllowance?.low ?? 0) > 100;
    const supports = stepUp.low > 1 && (useOfAllowance?.high ?? 0) <= 100;
    const use = useOfAllowance ? `, ${formatValue(useOfAllowance)} of the current allowed` : '';
    return {
      verdict: against ? 'speaks-against' : supports ? 'supports' : 'neutral',
      sentence:
        `${formatValue(outputCurrent)} at ${formatValue(outputVoltage)} draw ${formatValue(inputCurrent)} at ${formatValue(inputVoltage)}${use}; ` +
        `${formatValue(loss)} are lost in the converter.${stepUp.high <= 1 ? ' No boost is needed for that.' : ''}`,
    };
  },
});

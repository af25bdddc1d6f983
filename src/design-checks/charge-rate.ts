import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const chargeRate = defineCheck({
  name: 'charge-rate',
  title: 'Charge current against the capacity of the cell',
  required: {
    capacity: {
      unit: 'mA.h',
      above: 0,
      meaning: 'Charge the battery holds.',
      typical: { low: 15, high: 500, note: 'common practice, no source' },
    },
    chargeCurrent: {
      unit: 'mA',
      above: 0,
      meaning: 'Current that the charger gives.',
      typical: { low: 10, high: 250, note: 'common practice, no source' },
    },
    rateAllowed: {
      unit: '1/h',
      above: 0,
      meaning: 'Largest charge rate that the maker of the cell allows; 1/h is 1 C.',
      typical: { low: 0.5, high: 1, note: 'common practice, no source' },
    },
  },
  outputs: {
    rate: { unit: '1/h', meaning: 'Charge rate; 1/h is 1 C.' },
    atLeast: { unit: 'h', meaning: 'Shortest time for a full charge at that current.' },
    useOfAllowance: { unit: '%', meaning: 'Charge rate over the rate allowed.' },
  },
  formula: 'rate = I/Q; time ≥ Q/I',
  source: 'Definition of the C rate: current over rated capacity',
  limits:
    'Constant current only: the constant-voltage end of a lithium charge takes longer (common practice, no source). Charging a ' +
    'lithium cell above the rate allowed, or a damaged cell at any rate, can set it on fire: never try it out. ' +
    'The verdict is a rule of this check: supports up to the rate allowed, speaks against above it.',
  hazards: ['lithium-cell', 'mains'],
  compute({ capacity, chargeCurrent, rateAllowed }) {
    const rate = chargeCurrent / capacity;
    return { rate, atLeast: 1 / rate, useOfAllowance: (100 * rate) / rateAllowed };
  },
  judge({ rate, atLeast, useOfAllowance }) {
    return {
      verdict:
        useOfAllowance.high <= 100 ? 'supports' : useOfAllowance.low > 100 ? 'speaks-against' : 'neutral',
      sentence:
        `The cell is charged at ${formatValue(rate)}, ${formatValue(useOfAllowance)} of the rate allowed; ` +
        `a full charge takes at least ${formatValue(atLeast)}.`,
    };
  },
});

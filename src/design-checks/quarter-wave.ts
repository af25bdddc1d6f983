import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

/** m/s, exact in the SI. */
const SPEED_OF_LIGHT = 299_792_458;

export const quarterWave = defineCheck({
  name: 'quarter-wave',
  title: 'A quarter wave at the band against the room in the shell',
  required: {
    frequency: {
      unit: 'MHz',
      above: 0,
      meaning: 'Frequency of the band, its middle or an edge.',
      typical: { low: 2400, high: 2483.5, note: 'common practice, no source' },
    },
    room: {
      unit: 'mm',
      above: 0,
      meaning: 'Length available to the antenna in the shell, along its run.',
      typical: { low: 15, high: 50, note: 'common practice, no source' },
    },
  },
  optional: {
    effectivePermittivity: {
      unit: '1',
      min: 1,
      meaning: 'Effective permittivity of what the antenna lies in or on.',
      typical: { low: 1, high: 3, note: 'common practice, no source' },
    },
  },
  outputs: {
    quarter: { unit: 'mm', meaning: 'A quarter of the wavelength in free space.' },
    roomOverQuarter: { unit: '1', meaning: 'Room available over the length wanted.' },
  },
  furtherOutputs: { shortened: { unit: 'mm', meaning: 'A quarter of the wavelength in that material.' } },
  formula: 'λ/4 = c/(4 f √ε)',
  source: 'Quarter-wave monopole, standard antenna theory; c exact in the SI',
  limits:
    'A straight conductor over a ground. Body, battery and shield nearby detune an antenna and shift its resonance, so the ' +
    'length is a guide and no proof; folded and loaded antennas are shorter at the cost of bandwidth. The verdict is a rule of ' +
    'this check: supports when the room holds the quarter wave, speaks against below a quarter of it.',
  compute({ frequency, room, effectivePermittivity }) {
    const quarter = (SPEED_OF_LIGHT / (4 * frequency * 1e6)) * 1000;
    const shortened = quarter / Math.sqrt(effectivePermittivity ?? 1);
    return {
      quarter,
      roomOverQuarter: room / shortened,
      shortened: effectivePermittivity === undefined ? undefined : shortened,
    };
  },
  judge({ quarter, shortened, roomOverQuarter }, { frequency, room }) {
    const material = shortened ? `, ${formatValue(shortened)} in its surroundings` : '';
    return {
      verdict:
        roomOverQuarter.low >= 1 ? 'supports' : roomOverQuarter.high < 0.25 ? 'speaks-against' : 'neutral',
      sentence:
        `A quarter wave at ${formatValue(frequency)} is ${formatValue(quarter)} in free space${material}; the shell has ${formatValue(room)}, ` +
        `${formatValue(roomOverQuarter)} times that. Body and metal nearby detune it.`,
    };
  },
});

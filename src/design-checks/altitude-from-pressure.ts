import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

// ISO 2533:1975 and U.S. Standard Atmosphere 1976, constants of the lowest layer.
const GRAVITY = 9.80665;
const GAS_CONSTANT_OF_AIR = 287.05287;
const LAPSE = -0.0065;
const SEA_LEVEL_TEMPERATURE = 288.15;
const SEA_LEVEL_PRESSURE = 101325;
const EXPONENT = -GRAVITY / (GAS_CONSTANT_OF_AIR * LAPSE);

/** Pressure in Pa at a geopotential altitude in m, up to 11000 m. */
export function pressureAt(altitude: number): number {
  return SEA_LEVEL_PRESSURE * (1 + (LAPSE * altitude) / SEA_LEVEL_TEMPERATURE) ** EXPONENT;
}

/** Geopotential altitude in m at a pressure in Pa, down to that of 11000 m. */
export function altitudeAt(pressure: number): number {
  return (SEA_LEVEL_TEMPERATURE / -LAPSE) * (1 - (pressure / SEA_LEVEL_PRESSURE) ** (1 / EXPONENT));
}

/** Metres for each pascal less, at a pressure in Pa: -dh/dp. */
function metresPerPascal(pressure: number): number {
  const altitude = altitudeAt(pressure);
  return (GAS_CONSTANT_OF_AIR * (SEA_LEVEL_TEMPERATURE + LAPSE * altitude)) / (GRAVITY * pressure);
}

export const altitudeFromPressure = defineCheck({
  name: 'altitude-from-pressure',
  title: 'Whether a pressure sensor resolves the steps of altitude that the device wants',
  required: {
    pressure: {
      unit: 'Pa',
      // The tropopause of the standard atmosphere; above it another layer holds.
      min: 22632.1,
      max: 120000,
      meaning: 'Air pressure where the device is used.',
      typical: { low: 70000, high: 103000, note: 'common practice, no source' },
    },
    pressureResolution: {
      unit: 'Pa',
      above: 0,
      meaning: 'Smallest pressure step of the sensor.',
      typical: { low: 0.05, high: 5, note: 'common practice, no source' },
    },
    altitudeResolutionWanted: {
      unit: 'm',
      above: 0,
      meaning: 'Step of altitude that the device is to resolve.',
      typical: { low: 0.1, high: 3, note: 'common practice, no source' },
    },
  },
  optional: {
    pressureRange: { unit: 'Pa', above: 0, meaning: 'Width of the pressure range of the sensor.' },
  },
  outputs: {
    altitude: { unit: 'm', meaning: 'Geopotential altitude of that pressure in the standard atmosphere.' },
    altitudeResolution: { unit: 'm', meaning: 'Step of altitude for one pressure step.' },
    pressureStepWanted: { unit: 'Pa', meaning: 'Pressure step that the altitude wanted asks for.' },
    margin: { unit: '1', meaning: 'Step wanted over the step reached.' },
  },
  furtherOutputs: {
    bitsWanted: { unit: 'bit', meaning: 'Effective bits over the range for the step wanted.' },
  },
  formula: 'h = (T0/L)((p/p0)^(-R L/g0) - 1); Δh = Δp R T/(g0 p); bits = log2(range/Δp)',
  source: 'ISO 2533:1975 Standard Atmosphere; U.S. Standard Atmosphere 1976',
  limits:
    'Geopotential altitude up to 11000 m in the standard atmosphere: weather moves the reading by many metres, so ' +
    'changes of altitude are measured better than altitude. Noise and drift of the sensor left out. ' +
    'The verdict is a rule of this check: supports from a margin of 1, speaks against below 0.5.',
  compute({ pressure, pressureResolution, altitudeResolutionWanted, pressureRange }) {
    const slope = metresPerPascal(pressure);
    const altitudeResolution = pressureResolution * slope;
    const pressureStepWanted = altitudeResolutionWanted / slope;
    return {
      altitude: altitudeAt(pressure),
      altitudeResolution,
      pressureStepWanted,
      margin: altitudeResolutionWanted / altitudeResolution,
      bitsWanted: pressureRange === undefined ? undefined : Math.log2(pressureRange / pressureStepWanted),
    };
  },
  judge({ altitudeResolution, pressureStepWanted, margin, bitsWanted }, { altitudeResolutionWanted }) {
    const bits = bitsWanted ? `, ${formatValue(bitsWanted)} over the range` : '';
    return {
      verdict: margin.low >= 1 ? 'supports' : margin.high < 0.5 ? 'speaks-against' : 'neutral',
      sentence:
        `One pressure step is ${formatValue(altitudeResolution)} of altitude; ` +
        `steps of ${formatValue(altitudeResolutionWanted)} ask for ${formatValue(pressureStepWanted)}${bits}.`,
    };
  },
});

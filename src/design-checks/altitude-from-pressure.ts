import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

// Constants of ISO 2533:1975 and U.S. Standard Atmosphere 1976.
const GRAVITY = 9.80665;
const GAS_CONSTANT_OF_AIR = 287.05287;

/** A layer of the standard atmosphere, from its base up: geopotential m, K, Pa and K/m. */
interface Layer {
  readonly base: number;
  readonly temperature: number;
  readonly pressure: number;
  readonly lapse: number;
}

/** Bases and lapse rates of the layers, geopotential; the lowest reaches below sea level. */
const LAPSES: readonly (readonly [base: number, lapse: number])[] = [
  [0, -0.0065],
  [11_000, 0],
  [20_000, 0.001],
  [32_000, 0.0028],
];
/** Where the lowest layer begins and the highest ends, geopotential m: the tables of ISO 2533 begin at -2000 m (from memory). */
const LOWEST = -2000;
const HIGHEST = 47_000;

const LAYERS: readonly Layer[] = layers();

function layers(): readonly Layer[] {
  const found: Layer[] = [];
  for (const [base, lapse] of LAPSES) {
    const below = found.at(-1);
    const temperature = below ? temperatureIn(below, base) : 288.15;
    const pressure = below ? pressureIn(below, base) : 101_325;
    found.push({ base, temperature, pressure, lapse });
  }
  return found;
}

function temperatureIn({ base, temperature, lapse }: Layer, altitude: number): number {
  return temperature + lapse * (altitude - base);
}

function pressureIn(layer: Layer, altitude: number): number {
  const { base, temperature, pressure, lapse } = layer;
  if (lapse === 0)
    return pressure * Math.exp((-GRAVITY * (altitude - base)) / (GAS_CONSTANT_OF_AIR * temperature));
  return (
    pressure * (temperatureIn(layer, altitude) / temperature) ** (-GRAVITY / (GAS_CONSTANT_OF_AIR * lapse))
  );
}

/** Pressure in Pa at a geopotential altitude in m, from -2000 m to 47000 m. */
export function pressureAt(altitude: number): number {
  return pressureIn(LAYERS.findLast(({ base }) => base <= altitude) ?? LAYERS[0], altitude);
}

function layerAt(pressure: number): Layer {
  return LAYERS.findLast((layer) => pressure <= layer.pressure) ?? LAYERS[0];
}

/** Geopotential altitude in m at a pressure in Pa, from that of -2000 m down to that of 47000 m. */
export function altitudeAt(pressure: number): number {
  const { base, temperature, pressure: atBase, lapse } = layerAt(pressure);
  const ratio = pressure / atBase;
  if (lapse === 0) return base - ((GAS_CONSTANT_OF_AIR * temperature) / GRAVITY) * Math.log(ratio);
  return base + (temperature / lapse) * (ratio ** ((-GAS_CONSTANT_OF_AIR * lapse) / GRAVITY) - 1);
}

/** Metres for each pascal less, at a pressure in Pa: -dh/dp. */
function metresPerPascal(pressure: number): number {
  const temperature = temperatureIn(layerAt(pressure), altitudeAt(pressure));
  return (GAS_CONSTANT_OF_AIR * temperature) / (GRAVITY * pressure);
}

export const altitudeFromPressure = defineCheck({
  name: 'altitude-from-pressure',
  title: 'Whether a pressure sensor resolves the steps of altitude that the device wants',
  required: {
    pressure: {
      unit: 'Pa',
      min: pressureAt(HIGHEST),
      max: pressureAt(LOWEST),
      beyond: `the layers used reach from ${LOWEST} m to ${HIGHEST} m`,
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
  formula:
    'h = hb + (Tb/L)((p/pb)^(-R L/g0) - 1) in the layer that begins at hb, hb - (R Tb/g0) ln(p/pb) where L = 0; ' +
    'Δh = Δp R T/(g0 p); bits = log2(range/Δp)',
  source:
    'ISO 2533:1975 Standard Atmosphere; U.S. Standard Atmosphere 1976. L from 0, 11, 20 and 32 km: -6.5, 0, 1 and 2.8 K/km',
  limits:
    'Geopotential altitude from -2000 m to 47000 m in the standard atmosphere: weather moves the reading by many metres, so ' +
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
      bitsWanted:
        pressureRange === undefined ? undefined : Math.max(0, Math.log2(pressureRange / pressureStepWanted)),
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

/** UCUM codes as people write them; every other code is written as it is. */
const WRITTEN: ReadonlyMap<string, string> = new Map([
  ['1', ''],
  ['mA.h', 'mAh'],
  ['W.h', 'Wh'],
  ['W.h/L', 'Wh/l'],
  ['uA', 'µA'],
  ['uV', 'µV'],
  ['uW', 'µW'],
  ['um', 'µm'],
  ['Ohm', 'Ω'],
  ['kOhm', 'kΩ'],
  ['Cel', '°C'],
  ['cm2', 'cm²'],
  ['mm2', 'mm²'],
  ['dB{mW}', 'dBm'],
  ['[ppm]', 'ppm'],
  ['[ppb]', 'ppb'],
  ['[degF]', '°F'],
  ['deg/s', '°/s'],
  ['uF', 'µF'],
  ['uH', 'µH'],
  ['us', 'µs'],
  ['MOhm', 'MΩ'],
  ['mOhm', 'mΩ'],
  ['cm3', 'cm³'],
  ['g/cm3', 'g/cm³'],
  ['m/s2', 'm/s²'],
  ['1/cm2', 'per cm²'],
  ['/cm2', 'per cm²'],
  ['KiBy', 'KiB'],
  ['MiBy', 'MiB'],
  ['GiBy', 'GiB'],
]);

/** A unit for people to read: `mAh` for the UCUM code `mA.h`, nothing for a bare number. */
export function writtenUnit(code: string): string {
  return WRITTEN.get(code) ?? code;
}

import { createRequire } from 'node:module';
import type ucum from '@lhncbc/ucum-lhc';
import { LRUCache } from 'lru-cache';
import { oneLine } from '../text/plain-text.ts';

/**
 * A measured or stated amount: a number with a UCUM unit code (The Unified Code for Units of Measure,
 * case-sensitive symbols), and where known the half-width of its uncertainty in the same unit.
 */
export interface Quantity {
  readonly value: number;
  /** UCUM code, for example `mA.h`, `mm`, `Cel`. */
  readonly unit: string;
  /** Half-width of the stated uncertainty, same unit as `value`. */
  readonly plusMinus?: number;
}

/** Raised when text is not a valid quantity, a unit is unknown, or two units measure different things. */
export class QuantityError extends Error {
  override readonly name = 'QuantityError';
}

type Units = ReturnType<typeof ucum.UcumLhcUtils.getInstance>;
let loadedUnits: Units | undefined;

/** The units library with its 300 definitions: loaded when first asked for, since many runs never are. */
function units(): Units {
  loadedUnits ??= (
    createRequire(import.meta.url)('@lhncbc/ucum-lhc') as typeof ucum
  ).UcumLhcUtils.getInstance();
  return loadedUnits;
}

/** Plain forms people write, and the UCUM code they mean. */
const PLAIN_FORMS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    '': '1',
    '°C': 'Cel',
    degC: 'Cel',
    '°F': '[degF]',
    degF: '[degF]',
    '°/s': 'deg/s',
    dps: 'deg/s',
    rpm: '/min',
    mil: '[mil_i]',
    // No unit of UCUM; an annotation keeps it apart from a bare ratio.
    dBm: 'dB{mW}',
    '°': 'deg',
    in: '[in_i]',
    inch: '[in_i]',
    oz: '[oz_av]',
    bits: 'bit',
    B: 'By',
    kB: 'kBy',
    MB: 'MBy',
    GB: 'GBy',
    KiB: 'KiBy',
    MiB: 'MiBy',
    GiB: 'GiBy',
    'm/s²': 'm/s2',
    bps: 'bit/s',
    'kB/s': 'kBy/s',
    'MB/s': 'MBy/s',
    kbps: 'kbit/s',
    Mbps: 'Mbit/s',
  }),
);

const QUANTITY_TEXT =
  /^\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)(?:\s*(?:±|\+\/-|\+-)\s*((?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?))?\s*(.*?)\s*$/u;

interface KnownUnit {
  readonly code: string;
  /** Dimension vector as text; equal text means that conversion is possible. */
  readonly dimension: string;
}

/** Units seen lately, those that UCUM does not know as well; anybody may ask for any number of these. */
const knownUnits = new LRUCache<string, KnownUnit | 'unknown'>({ max: 2_000 });

/** Characters of a unit; those of UCUM have up to some twenty, and its parser takes long over what is much longer. */
const LONGEST_UNIT = 60;
/** Characters of a quantity, spaces and all. */
const LONGEST_QUANTITY = 300;
/** Characters of what was written that a message repeats. */
const QUOTED = 60;

/**
 * The UCUM code of a written unit (`mAh` gives `mA.h`, `kΩ` gives `kOhm`, `µm` gives `um`), or
 * undefined when UCUM knows no such unit.
 */
export function unitCode(written: string): string | undefined {
  return lookUp(written)?.code;
}

function lookUp(written: string): KnownUnit | undefined {
  if (written.length > LONGEST_UNIT) return undefined;
  let unit = knownUnits.get(written);
  if (unit === undefined) {
    unit = find(written) ?? 'unknown';
    knownUnits.set(written, unit);
  }
  return unit === 'unknown' ? undefined : unit;
}

function find(written: string): KnownUnit | undefined {
  const tidied = written
    .normalize('NFKC')
    .replace(/[µμ]/gu, 'u')
    .replace(/[ΩΩ]/gu, 'Ohm')
    .replace(/²/gu, '2')
    .replace(/³/gu, '3')
    .replace(/(?<=m)\^(?=[23]$)/u, '')
    .replace(/ohms?$/u, 'Ohm')
    .replace(/[·⋅]/gu, '.');
  // Charge and energy as printed on cells: mAh, mA·h, mA h, mA-h, with a blank of any width.
  const charge = /^([munpkM]?[AW])\s?[.*∙•-]?\s?h$/u.exec(tidied);
  const read = charge ? `${charge[1]}.h` : (PLAIN_FORMS.get(written) ?? PLAIN_FORMS.get(tidied) ?? tidied);
  // UCUM wants no white space inside a code; its parser would otherwise suggest a unit instead of refusing.
  if (/\s/u.test(read)) return undefined;
  // A unit's name is understood too: "gram" comes back as the code "g".
  const { unit, origString: code } = units().getSpecifiedUnit(read, 'validate');
  if (!unit || unit.csCode_ === null) return undefined;
  // Bits, bytes and decibels are dimensionless to UCUM; they must not convert into percent or turns.
  const level = /dB(\{.*?\})?/u.exec(code);
  const kind = /bit|By/u.test(code) ? ' information' : level ? ` level ${level[1] ?? ''}` : '';
  return { code, dimension: `${unit.dim_ ? String(unit.dim_.dimVec_ ?? '') : ''}${kind}` };
}

/**
 * Reads `3.7 V`, `65 mAh`, `12.4 ± 0.1 mm`, `-20 °C` or `85 %`.
 * @throws QuantityError that says what is missing and, for units, how UCUM writes them.
 */
export function parseQuantity(text: string): Quantity {
  const match = text.length > LONGEST_QUANTITY ? undefined : QUANTITY_TEXT.exec(text);
  const shown = oneLine(text, QUOTED);
  if (!match)
    throw new QuantityError(`"${shown}" is not a valid quantity; write a number and a unit, such as "3.7 V"`);
  const [, value, plusMinus, unit] = match;
  const code = unitCode(unit);
  if (code === undefined) {
    const point = withPoint(text);
    if (point !== undefined)
      throw new QuantityError(`"${shown}" has a decimal comma; write "${oneLine(point, QUOTED)}"`);
    throw new QuantityError(
      `"${oneLine(unit, QUOTED)}" is not a UCUM unit; write for example "V", "mAh", "mm", "g"`,
    );
  }
  return plusMinus === undefined
    ? { value: Number(value), unit: code }
    : { value: Number(value), unit: code, plusMinus: Number(plusMinus) };
}

/** A text that begins with a number with a decimal comma, with a point instead: `4,3 mm` gives `4.3 mm`. */
export function withPoint(text: string): string | undefined {
  const match = /^(\s*[+-]?\d+),(\d+)(?![\d,])(.*)$/su.exec(text);
  return match ? `${match[1]}.${match[2]}${match[3]}`.trim() : undefined;
}

/** `3.7 V`, `12.4 ± 0.1 mm`: the form that {@link parseQuantity} reads back to the same quantity. */
export function formatQuantity({ value, unit, plusMinus }: Quantity): string {
  const spread = plusMinus === undefined ? '' : ` ± ${plusMinus}`;
  return `${value}${spread}${unit === '1' ? '' : ` ${unit}`}`;
}

/** True when both unit codes measure the same thing, so that one converts into the other. */
export function sameDimension(a: string, b: string): boolean {
  const first = lookUp(a);
  const second = lookUp(b);
  return first !== undefined && second !== undefined && first.dimension === second.dimension;
}

/**
 * The quantity in another unit of the same dimension, uncertainty included.
 * @throws QuantityError when the units measure different things.
 */
export function convert(quantity: Quantity, unit: string): Quantity {
  const code = unitCode(unit);
  if (code === undefined) throw new QuantityError(`"${oneLine(unit, QUOTED)}" is not a UCUM unit`);
  if (code === quantity.unit) return quantity;
  if (!sameDimension(quantity.unit, code)) {
    throw new QuantityError(
      `${formatQuantity(quantity)} cannot be given in ${code}: they measure different things`,
    );
  }
  const value = toUnit(quantity.value, quantity.unit, code);
  if (quantity.plusMinus === undefined) return { value, unit: code };
  // The difference of two conversions, so that an offset such as that of degrees Celsius drops out.
  const plusMinus = Math.abs(toUnit(quantity.value + quantity.plusMinus, quantity.unit, code) - value);
  return { value, unit: code, plusMinus };
}

/** The bare number of a quantity in a given unit. */
export function valueIn(quantity: Quantity, unit: string): number {
  return convert(quantity, unit).value;
}

function toUnit(value: number, from: string, to: string): number {
  const result = units().convertUnitTo(from, value, to);
  if (result.status !== 'succeeded' || result.toVal === null) {
    throw new QuantityError(`${value} ${from} cannot be given in ${to}: ${result.msg.join('; ')}`);
  }
  // Fifteen digits keep everything a double can promise and drop the conversion's own rounding error.
  return Number(result.toVal.toPrecision(15));
}

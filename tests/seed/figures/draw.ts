import { createHash } from 'node:crypto';
import { type Part, partIdOf } from '../../../src/model/catalogue.ts';
import { yearOf } from '../../../src/model/dates.ts';
import { PLANS, type Plan, RANGES, type Range } from './tables.ts';

// Draws the figures of the invented parts from ranges by class and year. What a part is for, what it succeeds and how
// it is marked is written by hand in seed-data/parts/; its outline and its figures are drawn here, from a seed.

/** Another seed makes another catalogue; the dossiers, and the examples of the guide, are written for this one. */
const SEED = 'shimmark 1';

/** What is drawn of a part. Lengths in mm; figures as the catalogue writes them. */
export interface Drawn {
  /** Package with its terminals, such as LGA-14; absent where terminals are not drawn. */
  readonly package?: string;
  readonly pins?: number;
  readonly body?: { readonly length: number; readonly width: number; readonly height: number };
  /** Quantities by parameter. */
  readonly parameters: Readonly<Record<string, string | number>>;
}

/** A part as far as drawing looks at it. */
export type Undrawn = Pick<Part, 'maker' | 'number' | 'package' | 'pins' | 'introduced'> & {
  readonly parameters: Readonly<Record<string, unknown>>;
};

/**
 * Draws outline and figures of a part.
 * @param parts all parts by id, for those that share an outline or figures with another
 * @throws Error for a part that `parts.csv` does not list, or whose class has no range for a figure that it gives
 */
export function draw(part: Undrawn, parts: ReadonlyMap<string, Undrawn>): Drawn {
  const id = partIdOf(part as Part);
  const plan = planOf(id);
  const outlined = parts.get(plan.outline || id) ?? part;
  const figured = parts.get(plan.figures || id) ?? part;
  return { ...outlineOf(outlined), parameters: figuresOf(part, figured) };
}

function planOf(id: string): Plan {
  const plan = PLANS.get(id);
  if (!plan) throw new Error(`${id} is not in tests/seed/figures/parts.csv; add it with its class`);
  return plan;
}

/** `LGA` of LGA-14. Leaded outlines keep their number, which is part of the name of a standard outline: SOT-23-5. */
function kindOf(name: string): string {
  return /^(?:SOT|SC|MSOP|SOP)-/u.test(name) ? name : name.replace(/-\d+$/u, '');
}

/** One figure of a part, or undefined where no range of its class has it. */
function figure(part: Undrawn, parameter: string): { value: number; range: Range } | undefined {
  const id = partIdOf(part as Part);
  const plan = planOf(id);
  const year = yearOf(String(part.introduced ?? ''));
  const kind = kindOf(part.package ?? '');
  const fits = (range: Range, name: string) =>
    range.class === name &&
    range.parameter === parameter &&
    (range.package === '' || range.package === kind) &&
    range.from <= year &&
    year <= range.to;
  const range = [plan.class, plan.supply || plan.class, '']
    .map((name) => RANGES.find((one) => fits(one, name)))
    .find((one) => one !== undefined);
  if (!range) return;
  const values = valuesOf(range);
  return { value: values[chance(`${id} ${parameter}`) % values.length], range };
}

/** What a range holds: its steps without the round ones, which are those of real parts, unless only round ones are left. */
export function valuesOf({ lowest, highest, step, parameter }: Range): readonly number[] {
  if (step === 'binary') {
    const sizes = Array.from({ length: 21 }, (_, power) => [2 ** power, 1.5 * 2 ** power]).flat();
    return sizes.filter((size) => size >= lowest && size <= highest);
  }
  const decimals = decimalsOf(step);
  const count = Math.round((highest - lowest) / step) + 1;
  const all = Array.from({ length: count }, (_, index) => Number((lowest + index * step).toFixed(decimals)));
  if (parameter === 'terminals') return all;
  // Bodies of real parts mostly measure tenths of a millimetre.
  const rounds = ['length', 'width', 'side'].includes(parameter) ? 2 : 10;
  const odd = all.filter((value) => Math.round(value / step) % rounds !== 0);
  return odd.length > 0 ? odd : all;
}

function decimalsOf(step: number): number {
  return String(step).split('.')[1]?.length ?? 0;
}

/** A number that depends on seed and name alone, so that a new part changes no other. */
function chance(name: string): number {
  return createHash('sha256').update(`${SEED} ${name}`).digest().readUInt32BE(0);
}

function outlineOf(part: Undrawn): Omit<Drawn, 'parameters'> {
  const cell = /^YBAP(\d\d)(\d\d)(\d\d)H?$/u.exec(part.number);
  if (cell) {
    // The number of a pouch cell is its size: tenths of a millimetre of thickness, width, length without the seal.
    const [thickness, width, length] = cell.slice(1).map(Number);
    return { body: { length: length + 1, width, height: thickness / 10 } };
  }
  const height = figure(part, 'height')?.value;
  const terminals = figure(part, 'terminals')?.value ?? part.pins;
  const named = figure(part, 'terminals')
    ? { package: `${kindOf(part.package ?? '')}-${terminals}`, pins: terminals }
    : {};
  const area = figure(part, 'area per terminal')?.value;
  if (height !== undefined && area !== undefined && terminals !== undefined) {
    const length = Math.sqrt(area * terminals * (figure(part, 'slenderness')?.value ?? 1));
    const width = (area * terminals) / length;
    return { ...named, body: { length: twentieths(length), width: twentieths(width), height } };
  }
  const side = figure(part, 'side')?.value;
  const length = side ?? figure(part, 'length')?.value;
  const width = side ?? figure(part, 'width')?.value;
  if (height === undefined || length === undefined || width === undefined) return named;
  return { ...named, body: { length: Math.max(length, width), width: Math.min(length, width), height } };
}

/** To the nearest odd twentieth of a millimetre. */
function twentieths(value: number): number {
  return Number(((Math.floor(value * 10) * 2 + 1) / 20).toFixed(2));
}

function figuresOf(part: Undrawn, figured: Undrawn): Record<string, string | number> {
  const drawn: Record<string, string | number> = {};
  for (const name of Object.keys(part.parameters)) {
    const found = figure(figured, name);
    if (found) drawn[name] = found.range.unit === '' ? found.value : `${found.value} ${found.range.unit}`;
  }
  return { ...drawn, ...reckoned(part, drawn) };
}

/** Figures that follow from others: of cells, motors and square displays. */
function reckoned(part: Undrawn, drawn: Readonly<Record<string, unknown>>): Record<string, string | number> {
  const numberOf = (name: string) => Number.parseFloat(String(drawn[name] ?? part.parameters[name]));
  const density = figure(part, 'energy density')?.value;
  const body = outlineOf(part).body;
  if (density !== undefined && body) {
    const volts = numberOf('outputVoltage');
    const litres = (body.length * body.width * body.height) / 1e6;
    const capacity = Math.round((density * litres * 1000) / volts);
    const resistance = (figure(part, 'resistance by capacity')?.value ?? 0) / capacity;
    return {
      capacity: `${capacity} mAh`,
      energy: `${rounded((capacity * volts) / 1000, 3)} Wh`,
      internalResistance: `${rounded(resistance, 2)} Ohm`,
    };
  }
  if ('energy' in part.parameters)
    return { energy: `${rounded((numberOf('capacity') * numberOf('outputVoltage')) / 1000, 3)} Wh` };
  const share = figure(part, 'start current by Ohm')?.value;
  if (share !== undefined && 'coilResistance' in part.parameters) {
    const resistance = ((numberOf('ratedVoltage') * 1000) / numberOf('startCurrent')) * share;
    return { coilResistance: `${rounded(resistance, 1)} Ohm` };
  }
  if (part.parameters.displayWidth !== undefined) {
    const shape = Number(part.parameters.displayHeight) / Number(part.parameters.displayWidth);
    return shape === 1 ? { displayHeight: numberOf('displayWidth') } : {};
  }
  return {};
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

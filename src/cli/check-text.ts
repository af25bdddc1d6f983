import type { BoundCheck } from '../decisions/check-inputs.ts';
import type { CheckInput, CheckResult, DesignCheck } from '../design-checks/check.ts';
import { short, spoken } from '../design-checks/spoken.ts';
import { toTable } from '../export/table.ts';
import type { Quantity } from '../model/quantity.ts';
import { writtenUnit } from '../model/written-unit.ts';

/** A check with the figures of a device: each input with where it came from, then the answer or what is wanted. */
export function boundAnswer(check: DesignCheck, { inputs, missing, result, problem }: BoundCheck): string {
  const rows = inputs.map(({ name, quantity, from, probability }) => ({
    input: name,
    value: quantity ? spokenQuantity(quantity) : '',
    sure: quantity ? probability.toFixed(2) : '',
    from,
  }));
  if (problem !== undefined) return toTable(rows);
  const wanted = missing.map(({ name }) => name);
  const outcome = result ?? { values: {}, sentence: '', verdict: 'neutral', missing: wanted };
  return `${toTable(rows)}\n${answered(check, outcome)}`;
}

/** The answer of a check in tables and words; what it lacks is asked for by name. */
export function answered(
  check: DesignCheck,
  { values, sentence, verdict, missing = [] }: CheckResult,
): string {
  if (missing.length > 0) {
    const wanted = check.inputs
      .filter(({ name }) => missing.includes(name))
      .map((input) => ({
        wanted: input.name,
        unit: writtenUnit(input.unit),
        typical: typicalOf(input),
        meaning: input.meaning,
      }));
    return `Not reckoned yet.\n\n${toTable(wanted)}`;
  }
  const meanings = new Map(check.outputs.map(({ name, meaning }) => [name, meaning]));
  const rows = Object.entries(values).map(([name, value]) => ({
    value: name,
    comes_to: spoken(value),
    meaning: meanings.get(name) ?? '',
  }));
  const says = verdict.replaceAll('-', ' ');
  return `${toTable(rows)}\n${sentence}\nVerdict: ${says}.\n\n${footing(check)}`;
}

/** The usual range of an input, with who says so; empty where there is none. */
export function typicalOf({ typical }: CheckInput): string {
  return typical ? `${short(typical.low)} to ${short(typical.high)} (${typical.note})` : '';
}

/** Formula, source, limits and cautions of a check. */
export function footing({ formula, source, limits, cautions }: DesignCheck): string {
  const minded = cautions.map((caution) => `caution: ${caution}`).join('\n');
  return `Formula: ${formula}\nSource: ${source}\nLimits: ${limits}\n${minded}\n`;
}

function spokenQuantity({ value, unit, plusMinus = 0 }: Quantity): string {
  return spoken({ value, unit, low: value - plusMinus, high: value + plusMinus });
}

import type { BoundCheck } from '../../decisions/check-inputs.ts';
import type { CheckInput, CheckResult, DesignCheck } from '../../design-checks/check.ts';
import { formatValue, shortNumber } from '../../design-checks/format-value.ts';
import type { Row } from '../../export/rows.ts';
import { toTable } from '../../export/table.ts';
import type { Quantity } from '../../model/quantity.ts';
import { writtenUnit } from '../../model/written-unit.ts';
import { fixed } from '../../text/rounding.ts';

/** A check by itself: what it wants and gives, formula, source, limits and cautions. */
export function checkText(check: DesignCheck): string {
  const outputs = check.outputs.map(({ name, unit, meaning }) => ({ output: name, unit, meaning }));
  return `${check.title}\n\n${toTable(inputRows(check))}\n${toTable(outputs)}\n${sourceText(check)}`;
}

/** The inputs of a check with their usual ranges. */
export function inputRows({ inputs }: DesignCheck): readonly Row[] {
  return inputs.map((input) => ({
    input: input.name,
    unit: input.unit,
    wanted: input.optional ? 'if known' : 'yes',
    typical: typicalOf(input),
    meaning: input.meaning,
  }));
}

/** A check with the figures of a device: each input with where it came from, then the result or what is wanted. */
export function boundText(check: DesignCheck, bound: BoundCheck): string {
  const { missing, result, problem } = bound;
  if (problem !== undefined) return toTable(boundRows(bound));
  const wanted = missing.map(({ name }) => name);
  const outcome = result ?? { values: {}, sentence: '', verdict: 'neutral', notes: [], missing: wanted };
  return `${toTable(boundRows(bound))}\n${resultText(check, outcome)}`;
}

/** The inputs of a check with the figures of a device. */
export function boundRows({ inputs }: BoundCheck): readonly Row[] {
  return inputs.map(({ name, quantity, from, probability }) => ({
    input: name,
    value: quantity ? quantityText(quantity) : '',
    probability: quantity ? fixed(probability, 2) : '',
    from,
  }));
}

/** The result of a check in tables and sentences; what it lacks is asked for by name. */
export function resultText(check: DesignCheck, result: CheckResult): string {
  const rows = toTable(resultRows(check, result));
  if (isIncomplete(result)) return `Not calculated yet.\n\n${rows}\n${cautionText(check)}`;
  const { sentence, verdict } = result;
  const notes = result.notes.map((note) => `note: ${note}\n`).join('');
  return `${rows}\n${sentence}\n${notes}Verdict: ${verdict.replaceAll('-', ' ')}.\n\n${sourceText(check)}`;
}

/** The values that a check results in, or the inputs that it lacks. */
export function resultRows(check: DesignCheck, result: CheckResult): readonly Row[] {
  const { values, missing = [] } = result;
  if (isIncomplete(result))
    return check.inputs
      .filter(({ name }) => missing.includes(name))
      .map((input) => ({
        wanted: input.name,
        unit: writtenUnit(input.unit),
        typical: typicalOf(input),
        meaning: input.meaning,
      }));
  const meanings = new Map(check.outputs.map(({ name, meaning }) => [name, meaning]));
  return Object.entries(values).map(([name, value]) => ({
    value: name,
    result: formatValue(value),
    meaning: meanings.get(name) ?? '',
  }));
}

function isIncomplete({ missing = [] }: CheckResult): boolean {
  return missing.length > 0;
}

/** The usual range of an input, with who says so; empty where there is none. */
function typicalOf({ typical }: CheckInput): string {
  return typical ? `${shortNumber(typical.low)} to ${shortNumber(typical.high)} (${typical.note})` : '';
}

/** Formula, source, limits and cautions of a check. */
function sourceText(check: DesignCheck): string {
  const { formula, source, limits } = check;
  return `Formula: ${formula}\nSource: ${source}\nLimits: ${limits}\n${cautionText(check)}`;
}

/** What to mind when the inputs are measured: with the result, and where the bench is asked for them. */
function cautionText({ cautions }: DesignCheck): string {
  return cautions.map((caution) => `caution: ${caution}\n`).join('');
}

function quantityText({ value, unit, plusMinus = 0 }: Quantity): string {
  return formatValue({ value, unit, low: value - plusMinus, high: value + plusMinus });
}

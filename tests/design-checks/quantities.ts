import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import type { CheckInputs, DesignCheck } from '../../src/design-checks/check.ts';
import { parseQuantity, type Quantity } from '../../src/model/quantity.ts';

/** A file of published values from tests/reference. */
// biome-ignore lint/suspicious/noExplicitAny: each file has a shape of its own, read by the test beside it
export function reference(name: 'atmosphere' | 'signal' | 'power'): any {
  return JSON.parse(readFileSync(join(import.meta.dirname, `../reference/${name}.json`), 'utf8'));
}

/** `{ gain: '10 dB' }` to inputs. */
export function inputs(written: Readonly<Record<string, string>>): Record<string, Quantity> {
  return Object.fromEntries(Object.entries(written).map(([name, text]) => [name, parseQuantity(text)]));
}

/** Every required input left out in turn is asked for by name, and nothing is reckoned meanwhile. */
export function expectToAskForEachInput(check: DesignCheck, whole: CheckInputs): void {
  const required = check.inputs.filter((input) => !input.optional).map((input) => input.name);
  expect(check.run(whole).missing).toBeUndefined();
  expect(check.run({}).missing).toEqual(required);
  for (const name of required) {
    const result = check.run({ ...whole, [name]: undefined });
    expect(result).toMatchObject({ missing: [name], values: {}, verdict: 'neutral' });
    expect(result.sentence).toContain(name);
  }
}

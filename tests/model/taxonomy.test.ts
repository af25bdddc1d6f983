import { describe, expect, test } from 'vitest';
import { unitCode } from '../../src/model/quantity.ts';
import {
  isUnder,
  lineage,
  meaningOf,
  PARAMETERS,
  TERM_PARENTS,
  TERMS,
  termsUnder,
} from '../../src/model/taxonomy.ts';

describe('the component taxonomy', () => {
  const ROOTS = ['Component', 'BoardFeature'];

  test('has a root above all components, and one above what a board itself has', () => {
    expect(TERMS.filter((term) => lineage(term).length === 1)).toEqual(ROOTS);
    expect(ROOTS.flatMap((root) => [root, ...termsUnder(root)])).toHaveLength(TERMS.length);
  });

  test('every path up ends at a root and passes no term twice', () => {
    for (const term of TERMS) {
      const line = lineage(term);
      expect(ROOTS).toContain(line.at(-1));
      expect(new Set(line).size).toBe(line.length);
    }
  });

  test('explains every term in one sentence', () => {
    for (const term of TERMS) expect(meaningOf(term), term).toMatch(/^[A-Z].{10,}\.$/u);
  });

  test('writes every term as one word in capitals and small letters', () => {
    for (const term of TERMS) expect(term).toMatch(/^[A-Z][A-Za-z]+$/u);
  });

  test('knows which term is a kind of which', () => {
    expect(lineage('BuckConverter')).toEqual(['BuckConverter', 'Regulator', 'Component']);
    expect(isUnder('Accelerometer', 'Sensor')).toBe(true);
    expect(isUnder('Sensor', 'Accelerometer')).toBe(false);
    expect(isUnder('Sensor', 'Sensor')).toBe(true);
    expect(termsUnder('InertialSensor')).toEqual(['Accelerometer', 'Gyroscope']);
    expect(() => lineage('Flux')).toThrow('"Flux" is not a term');
  });

  test('gives engines one parent for every term but the roots', () => {
    expect(TERM_PARENTS).toHaveLength(TERMS.length - ROOTS.length);
    for (const [child, parent] of TERM_PARENTS) expect(lineage(child)[1]).toBe(parent);
  });
});

test('every part parameter has a sentence and holds exactly one kind of value, in a known unit', () => {
  for (const [name, { unit, text, flag, count, is }] of PARAMETERS) {
    expect(is, name).toMatch(/\.$/u);
    expect(
      [unit, text, flag, count].filter((one) => one !== undefined),
      name,
    ).toHaveLength(1);
    if (unit !== undefined) expect(unitCode(unit), name).toBe(unit);
  }
});

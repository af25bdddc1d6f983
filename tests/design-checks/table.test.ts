import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CHECKS, checkNamed, runCheck } from '../../src/design-checks/table.ts';
import { unitCode } from '../../src/model/quantity.ts';
import { inputs } from './quantities.ts';

const root = join(import.meta.dirname, '../..');

describe('the table of checks', () => {
  test('holds every check file once', () => {
    const files = globSync('src/design-checks/*.ts', { cwd: root }).filter((file) =>
      readFileSync(join(root, file), 'utf8').includes('= defineCheck('),
    );
    expect(Object.keys(CHECKS)).toHaveLength(files.length);
    expect(Object.isFrozen(CHECKS)).toBe(true);
  });

  test.each(Object.values(CHECKS))(
    '$name states formula, source, limits and units that UCUM knows',
    (check) => {
      for (const text of [check.title, check.formula, check.source, check.limits])
        expect(text.length).toBeGreaterThan(10);
      expect(check.inputs.length).toBeGreaterThan(0);
      for (const { name, unit, meaning } of [...check.inputs, ...check.outputs]) {
        expect([name, unitCode(unit)]).toEqual([name, unit]);
        expect(meaning).toMatch(/\.$/u);
      }
      // Whatever may have to be asked for comes with a range to start from.
      expect(check.inputs.filter(({ optional, typical }) => !optional && !typical)).toEqual([]);
      for (const { typical, min = -Infinity, max = Infinity } of check.inputs) {
        if (!typical) continue;
        expect(typical.low).toBeLessThan(typical.high);
        expect(typical.low).toBeGreaterThanOrEqual(min);
        expect(typical.high).toBeLessThanOrEqual(max);
      }
    },
  );

  test('who measures the inputs is told what can hurt', () => {
    const told = (name: string) => CHECKS[name].cautions.join(' ');
    for (const name of ['johnson-noise', 'input-referred-noise', 'noise-of-a-chain'])
      expect(told(name), name).toMatch(/Never join a person/u);
    // Currents and voltages of a device that runs.
    const running = Object.values(CHECKS).filter(({ inputs }) =>
      inputs.some(({ unit, name }) => /^[mu]?A$|^mW$/u.test(unit) && name !== 'chargeCurrent'),
    );
    expect(running.length).toBeGreaterThan(7);
    for (const { name } of running) expect(told(name), name).toMatch(/never from a mains charger/u);
    expect(told('charge-rate')).toMatch(/Disconnect chargers/u);
  });

  test('knows every check that a pattern names', () => {
    const named = globSync('seed-data/patterns/*.yaml', { cwd: root }).flatMap((file) =>
      [...readFileSync(join(root, file), 'utf8').matchAll(/check:\s*\n\s*name: ([\w-]+)/gu)].map(
        ([, name]) => name,
      ),
    );
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((name) => !Object.hasOwn(CHECKS, name))).toEqual([]);
  });

  test('runs a check by name and refuses an unknown name', () => {
    const given = inputs({ count: '2', correlation: '0' });
    expect(runCheck('averaging', given)).toEqual(CHECKS.averaging.run(given));
    expect(() => runCheck('toString', given)).toThrow(/no check is named "toString"; there are .*averaging/u);
    expect(() => runCheck('averagin', given)).toThrow(
      'no check is named "averagin"; did you mean "averaging"?',
    );
    expect(checkNamed('chargeRate')).toBe(CHECKS['charge-rate']);
  });
});

import { describe, expect, test } from 'vitest';
import {
  BindingError,
  type Leaf,
  leavesOf,
  parseBinding,
  quantityOf,
} from '../../src/design-checks/binding.ts';
import { variablesOf } from '../../src/design-checks/bound-names.ts';
import { convert, type Quantity } from '../../src/model/quantity.ts';

const FIGURES: Readonly<Record<string, Quantity>> = {
  'display.powerFull': { value: 90, unit: 'mW' },
  'converter.outputVoltage': { value: 12, unit: 'V', plusMinus: 0.6 },
  'cell.capacity': { value: 65, unit: 'mA.h' },
  'cell.outputVoltage': { value: 3.7, unit: 'V' },
  'cell.chargeCurrentMax': { value: 32.5, unit: 'mA' },
  'sensor.pressureRangeMin': { value: 300, unit: 'hPa' },
  'sensor.pressureRangeMax': { value: 110, unit: 'kPa' },
};
const nameOf = (leaf: Leaf) =>
  leaf.kind === 'call' ? `${leaf.name}(${leaf.variables.join()})` : `${leaf.owner}.${leaf.property}`;
const reckoned = (text: string | number, used: Leaf[] = []) =>
  quantityOf(parseBinding(text), (leaf) => FIGURES[nameOf(leaf)], used);
const within = (text: string, unit: string) => convert(reckoned(text) as Quantity, unit);

describe('a binding', () => {
  test.each([
    ['2', { value: 2, unit: '1' }],
    ['100 deg/s', { value: 100, unit: 'deg/s' }],
    ['0.02 ± 0.01 m/s²', { value: 0.02, unit: 'm/s2', plusMinus: 0.01 }],
    [' -3 dB ', { value: -3, unit: 'dB' }],
    ['cell.capacity', FIGURES['cell.capacity']],
    ['cell.nothing ?? cell.capacity', FIGURES['cell.capacity']],
    ['cell.nothing ?? cell.less ?? 20 mAh', { value: 20, unit: 'mA.h' }],
    ['cell.nothing', undefined],
    ['cell.nothing * 2 ?? 7 g', { value: 7, unit: 'g' }],
    ['distance(a, b)', undefined],
  ] as const)('%s', (text, quantity) => {
    expect(reckoned(text)).toEqual(quantity);
  });

  test('calculates with units: energy, current from power, charge rate, a range', () => {
    // Worked case of the reference file: 65 mAh at 3.7 V are 0.2405 Wh.
    expect(within('cell.capacity * cell.outputVoltage', 'W.h').value).toBeCloseTo(0.2405, 12);
    const current = within('(display.nothing ?? display.powerFull) / converter.outputVoltage', 'mA');
    expect(current.value).toBeCloseTo(7.5, 12);
    expect(current.plusMinus).toBeCloseTo(7.5 * 0.05, 9);
    expect(within('cell.chargeCurrentMax / cell.capacity', '1/h').value).toBeCloseTo(0.5, 12);
    expect(within('sensor.pressureRangeMax - sensor.pressureRangeMin', 'hPa').value).toBeCloseTo(800, 9);
    expect(reckoned('1 + 2 * 3 - 4 / 2')).toEqual({ value: 5, unit: '1' });
    expect(reckoned('(1 + 2) * 3')).toEqual({ value: 9, unit: '1' });
  });

  test('uncertainties add up, worst case', () => {
    expect(reckoned('converter.outputVoltage - converter.outputVoltage')).toEqual({
      value: 0,
      unit: 'V',
      plusMinus: 1.2,
    });
  });

  test('lists its sources, without those of the branch not taken', () => {
    const used: Leaf[] = [];
    reckoned('cell.capacity * cell.nothing ?? display.powerFull', used);
    expect(used.map(nameOf)).toEqual(['display.powerFull']);
    expect(leavesOf(parseBinding('count(a) ?? x.y / (z.w + 1)')).map(nameOf)).toEqual([
      'count(a)',
      'x.y',
      'z.w',
    ]);
  });

  test('a sum is of all components of a term', () => {
    expect(parseBinding('sum(Sensor.activeCurrent)')).toEqual({
      kind: 'property',
      owner: 'Sensor',
      property: 'activeCurrent',
      all: true,
    });
  });

  test.each([
    ['sensor', '"." and a property after "sensor" is wanted, not its end'],
    ['sensor.', 'a name is wanted, not its end'],
    ['sensor.noise sensor.gain', 'an end or a sign such as "??" is wanted, not "sensor" at character 13'],
    ['max(a, b)', '"max" is not a function; there are sum, count and distance'],
    ['sum(a)', '"." is wanted, not ")" at character 6'],
    ['distance(a)', 'distance takes two variables; "distance(a)" gives 1'],
    ['(a.b', '")" is wanted, not its end'],
    ['a.b & c.d', 'cannot be read from character 4 on'],
    ['a.b * 3 wibble', '"wibble" in "a.b * 3 wibble" is not a UCUM unit'],
  ])('%s is refused with its place', (text, said) => {
    expect(() => parseBinding(text)).toThrow(BindingError);
    expect(() => parseBinding(text)).toThrow(said);
  });

  test('refuses sums of different dimensions and division by 0', () => {
    expect(() => reckoned('cell.capacity + display.powerFull')).toThrow(BindingError);
    expect(() => reckoned('1 / (2 - 2)')).toThrow('division by nothing');
  });
});

test('variables of a pattern are those it binds: none of EXISTS, of texts or of edges', () => {
  const text = `MATCH (a:Sensor)-[r:CONNECTS]-(feed), (b:Board WHERE b.x = 'x (in:side)')
    WHERE NOT EXISTS { MATCH (near:Radio)-[:ON]->(b) WHERE EXISTS { (deep)-[:ON]->(b) } } AND F(a, b) RETURN a`;
  expect([...variablesOf(text)]).toEqual(['a', 'feed', 'b']);
});

import { expect, test } from 'vitest';
import { cautionsFor, HAZARDS, hazardsOfStep, STANDING_CAUTION } from '../../src/model/cautions.ts';

test('lithium cells, blades, heat, solvents and mains chargers each have cautions', () => {
  expect(HAZARDS).toEqual(expect.arrayContaining(['lithium-cell', 'blade', 'heat', 'solvent', 'mains']));
  for (const hazard of HAZARDS) expect(cautionsFor([hazard]).length).toBeGreaterThan(1);
});

test('what hurts where a step is told has words of its own', () => {
  const said = (hazard: string) => cautionsFor([hazard]).slice(0, -1).join(' ');
  expect(said('acid')).toMatch(/fume hood/u);
  expect(said('probing')).toMatch(/never from a mains charger/u);
  expect(said('electrode')).toMatch(/Never join a person/u);
  expect(said('optical-radiation')).toMatch(/Infrared is not seen.*Never look into emitters/u);
  for (const hazard of HAZARDS) expect(cautionsFor([hazard]).at(-1)).toMatch(/local rules.*licence/u);
});

test('the standing sentence comes last, also when no hazard is named', () => {
  expect(cautionsFor([])).toEqual([STANDING_CAUTION]);
  expect(cautionsFor(['heat']).at(-1)).toBe(STANDING_CAUTION);
  expect(STANDING_CAUTION).toMatch(/not medical advice/u);
});

test('a caution appears once, however often its hazard does', () => {
  const said = cautionsFor(['lithium-cell', 'blade', 'lithium-cell']);
  expect(new Set(said).size).toBe(said.length);
  expect(said).toEqual(cautionsFor(['lithium-cell', 'blade']));
});

test('a destructive step has cautions for cells, blades, heat and solvents, whichever hazards it names', () => {
  for (const hazards of [[], ['heat'], ['x-ray', 'blade']]) {
    const carried = hazardsOfStep({ destructive: true, hazards });
    expect(carried).toEqual(expect.arrayContaining([...hazards, 'lithium-cell', 'blade', 'heat', 'solvent']));
    expect(new Set(carried).size).toBe(carried.length);
    expect(hazardsOfStep({ destructive: false, hazards })).toEqual(hazards);
  }
});

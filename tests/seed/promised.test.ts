import { describe, expect, test } from 'vitest';
import { NOTHING_HELD } from '../../src/dossier/check/context.ts';
import { checkDocuments } from '../../src/dossier/check/rules.ts';
import { partIdOf } from '../../src/model/catalogue.ts';
import { yearOf } from '../../src/model/dates.ts';
import { BODY_SITES, specimenIdOf } from '../../src/model/dossier.ts';
import { lineage } from '../../src/model/taxonomy.ts';
import { catalogue, devices, documents, dossiers, figure, parts, problems, seenIn } from './seed.ts';

/** A dossier with two boards or more, both sides of one in use, fifteen placed components, notes of the bench. */
const rich = dossiers.filter(
  ({ boards, components, connections, observations }) =>
    boards.length >= 2 &&
    boards.some(({ id }) => {
      const sides = new Set(components.filter(({ board }) => board === id).map(({ side }) => side));
      return sides.has('top') && sides.has('bottom');
    }) &&
    components.filter(({ at }) => at).length >= 15 &&
    connections.length >= 15 &&
    observations.length >= 5,
);

describe('the demo archive', () => {
  test('is read without a problem and obeys every rule on its own', () => {
    expect(problems).toEqual([]);
    expect(checkDocuments(documents, NOTHING_HELD)).toEqual([]);
  });

  test('holds six makers of devices, ten product lines and thirty-six devices', () => {
    expect(catalogue.makers.filter(({ makes }) => makes.includes('devices')).length).toBeGreaterThanOrEqual(
      6,
    );
    expect(catalogue.productLines.length).toBeGreaterThanOrEqual(10);
    expect(devices.size).toBeGreaterThanOrEqual(36);
    expect(dossiers.length).toBeGreaterThan(devices.size);
  });

  test('spans 2013 to 2026 and every body site', () => {
    const years = [...devices.values()].map(({ released }) => yearOf(released));
    expect(Math.min(...years)).toBe(2013);
    expect(Math.max(...years)).toBe(2026);
    const sites = new Set([...devices.values()].map(({ bodySite }) => bodySite));
    expect(BODY_SITES.filter((site) => !sites.has(site))).toEqual(['other']);
  });

  test('holds fifteen makers of parts and 180 parts, all of whose makers are used', () => {
    const makers = new Set(catalogue.parts.map(({ maker }) => maker));
    expect(makers.size).toBeGreaterThanOrEqual(15);
    expect(parts.size).toBeGreaterThanOrEqual(180);
    const without = catalogue.makers.filter(({ id, makes }) => makes.includes('parts') && !makers.has(id));
    expect(without).toEqual([]);
  });

  test('has lines of two to six generations', () => {
    const generationOf = (id: string): number =>
      1 + Math.max(0, ...(devices.get(id)?.succeeds ?? []).map(generationOf));
    for (const { id } of catalogue.productLines) {
      const line = [...devices.values()].filter(({ productLine }) => productLine === id);
      const generations = Math.max(...line.map((device) => generationOf(device.id)));
      expect(generations, id).toBeGreaterThanOrEqual(2);
      expect(generations, id).toBeLessThanOrEqual(6);
    }
  });

  test('has fourteen rich dossiers', () => {
    expect(rich.length).toBeGreaterThanOrEqual(14);
    const sites = new Set(rich.map((one) => (typeof one.device === 'string' ? '' : one.device.bodySite)));
    expect(sites.size).toBeGreaterThanOrEqual(7);
  });

  test('has no dossier with fewer than six components or without connections', () => {
    for (const dossier of dossiers) {
      expect(dossier.components.length, specimenIdOf(dossier)).toBeGreaterThanOrEqual(6);
      expect(dossier.connections.length, specimenIdOf(dossier)).toBeGreaterThanOrEqual(6);
    }
  });

  test('rests every identification on an observation', () => {
    const bare = dossiers.flatMap((dossier) =>
      dossier.identifications.flatMap(({ component, basis }) =>
        basis.length === 0 ? [`${specimenIdOf(dossier)}/${component}`] : [],
      ),
    );
    expect(bare).toEqual([]);
  });

  test('has processors of 8, 16, 32 and 64 bit in its devices', () => {
    const widths = dossiers.flatMap((dossier) =>
      [...seenIn(dossier).values()].flatMap(({ identification, is }) => {
        const part = parts.get(identification?.candidates[0].part ?? '');
        return is('Processor') ? (figure(part, 'wordWidth', 'bit') ?? []) : [];
      }),
    );
    expect([8, 16, 32, 64].filter((width) => !widths.includes(width))).toEqual([]);
  });

  test('has published pieces of every kind, with a dozen claims', () => {
    const published = catalogue.publications.filter(({ visibility }) => visibility === 'published');
    expect(published.length).toBeGreaterThanOrEqual(5);
    expect(new Set(published.map(({ kind }) => kind)).size).toBe(4);
    expect(published.flatMap(({ claims }) => claims).length).toBeGreaterThanOrEqual(12);
  });

  test('gives every battery, regulator, emitter, display and motor the figures that design checks ask for', () => {
    const needed: readonly (readonly [string, readonly string[]])[] = [
      ['Battery', ['capacity', 'outputVoltage', 'internalResistance']],
      ['LinearRegulator', ['outputVoltage', 'dropoutVoltage']],
      ['BoostConverter', ['outputVoltage', 'efficiency']],
      ['BuckConverter', ['outputVoltage', 'efficiency']],
      ['Emitter', ['wavelength', 'forwardVoltage']],
      ['Display', ['powerFull', 'displayDiagonal']],
      ['HapticActuator', ['startCurrent', 'ratedVoltage']],
      ['PressureSensor', ['pressureRangeMin', 'pressureRangeMax', 'pressureResolution']],
      ['Accelerometer', ['accelerationRange', 'accelerationNoise', 'sampleRateMax']],
      ['Processor', ['wordWidth']],
    ];
    for (const part of catalogue.parts) {
      const [category] = part.categories;
      for (const [term, names] of needed) {
        if (!lineage(category).includes(term) || part.categories.includes('PowerManagement')) continue;
        const missing = names.filter((name) => !(name in part.parameters));
        expect(missing, `${partIdOf(part)} as ${term}`).toEqual([]);
      }
    }
  });
});

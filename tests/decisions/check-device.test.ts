import { beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { DEVICE_CHECKS, deviceChecks } from '../../src/decisions/check-device.ts';
import type { BoundCheck } from '../../src/decisions/check-inputs.ts';
import { mistakesOfBindings } from '../../src/design-checks/bound-names.ts';
import { FOLLOWS_LIT } from '../../src/design-checks/display-power.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { parseQuantity, type Quantity, valueIn } from '../../src/model/quantity.ts';
import type { State } from '../../src/state/state.ts';

let view: State;

beforeAll(async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(readFiles(['seed-data']).documents, { actor: 'test', reason: 'demo' });
  view = archive.state('desk');
});

function checksOf(id: string, only?: string, given?: Record<string, Quantity>): readonly BoundCheck[] {
  const [row] = view.specimensOf(id);
  const specimen = row && view.specimen(row.id);
  const device = view.device(id);
  if (!specimen || !device) throw new Error(`no ${id}`);
  return deviceChecks(specimen, device, (part) => view.part(part), only, given);
}

const given = (written: Record<string, string>) =>
  Object.fromEntries(Object.entries(written).map(([name, text]) => [name, parseQuantity(text)]));

test('schema/device-checks.yaml names existing checks and inputs, with fitting units', () => {
  expect(DEVICE_CHECKS.length).toBeGreaterThan(5);
  expect(DEVICE_CHECKS.flatMap((one) => mistakesOfBindings(one, new Set()))).toEqual([]);
});

describe('checks of a single device', () => {
  test('currents of a subsystem are those of its parts, added up, counted by a loop that knows no bindings', () => {
    const [shares] = checksOf('tarn-sennit-5', 'power-share');
    const specimen = view.specimen('tarn-sennit-5/a');
    let sum = 0;
    let probability = 1;
    for (const [id, weights] of specimen?.labels ?? []) {
      if (!['Sensor', 'AnalogueFrontEnd'].some((term) => (weights.get(term) ?? 0) > 0.5)) continue;
      const candidate = specimen?.identified.get(id)?.candidates[0];
      const current = view.part(candidate?.part ?? '')?.parameters.activeCurrent as Quantity | undefined;
      if (!current || !candidate) continue;
      sum += valueIn(current, 'mA');
      probability *= candidate.probability;
    }
    const input = shares.inputs.find(({ name }) => name === 'sensingCurrent');
    expect(input?.quantity?.value).toBeCloseTo(sum, 12);
    expect(input?.probability).toBeCloseTo(probability, 9);
    expect(input?.from).toMatch(/activeCurrent of 4 of 7 components known as Sensor, added up/u);
  });

  test('the share of power asks for the time of each load that the device has, and for no other', () => {
    const [band] = checksOf('tarn-sennit-5', 'power-share');
    expect(band.missing.map(({ name }) => name)).toContain('displayTime');
    const [clip] = checksOf('sallowby-lichen-1', 'power-share');
    expect(clip.missing.map(({ name }) => name)).not.toContain('displayTime');
    const times = given(Object.fromEntries(band.missing.map(({ name }) => [name, '1 %'])));
    const [whole] = checksOf('tarn-sennit-5', 'power-share', times);
    const values = whole.result?.values ?? {};
    const sum = Object.entries(values)
      .filter(([name]) => name.endsWith('Share'))
      .reduce((all, [, { value }]) => all + value, 0);
    expect(sum).toBeCloseTo(100, 9);
  });

  test('a display follows its lit elements by its technology', () => {
    for (const device of view.devices()) {
      const [display] = checksOf(device.id, 'display-power');
      const input = display?.inputs.find(({ name }) => name === 'followsLit');
      if (!input?.quantity) continue;
      const component = input.supportedBy[0].split('/')[2];
      const labels = view.specimen(view.specimensOf(device.id)[0].id)?.labels.get(component);
      const technologies = Object.keys(FOLLOWS_LIT).filter((term) => (labels?.get(term) ?? 0) > 0.5);
      expect(technologies.map((term) => FOLLOWS_LIT[term])).toContain(input.quantity.value);
    }
  });

  test('altitude: one pressure step of 0.232 Pa is 19.3 mm at sea level', () => {
    const [altitude] = checksOf('tarn-sennit-5', 'altitude-from-pressure');
    // -12.01315 Pa a metre at sea level (ISO 2533, reference file).
    expect(altitude.result?.values.altitudeResolution.value).toBeCloseTo(0.232 / 12.01315, 7);
    expect(checksOf('tarn-gnomon-1', 'altitude-from-pressure')).toEqual([]);
  });

  test('none has a problem, and all show cautions where cells are measured', () => {
    for (const device of view.devices()) {
      for (const { problem, check, cautions } of checksOf(device.id)) {
        expect([device.id, check, problem]).toEqual([device.id, check, undefined]);
        if (check === 'charge-rate') expect(cautions.join(' ')).toMatch(/pouch cell.*Disconnect chargers/u);
      }
    }
  });
});

import { describe, expect, test } from 'vitest';
import { parseCount, parseSides } from '../../src/classes/parse-measures.ts';
import { sightingOf } from '../../src/identification/sighting.ts';
import { observationSchema } from '../../src/model/dossier.ts';
import { parseQuantity } from '../../src/model/quantity.ts';
import { archiveOf } from '../service/serving.ts';

describe('a number of terminals', () => {
  test.each([
    ['Five.', 5],
    ['twelve', 12],
    ['Twenty-four.', 24],
    ['forty eight', 48],
    ['ninety-nine', 99],
    ['40', 40],
  ])('"%s" is read', (text, count) => {
    expect(parseCount({ text })).toBe(count);
  });
  test.each(['Ten a side.', 'Six pads, seen from the side.', 'a hundred', 'zero', '0', ''])(
    '"%s" counts nothing',
    (text) => {
      expect(parseCount({ text })).toBeUndefined();
    },
  );
  test('a value takes precedence over the text', () => {
    expect(parseCount({ value: parseQuantity('12'), text: 'Five.' })).toBe(12);
  });
});

describe('a body size', () => {
  test('gives both sides from text, the longer first', () => {
    expect(parseSides({ text: '3.0 x 2.5 mm' })).toEqual([3, 2.5]);
    expect(parseSides({ text: '2 mm × 2.5 mm.' })).toEqual([2.5, 2]);
  });
  test('a value is the longer side, in mm', () => {
    expect(parseSides({ value: parseQuantity('0.4 cm') })?.[0]).toBeCloseTo(4, 9);
  });
  test('other text gives none', () => {
    expect(parseSides({ text: 'Measured on the stage.' })).toBeUndefined();
    expect(parseSides({ text: '3 x 2' })).toBeUndefined();
    expect(parseSides({ value: parseQuantity('4 mm2') })).toBeUndefined();
    expect(parseSides({ value: parseQuantity('4') })).toBeUndefined();
  });
});

test('observations of size and terminals reach the sighting; both sides count before one', async () => {
  const archive = await archiveOf();
  const record = async (one: object) => {
    const observation = observationSchema.parse({ about: ['U10'], ...one });
    await archive.recordObservation('tarn-sennit-1/a', observation, { actor: 'A', reason: 'b' }, 'desk');
  };
  await record({ id: 's1', kind: 'body-size', text: '3.0 x 2.5 mm', on: '2026-01-01' });
  await record({ id: 's2', kind: 'body-size', value: '3.1 mm', on: '2026-01-15' });
  await record({ id: 's3', kind: 'pin-count', text: 'Fourteen.', on: '2026-02-01' });
  const opened = archive.state('desk').specimen('tarn-sennit-1/a');
  const device = archive.state('desk').device('tarn-sennit-1');
  const component = opened?.components.get('U10');
  if (!opened || !device || !component) throw new Error('the invented archive has changed');
  const sighting = sightingOf(opened, component, device);
  expect(sighting.body).toEqual([3, 2.5]);
  expect(sighting.pins).toBe(14);
});

import { expect, test } from 'vitest';
import { currentPayload } from '../../src/journal/payload/payload.ts';
import type { EntryKind } from '../../src/model/entry.ts';

// In version 3 a few terms of the taxonomy, buses and functions of pins had other names: what journals of then say is read with
// those of now, and nothing that only looks like one of them is touched.

const now = (kind: EntryKind, payload: unknown) => currentPayload(kind, payload, 3);

test('terms, buses and functions of pins in a dossier', () => {
  const older = {
    components: [
      { id: 'U1', appears: 'AnalogFrontEnd', note: 'AnalogFrontEnd', marking: 'analog' },
      {
        id: 'U2',
        pins: [{ number: '1', function: 'analog-input' }],
        contents: [{ appears: 'LightBarrier' }],
      },
    ],
    nets: [{ id: 'analog', name: 'AnalogSwitch', bus: 'analog' }],
    identifications: [{ component: 'U1', candidates: [{ category: 'DigitalToAnalogConverter' }] }],
    observations: [{ id: 'o', text: 'AddressableLamp' }],
  };
  expect(now('dossier-put', older)).toEqual({
    components: [
      { id: 'U1', appears: 'AnalogueFrontEnd', note: 'AnalogFrontEnd', marking: 'analog' },
      {
        id: 'U2',
        pins: [{ number: '1', function: 'analogue-input' }],
        contents: [{ appears: 'OpticalBarrier' }],
      },
    ],
    nets: [{ id: 'analog', name: 'AnalogSwitch', bus: 'analogue' }],
    identifications: [{ component: 'U1', candidates: [{ category: 'DigitalToAnalogueConverter' }] }],
    observations: [{ id: 'o', text: 'AddressableLamp' }],
  });
});

test('texts of patterns and questions of feeds, where a name stands as a word', () => {
  const pattern = {
    collection: 'patterns',
    record: {
      idea: 'An AnalogSwitch.',
      text: "MATCH (a:AnalogSwitch|AnalogSwitching) WHERE a.note <> 'x' RETURN a",
      check: { inputs: { noise: 'AnalogFrontEnd.noise ?? 2 uV' } },
    },
  };
  expect(now('record-put', pattern)).toEqual({
    collection: 'patterns',
    record: {
      idea: 'An AnalogSwitch.',
      text: "MATCH (a:AnalogueSwitch|AnalogSwitching) WHERE a.note <> 'x' RETURN a",
      check: { inputs: { noise: 'AnalogueFrontEnd.noise ?? 2 uV' } },
    },
  });
  const feed = {
    collection: 'feeds',
    record: {
      title: 'NOT_PRESENT',
      question: 'query ($c: String) { devices(filter: { holdsCategory: $c }) { nodes { id } } }',
      variables: { c: 'LightBarrier', other: ['AnalogFrontEnd', 'heldBys'] },
    },
  };
  expect(now('record-put', feed)).toEqual({
    collection: 'feeds',
    record: {
      title: 'NOT_PRESENT',
      question: 'query ($c: String) { devices(filter: { hasCategory: $c }) { nodes { id } } }',
      variables: { c: 'OpticalBarrier', other: ['AnalogueFrontEnd', 'heldBys'] },
    },
  });
});

test('what a correction says that a field is', () => {
  const correction = (field: string, is: unknown) => ({
    id: 'c',
    amendment: { value: { of: 'x', field, is } },
  });
  const is = (field: string, value: unknown) =>
    (now('correction-made', correction(field, value)) as ReturnType<typeof correction>).amendment.value.is;
  expect(is('categories', ['AnalogSwitch', 'Radio'])).toEqual(['AnalogueSwitch', 'Radio']);
  expect(is('categories.0', 'AnalogSwitch')).toBe('AnalogueSwitch');
  expect(is('bus', 'analog')).toBe('analogue');
  expect(is('pinout.3', { number: '4', function: 'analog-output' })).toEqual({
    number: '4',
    function: 'analogue-output',
  });
  expect(is('note', 'analog')).toBe('analog');
});

test('what has none of the names comes back as it is', () => {
  const payload = { components: [{ id: 'U1', appears: 'Radio' }], nets: [{ id: 'n', bus: 'I2C' }] };
  expect(now('dossier-put', payload)).toBe(payload);
});

import { expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { devicePresence } from '../../src/presence/presence.ts';
import { findPattern } from '../../src/questions/patterns.ts';
import { DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

// What a chip may be that nobody could name does not change when its dossier is published: the odds go by published dossiers, and by the one
// itself as they will when it is.

const NAMED = (component: string, category: string, probability = 1) => ({
  component,
  candidates: [{ category, probability }],
  state: 'favoured' as const,
  by: 'bench',
  on: '2026-01-01',
  basis: [],
});

/** W letters, which no table knows: what they stand for follows from dossiers alone. */
function dossier(
  visibility: 'draft' | 'published',
  device: typeof DEVICE | object,
  category: string,
): Change {
  return dossierChange({
    device,
    visibility,
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: ['W1', 'W2', 'W3'].map((id) => ({ id, board: 'main' })),
    connections: [
      { between: ['W1', 'W2'], medium: 'trace', bus: 'SPI' },
      { between: ['W1', 'W3'], medium: 'trace' },
    ],
    identifications: [
      NAMED('W1', 'Microcontroller'),
      NAMED('W2', category),
      NAMED('W3', 'Accelerometer', 0.36),
    ],
  } as never);
}

const stateOf = (visibility: 'draft' | 'published', others: number) => {
  const more = Array.from({ length: others }, (_, at) =>
    dossier('published', { ...DEVICE, id: `other-${at}`, name: `Other ${at}` }, 'PressureSensor'),
  );
  return liveOf([...SMALL_CATALOGUE, ...more, dossier(visibility, DEVICE, 'Gyroscope')]).state(
    'desk',
    '2026-06-01T00:00:00Z',
  );
};

test.each([0, 1, 7])(
  'a draft has the odds that it has when it is published, beside %i others',
  async (others) => {
    const answers = [];
    for (const visibility of ['draft', 'published'] as const) {
      const state = stateOf(visibility, others);
      const { devices } = await findPattern(state, { text: "MATCH (x:Sensor {designator: 'W3'}) RETURN x" });
      const opened = state.specimen(`${DEVICE.id}/a`);
      answers.push([
        devices.find(({ deviceId }) => deviceId === DEVICE.id)?.probability,
        [...(opened?.spreads.get('W3') ?? [])],
        devicePresence(state, DEVICE.id, 'Sensor').expected,
      ]);
    }
    expect(answers[0]).toEqual(answers[1]);
    // It is not for nothing that they agree: something is guessed.
    expect(answers[0][0]).toBeGreaterThan(0.4);
  },
);

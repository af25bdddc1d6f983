import { describe, expect, test } from 'vitest';
import { REFERENCE_BOARDS, referenceBoard, referenceChanges, referenceDeviceId } from './reference-boards.ts';
import { liveOf } from './state/archive-of.ts';

describe('the reference boards as dossiers', () => {
  const state = liveOf(referenceChanges()).state('desk', '2026-06-01T00:00:00Z');
  for (const name of REFERENCE_BOARDS) {
    test(`${name} has every component and every joined pin of its file`, () => {
      const file = referenceBoard(name);
      const specimen = state.specimen(`${referenceDeviceId(name)}/a`);
      expect(specimen?.components.size).toBe(file.components.length);
      const open = new Set(file.nets.filter(({ kind }) => kind === 'unconnected').map(({ id }) => id));
      const pins = file.components.flatMap((one) => one.pins).filter(({ net }) => !open.has(net));
      const nets = specimen?.dossier.nets ?? [];
      expect(nets.reduce((sum, net) => sum + net.pins.length, 0)).toBe(pins.length);
      expect(specimen?.dossier.connections).toHaveLength(file.mates.length);
      for (const { id } of specimen?.fitted ?? []) expect(specimen?.named.get(id)?.size).toBeGreaterThan(0);
    });
  }
});

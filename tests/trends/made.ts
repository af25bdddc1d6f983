import type { z } from 'zod';
import type { candidateSchema, deviceSchema } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import type { Holder } from '../../src/state/holder.ts';
import type { State } from '../../src/state/state.ts';
import type { Audience } from '../../src/state/visibility/audience.ts';
import { catalogueChanges, dossierChange, liveOf } from '../state/archive-of.ts';

/** What a chip may be, as a dossier has it. */
export type Candidates = z.input<typeof candidateSchema>[];

/** An invented device written in short, with the candidates of each of its chips. */
export interface Made {
  readonly id: string;
  readonly released: string;
  readonly chips?: readonly Candidates[];
  readonly visibility?: 'published' | 'draft';
  readonly more?: Partial<z.input<typeof deviceSchema>>;
}

const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'] },
    { id: 'nolvey', name: 'Nolvey', makes: ['devices'] },
    { id: 'quistle', name: 'Quistle', makes: ['parts'] },
  ],
  parts: [
    { number: 'P1', maker: 'quistle', categories: ['Battery'], parameters: { capacity: '0.1 A.h' } },
    { number: 'P2', maker: 'quistle', categories: ['Battery'], parameters: { capacity: '300 mAh' } },
    { number: 'P3', maker: 'quistle', categories: ['Battery'] },
  ],
  patterns: [
    {
      id: 'hears',
      name: 'It hears',
      idea: 'The device listens.',
      text: 'MATCH (x:Microphone) RETURN x',
      reasons: ['To be spoken to.'],
      strength: 0.5,
    },
  ],
});

/** A chip of a category for certain, or with a probability. */
export function chip(category: string, probability = 1): Candidates {
  return [{ category, probability }];
}

/** Equal devices, numbered. */
export function many(
  count: number,
  one: Omit<Made, 'id'>,
  name = `${one.released}-${one.chips?.length ?? 0}`,
) {
  return Array.from({ length: count }, (_, at): Made => ({ ...one, id: `d-${name}-${at}` }));
}

export function dossiersOf(devices: readonly Made[]): Change[] {
  return devices.map(({ id, released, chips = [], visibility = 'published', more }) =>
    dossierChange({
      visibility,
      device: { id, name: id, maker: 'tarn', released, bodySite: 'wrist', ...more },
      specimen: { id: 'a' },
      boards: [{ id: 'main', kind: 'rigid', fullyInventoried: true }],
      components: [
        // Something plain, so that somebody has looked into every device.
        { id: 'R1', appears: 'Resistor', board: 'main' },
        ...chips.map((_, at) => ({ id: `U${at + 1}`, board: 'main' })),
      ],
      identifications: chips.map((candidates, at) => ({ component: `U${at + 1}`, candidates })),
    }),
  );
}

export function liveWith(devices: readonly Made[], more: readonly Change[] = []): Holder {
  return liveOf([...CATALOGUE, ...dossiersOf(devices), ...more]);
}

/** An archive of these devices as an audience sees it. */
export function viewOf(devices: readonly Made[], audience: Audience = 'reader'): State {
  return seen(liveWith(devices), audience);
}

export function seen(live: Holder, audience: Audience = 'reader'): State {
  return live.state(audience, '2026-06-01T00:00:00.000Z');
}

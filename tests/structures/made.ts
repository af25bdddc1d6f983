import type { z } from 'zod';
import type { patternSchema } from '../../src/model/catalogue.ts';
import type { Change } from '../../src/model/entry.ts';
import type { connectionSchema } from '../../src/model/net.ts';
import type { Holder } from '../../src/state/holder.ts';
import type { State } from '../../src/state/state.ts';
import type { Audience } from '../../src/state/visibility/audience.ts';
import { catalogueChanges, dossierChange, liveOf } from '../state/archive-of.ts';

/** What a component is for certain, or its rival kinds with their probabilities. */
export type Kind = string | Readonly<Record<string, number>>;
export type Joined = Omit<z.input<typeof connectionSchema>, 'between'> & {
  readonly between: readonly [number, number];
};

/** An invented device in short: components by place, and what joins them. */
export interface Made {
  readonly id: string;
  readonly released?: string;
  readonly components: readonly Kind[];
  /** Board of each component, where boards matter. */
  readonly boards?: readonly (string | undefined)[];
  readonly joined: readonly Joined[];
  /** Nets by the places of what they join; pins are not known. */
  readonly nets?: readonly {
    readonly kind: 'power' | 'signal';
    readonly bus?: Joined['bus'];
    readonly members: readonly number[];
  }[];
  readonly visibility?: 'published' | 'draft';
  /** Local id of the specimen. @default 'a' */
  readonly specimen?: string;
  /** Set for a further specimen of a device that another dossier describes. */
  readonly further?: boolean;
}

/** A connection by I2C, power or what else is said. */
export function by(bus: Joined['bus'], a: number, b: number, medium: Joined['medium'] = 'trace'): Joined {
  return { between: [a, b], medium, ...(bus ? { bus } : {}) };
}

const MAKERS = catalogueChanges({ makers: [{ id: 'tarn', name: 'Tarn', makes: ['devices', 'parts'] }] });

export function changesOf(devices: readonly Made[]): Change[] {
  return devices.map((one) =>
    dossierChange({
      visibility: one.visibility ?? 'published',
      device: one.further
        ? one.id
        : { id: one.id, name: one.id, maker: 'tarn', released: one.released ?? '2020', bodySite: 'wrist' },
      specimen: { id: one.specimen ?? 'a' },
      boards: [...new Set((one.boards ?? []).flatMap((board) => board ?? []))].map((id) => ({
        id,
        kind: 'rigid' as const,
      })),
      components: one.components.map((kind, at) => ({
        id: `U${at + 1}`,
        ...(typeof kind === 'string' ? { appears: kind } : {}),
        ...(one.boards?.[at] ? { board: one.boards[at] } : {}),
      })),
      connections: one.joined.map(({ between: [a, b], ...rest }) => ({
        ...rest,
        between: [`U${a + 1}`, `U${b + 1}`] as [string, string],
      })),
      ...(one.nets
        ? {
            nets: one.nets.map(({ kind, bus, members }, at) => ({
              id: `net-${at + 1}`,
              kind,
              ...(bus ? { bus } : {}),
              pins: members.map((member) => `U${member + 1}`),
            })),
          }
        : {}),
      identifications: one.components.flatMap((kind, at) =>
        typeof kind === 'string'
          ? []
          : [
              {
                component: `U${at + 1}`,
                candidates: Object.entries(kind).map(([category, probability]) => ({
                  category,
                  probability,
                })),
              },
            ],
      ),
    }),
  );
}

export function liveWith(
  devices: readonly Made[],
  patterns: readonly z.input<typeof patternSchema>[] = [],
): Holder {
  return liveOf([...MAKERS, ...catalogueChanges({ patterns: [...patterns] }), ...changesOf(devices)]);
}

export function seen(live: Holder, audience: Audience = 'reader'): State {
  return live.state(audience, '2026-06-01T00:00:00.000Z');
}

export function viewOf(
  devices: readonly Made[],
  patterns: readonly z.input<typeof patternSchema>[] = [],
): State {
  return seen(liveWith(devices, patterns));
}

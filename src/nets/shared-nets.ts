import type { Net } from '../model/net.ts';
import type { Role } from './roles.ts';
import type { Wiring } from './wiring.ts';

/** Two components that a signal net joins. */
export interface SharedNet {
  readonly ends: readonly [string, string];
  /** Nets that join them. */
  readonly lines: number;
  /** Bus of one of them, where known. */
  readonly bus: Net['bus'];
  /** Label of the first of them that has one. */
  readonly net: string | undefined;
}

/** Members of a net, up to which each is joined with each. */
const MOST_PAIRED = 24;

/**
 * Components that signal nets join, passives included; rails and ground join nothing. On a net of more than 24 components each is
 * joined with its first 24 chips and connectors alone, so that edges stay linear in pins.
 */
export function sharedNetsOf({ conductors }: Wiring): readonly SharedNet[] {
  const shared = new Map<string, SharedNet>();
  for (const { kind, label, bus, lines, members } of conductors) {
    if (kind !== 'signal') continue;
    const roles = [...new Set(members.map(({ role }) => role))].filter((role) => !role.isIgnored);
    const hubs =
      roles.length <= MOST_PAIRED
        ? roles
        : roles.filter((role) => role.isActive || role.isConnector).slice(0, MOST_PAIRED);
    const paired = new Set<Role>();
    for (const hub of hubs) {
      paired.add(hub);
      for (const role of roles) {
        if (paired.has(role)) continue;
        const [a, b] = [hub.id, role.id].sort();
        const key = `${a} ${b}`;
        const before = shared.get(key);
        shared.set(key, {
          ends: [a, b],
          lines: (before?.lines ?? 0) + lines,
          bus: before?.bus ?? bus,
          net: before?.net ?? label,
        });
      }
    }
  }
  return [...shared.values()];
}

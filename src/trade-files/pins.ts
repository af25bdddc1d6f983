import { designatorOf } from '../model/designator.ts';
import type { Component } from '../model/dossier.ts';
import { componentId, componentMeant, pinId } from '../model/ids.ts';
import type { Pin } from '../model/net.ts';
import type { DesignPin } from './board-design.ts';

// Pins as a dossier writes them.

/** The component that a reference means, found without going through all of them. */
export type ComponentLookup = (reference: string) => Component | undefined;

/** Looks components up as `componentMeant` does, by their designators first. */
export function componentLookup(components: readonly Component[]): ComponentLookup {
  const alike = Map.groupBy(components, ({ id }) => designatorOf(id));
  return (reference) => componentMeant(alike.get(designatorOf(reference)) ?? [], reference);
}

/** Pins with a name or a telling direction; two bare numbers say no more than their count. */
export function pinoutOf(pins: readonly DesignPin[]): readonly Pin[] {
  const telling = pins.some(
    ({ name, direction }) => name !== undefined || (direction !== undefined && direction !== 'passive'),
  );
  if (!telling) return [];
  const seen = new Set<string>();
  return pins.flatMap(({ number, name, direction }): readonly Pin[] => {
    const key = pinLabel(number ?? name ?? '');
    if (key === '' || seen.has(key)) return [];
    seen.add(key);
    return [
      {
        ...(number === undefined ? {} : { number: pinLabel(number) }),
        ...(name === undefined || pinLabel(name) === '' ? {} : { name: pinLabel(name) }),
        ...(direction === undefined ? {} : { direction }),
      },
    ];
  });
}

/** A pin's number or name as a dossier writes it: no blanks, no colons, 40 characters. */
export function pinLabel(written: string): string {
  return written.trim().replace(/\s+/gu, '_').replace(/:/gu, '/').slice(0, 40);
}

/** `main:U3.4` for a pin of a board. */
export function pinReference(board: string, designator: string, pin: string): string {
  return pinId(componentId(board, designator), pinLabel(pin));
}

/** How many pins of a component are joined to something: it has at least so many terminals. */
export function joinedPins(pins: readonly DesignPin[]): number {
  return new Set(pins.flatMap(({ number, name, net }) => (net === undefined ? [] : (number ?? name ?? []))))
    .size;
}

/**
 * Terminals of a component by the pins of its footprint; 0 where their numbers leave some out, so that the count would be wrong.
 */
export function terminalsOf(pins: readonly DesignPin[]): number {
  const labels = new Set(pins.map(({ number, name }) => number ?? name));
  let highest = 0;
  for (const label of labels) if (/^\d{1,4}$/u.test(label ?? '')) highest = Math.max(highest, Number(label));
  return highest > labels.size ? 0 : labels.size;
}

import { type Part, partIdOf } from '../../src/model/catalogue.ts';
import { parseDesignator } from '../../src/model/designator.ts';
import { type Component, type Dossier, dossierSchema, type Identification } from '../../src/model/dossier.ts';
import { pinId, pinOf } from '../../src/model/ids.ts';
import type { Random } from '../../src/statistics/random.ts';

/** A device made from another one by changes that are known. */
export interface Remade {
  readonly dossier: Dossier;
  /** For each designator of the first device that of its counterpart; what was taken out is left out. */
  readonly counterparts: ReadonlyMap<string, string>;
}

/** How often a component is taken out, put in, replaced, moved, or a connection or a pin led elsewhere. */
const CHANCE = { takenOut: 0.12, putIn: 0.12, replaced: 0.2, moved: 0.12, rewired: 0.15 } as const;

/**
 * The next generation of a device, drawn at random: every designator and board has another name, places shift, and some
 * components are taken out, put in (from `donor`), replaced by a part of the same category, moved or connected otherwise.
 */
export function remade(
  dossier: Dossier,
  donor: Dossier,
  parts: readonly Part[],
  id: string,
  random: Random,
): Remade {
  const kept = dossier.components.filter(() => !random.chance(CHANCE.takenOut));
  const put = donor.components.filter(() => random.chance(CHANCE.putIn));
  const sources = random.shuffled([
    ...kept.map((component) => ({ component, from: dossier })),
    ...put.map((component) => ({ component, from: donor })),
  ]);
  const numbers = new Map<string, number>();
  const named = sources.map(({ component, from }) => {
    const letters = parseDesignator(component.id)?.letters ?? 'U';
    const number = (numbers.get(letters) ?? 0) + 1;
    numbers.set(letters, number);
    return { component, from, id: `${letters}${number}` };
  });
  const nameOf = new Map(named.flatMap((one) => (one.from === dossier ? [[one.component.id, one.id]] : [])));
  const boardOf = (board: string) => `again-${board}`;
  const components = named.map((one) => placed(one.component, one.id, one.from === dossier));
  const ids = components.map((one) => one.id);
  const renamed = (end: string) =>
    nameOf.get(end) ?? (dossier.boards.some((one) => one.id === end) ? boardOf(end) : undefined);
  const connections = dossier.connections.flatMap(({ between: [a, b], medium, bus }) => {
    const ends = [renamed(a), random.chance(CHANCE.rewired) ? random.pick(ids) : renamed(b)];
    const [first, second] = ends;
    if (first === undefined || second === undefined || first === second) return [];
    return [{ between: [first, second] as [string, string], medium, ...(bus ? { bus } : {}) }];
  });
  const added = named.flatMap((one) => {
    const other = random.pick(ids);
    return one.from === dossier || other === one.id
      ? []
      : [{ between: [one.id, other] as [string, string], medium: 'trace' as const }];
  });
  const nets = rewired();
  return {
    dossier: dossierSchema.parse({
      caseback: 'dossier/1',
      device: { id, name: id, maker: 'tarn', released: '2030', bodySite: 'wrist', invented: true },
      specimen: { id: 'a' },
      teardown: { on: '2030', by: 'I. Example' },
      boards: dossier.boards.map(({ id: board, kind, outline }) => ({
        id: boardOf(board),
        kind,
        ...(outline ? { outline } : {}),
      })),
      subsystems: dossier.subsystems.map(({ id: subsystem, kind }) => ({ id: subsystem, kind })),
      components,
      connections: [...connections, ...added],
      ...(nets ? { nets } : {}),
      identifications: named.flatMap((one) => identified(one.component.id, one.from, one.id)),
    }),
    counterparts: nameOf,
  };

  /** Its nets with the pins that are left, some of them on another net, and what was put in on any. */
  function rewired() {
    if (!dossier.nets) return undefined;
    const pinsOf = dossier.nets.map((): string[] => []);
    dossier.nets.forEach(({ pins }, at) => {
      for (const reference of pins) {
        const { component, pin } = pinOf(reference);
        const now = nameOf.get(component);
        if (now === undefined) continue;
        const on = random.chance(CHANCE.rewired) ? random.pick(pinsOf) : pinsOf[at];
        on.push(pin === undefined ? now : pinId(now, pin));
      }
    });
    for (const one of named) if (one.from !== dossier) random.pick(pinsOf).push(one.id);
    return dossier.nets.flatMap(({ basis: _, ...net }, at) =>
      pinsOf[at].length === 0 ? [] : [{ ...net, pins: [...new Set(pinsOf[at])] }],
    );
  }

  function placed(
    { board, side, at, body, package: shape, pins, pinout, value, fitted, appears, subsystem }: Component,
    name: string,
    own: boolean,
  ) {
    const moved = random.chance(CHANCE.moved);
    const boards = dossier.boards.map((one) => one.id);
    const on =
      board === undefined || boards.length === 0 ? undefined : own && !moved ? board : random.pick(boards);
    const shifted = at && { x: at.x + random.normal(0, 2), y: at.y + random.normal(0, 2) };
    return {
      id: name,
      ...(on === undefined
        ? {}
        : { board: boardOf(on), ...(side ? { side } : {}), ...(shifted ? { at: shifted } : {}) }),
      ...(body ? { body } : {}),
      ...(shape ? { package: shape } : {}),
      ...(pins ? { pins } : {}),
      ...(pinout ? { pinout } : {}),
      ...(value === undefined ? {} : { value }),
      ...(fitted === false ? { fitted } : {}),
      ...(appears ? { appears } : {}),
      ...(own && subsystem !== undefined ? { subsystem } : {}),
    };
  }

  function identified(designator: string, from: Dossier, name: string): object[] {
    const found = from.identifications.findLast((one: Identification) => one.component === designator);
    if (!found) return [];
    const replace = from === dossier && random.chance(CHANCE.replaced);
    const candidates = found.candidates.map((candidate) => {
      const category = parts.find((part) => partIdOf(part) === candidate.part)?.categories[0];
      const others = parts.filter(
        (part) => category !== undefined && part.categories.includes(category as never),
      );
      return replace && others.length > 0
        ? { part: partIdOf(random.pick(others)), probability: candidate.probability }
        : candidate;
    });
    return [{ component: name, candidates, state: found.state === 'withdrawn' ? 'proposed' : found.state }];
  }
}

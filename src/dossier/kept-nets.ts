import { type Dossier, specimenIdOf } from '../model/dossier.ts';
import { componentMeant, pinOf } from '../model/ids.ts';
import { isImportProposal } from '../model/import-proposal.ts';
import type { Held } from './check/context.ts';
import { withRecordedIds } from './component-ids.ts';
import type { KeptNets } from './document/document.ts';

/** A dossier that is filed again, with the nets of the archive that it says nothing of. */
export interface Refiled {
  readonly dossier: Dossier;
  /** The dossier as it stands in the archive. */
  readonly before: Dossier;
  /** What was kept; undefined for nothing. */
  readonly kept?: KeptNets;
}

/**
 * What becomes of a dossier that is filed again: one without a list of nets says nothing of them, so that those on record stay, with the
 * components that they join and what an import proposed of these. A list, be it an empty one, is taken as it is. Local ids become those of the
 * archive.
 * @returns undefined for a specimen that the archive does not have
 */
export function refiled(filed: Dossier, held: Held): Refiled | undefined {
  const specimen = specimenIdOf(filed);
  const before = held.dossierAsFiled?.(specimen);
  if (!before) return undefined;
  const dossier = withRecordedIds(filed, held.dossierNow(specimen));
  if (dossier.nets !== undefined || !before.nets || before.nets.length === 0) return { dossier, before };
  const has = new Set(dossier.components.map(({ id }) => id));
  const joined = new Set(
    before.nets.flatMap(({ pins }) =>
      pins.flatMap((pin) => componentMeant(before.components, pinOf(pin).component)?.id ?? []),
    ),
  );
  const components = before.components.filter(({ id }) => joined.has(id) && !has.has(id));
  const boards = new Set([...dossier.boards.map(({ id }) => id)]);
  const identified = new Set(dossier.identifications.map(({ component }) => component));
  const added = new Set(components.map(({ id }) => id));
  return {
    dossier: {
      ...dossier,
      boards: [
        ...dossier.boards,
        ...before.boards.filter(({ id }) => !boards.has(id) && components.some(({ board }) => board === id)),
      ],
      components: [...dossier.components, ...components.map((one) => withoutDropped(one, has, added))],
      nets: before.nets,
      identifications: [
        ...dossier.identifications,
        ...before.identifications.filter(
          (one) =>
            !identified.has(one.component) &&
            (added.has(one.component) || (has.has(one.component) && isImportProposal(one))),
        ),
      ],
    },
    before,
    kept: { nets: before.nets.length, components: [...added] },
  };
}

/** A component without the module that held it, where that is gone. */
function withoutDropped(
  component: Dossier['components'][number],
  ...there: readonly ReadonlySet<string>[]
): Dossier['components'][number] {
  const { inside, ...rest } = component;
  return inside === undefined || there.some((ids) => ids.has(inside)) ? component : rest;
}

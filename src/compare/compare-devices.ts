import { TERMS } from '../model/taxonomy.ts';
import type { State } from '../state/state.ts';
import { countKind, countKinds, countSubsystems, type KindCount } from './counts.ts';
import { type Compared, comparedOf } from './representative.ts';

/** One line of a comparison table: a kind of component, and its count in each device, in the order asked. */
export interface KindRow {
  readonly kind: string;
  readonly meaning: string;
  readonly counts: readonly KindCount[];
}

export interface SubsystemRow {
  readonly kind: string;
  /** Components in the subsystem, a device each; null where the dossier names no such subsystem. */
  readonly components: readonly (number | null)[];
}

export interface Comparison {
  readonly columns: readonly Compared[];
  readonly sensors: readonly KindRow[];
  readonly processors: readonly KindRow[];
  readonly subsystems: readonly SubsystemRow[];
}

/**
 * Counts side by side for two or more devices (or specimens), in the order asked.
 * @throws CasebackError NOT_FOUND when nothing visible has one of the ids
 */
export function compareDevices(state: State, ids: readonly string[]): Comparison {
  return compareColumns(ids.map((id) => comparedOf(state, id)));
}

/** As {@link compareDevices}, for columns already looked up. */
export function compareColumns(columns: readonly Compared[]): Comparison {
  return {
    columns,
    sensors: kindRows(columns, 'Sensor'),
    processors: kindRows(columns, 'Processor'),
    subsystems: subsystemRows(columns),
  };
}

function kindRows(columns: readonly Compared[], above: string): KindRow[] {
  const kinds = new Set(
    columns.flatMap(({ specimen }) => countKinds(specimen, above).map(({ kind }) => kind)),
  );
  return TERMS.filter((term) => kinds.has(term)).map((kind) => {
    const counts = columns.map(({ specimen }) => countKind(specimen, kind));
    return { kind, meaning: counts[0].meaning, counts };
  });
}

function subsystemRows(columns: readonly Compared[]): SubsystemRow[] {
  const tables = columns.map(
    ({ specimen }) => new Map(countSubsystems(specimen).map(({ kind, components }) => [kind, components])),
  );
  const kinds = [...new Set(tables.flatMap((table) => [...table.keys()]))].sort();
  return kinds.map((kind) => ({ kind, components: tables.map((table) => table.get(kind) ?? null) }));
}

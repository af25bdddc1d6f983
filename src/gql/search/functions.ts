/**
 * Extension functions: an application writes a module that exports `functions`, and names it in
 * the options of a query. A module, and not a function, since worker threads need it too.
 */
import {
  type FunctionDefinition,
  type FunctionTable,
  withFunctions,
} from '../expression/functions/define.ts';
import { STANDARD_FUNCTIONS } from '../expression/functions/standard.ts';
import type { Expressions } from '../plan/compiled.ts';
import { expressionsFor } from '../plan/expressions.ts';
import { TRUE, UNKNOWN } from '../plan/label-test.ts';
import type { Store } from '../storage/store.ts';
import type { QuerySettings } from './request.ts';

const loaded = new Map<string, FunctionTable>();

/** Loads a module of functions. Throws when it has no export `functions`, or one is not well formed. */
export async function loadFunctions(module: string): Promise<FunctionTable> {
  let table = loaded.get(module);
  if (!table) {
    const { functions } = (await import(module)) as { functions?: readonly FunctionDefinition[] };
    if (!Array.isArray(functions)) throw new Error(`The module ${module} exports no list "functions"`);
    table = withFunctions(STANDARD_FUNCTIONS, functions);
    loaded.set(module, table);
  }
  return table;
}

/** The same with functions that the caller has loaded, at once. @param module the address by which queries name them */
export function addFunctions(module: string, functions: readonly FunctionDefinition[]): void {
  if (!loaded.has(module)) loaded.set(module, withFunctions(STANDARD_FUNCTIONS, functions));
}

/** The functions that a query may call. */
export function functionsOf(module: string | undefined): FunctionTable {
  if (module === undefined) return STANDARD_FUNCTIONS;
  const table = loaded.get(module);
  if (!table) throw new Error(`Call loadFunctions with ${module} before a query that names it`);
  return table;
}

export function expressionsOf(store: Store, query: QuerySettings): Expressions {
  return expressionsFor(store, {
    functions: functionsOf(query.functions),
    parameters: query.parameters,
    now: query.now,
    leastTruth: query.labels === 'certain' ? TRUE : UNKNOWN,
  });
}

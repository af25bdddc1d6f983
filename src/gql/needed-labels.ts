/**
 * Labels that a pattern needs to match at all: checked before planning, since most patterns of a library do not match a
 * small graph.
 */
import { LRUCache } from 'lru-cache';
import type { PatternGraph } from './graph.ts';
import type { Compiled } from './plan/compiled.ts';
import { FALSE, type LabelTest, labelSetTruths } from './plan/label-test.ts';

/** Label expressions of the nodes that every match of a text binds, by text. */
const known = new LRUCache<string, readonly LabelTest[]>({ max: 500 });

function nameOf(text: string, relaxation: number | undefined): string {
  return `${relaxation ?? ''} ${text}`;
}

/** Remembers what a compiled text needs. */
export function noteLabels(text: string, relaxation: number | undefined, { clauses }: Compiled): void {
  const name = nameOf(text, relaxation);
  if (known.has(name)) return;
  const tests = clauses.flatMap((clause) =>
    clause.kind === 'match' ? clause.match.pattern.nodes.flatMap(({ label }) => label ?? []) : [],
  );
  known.set(name, tests);
}

/** Whether some node that every match binds is certainly not in the graph. */
export function lacksLabel(graph: PatternGraph, text: string, relaxation: number | undefined): boolean {
  const tests = known.get(nameOf(text, relaxation));
  if (!tests) return false;
  const { index, store } = graph;
  return tests.some((test) =>
    labelSetTruths(test, store.catalog).every((truth, set) => truth === FALSE || !index.nodes[set]?.size),
  );
}

import { readFileSync } from 'node:fs';
import { type LabelledGraph, labelledGraph } from '../../../src/compare/similar/labelled-graph.ts';

/** The reference boards, by file; their sources and licences stand in the files and in the README beside them. */
export const BOARDS = ['optical-pulse-unit', 'wrist-band', 'wrist-three-boards'] as const;

/** A reference board as its file has it. */
export interface ReferenceBoard {
  readonly components: readonly {
    readonly board: string;
    readonly designator: string;
    readonly terms: readonly string[];
    readonly fitted: boolean;
    readonly pins: readonly { readonly pin: string; readonly name: string | null; readonly net: string }[];
  }[];
  readonly nets: readonly { readonly id: string; readonly kind: string }[];
}

export function referenceBoard(name: (typeof BOARDS)[number]): ReferenceBoard {
  return JSON.parse(readFileSync(new URL(`./${name}.json`, import.meta.url), 'utf8'));
}

/** Fitted components, joined where they share a signal net of at most `most` of them: read straight from the file. */
export function signalGraph(name: (typeof BOARDS)[number], most = 8): LabelledGraph {
  const { components, nets } = referenceBoard(name);
  const taken = components.filter(({ fitted, pins }) => fitted && pins.length > 0);
  const edges = nets.flatMap(({ id, kind }) => {
    const on = taken.flatMap(({ pins }, at) => (pins.some(({ net }) => net === id) ? [at] : []));
    if (kind !== 'signal' || on.length > most) return [];
    return on.flatMap((a, at) => on.slice(at + 1).map((b) => [a, b] as const));
  });
  return labelledGraph(
    taken.map(({ terms }) => terms.at(-1) ?? 'not named'),
    edges,
  );
}

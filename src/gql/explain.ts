/**
 * The plan of a query with estimated and real counts, as data and as text.
 */
import { begin } from './engine.ts';
import type { PatternGraph } from './graph.ts';
import type { Problem } from './language/problem.ts';
import type { QueryOptions } from './options.ts';
import type { Match } from './plan/match.ts';
import type { Pattern } from './plan/pattern.ts';
import { type PlannedMatch, type PlannedPart, patternOfPart } from './plan/plan-match.ts';
import type { Step } from './plan/step.ts';
import type { PreparedPattern } from './prepared-pattern.ts';
import type { Shortage } from './search/stage.ts';

export interface ExplainedStep {
  /** Description, with the variables of the text. */
  readonly text: string;
  readonly kind: Step['kind'] | 'repeat' | 'candidates';
  /** Segments to examine, for scans. */
  readonly segments: number | undefined;
  /** Bindings expected after the step. */
  readonly estimated: number | undefined;
  /** Bindings found; undefined where they are not counted. */
  readonly real: number | undefined;
}

export interface Explanation {
  /** Per MATCH in the order of the text, those inside EXISTS last. */
  readonly matches: readonly { readonly steps: readonly ExplainedStep[] }[];
  readonly count: number;
  /** Milliseconds. */
  readonly time: number;
  readonly where: 'here' | 'workers';
  readonly shortage: Shortage | undefined;
  /** As in an answer. */
  readonly warnings: readonly Problem[];
  readonly text: string;
}

/**
 * Plans a query, runs it, and counts expected and real bindings after each step. With `options.segments` nothing else
 * is counted.
 */
export async function explainPattern(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: QueryOptions = {},
): Promise<Explanation> {
  // Planned as if hidden segments did not exist: the numbers would reveal them.
  const extras = { trace: true, visibleAlone: options.segments !== undefined };
  const running = begin(graph, pattern, options, { kind: 'count' }, extras);
  const { planned } = running;
  const segments = running.visible.reduce((sum, flag) => sum + flag, 0);
  const outcome = await running.run(() => {});
  const matches = planned.matches.map((match, m) => ({
    steps: explainedSteps(match, planned.plan[m]!, outcome.traces[m] ?? [], segments),
  }));
  const { count, time, where, shortage } = outcome;
  const { warnings } = running;
  const text = asText(matches, outcome.count, time, outcome.note);
  return { matches, count, time, where, shortage, warnings, text };
}

function explainedSteps(
  match: Match,
  { parts }: PlannedMatch,
  traces: readonly (readonly number[])[],
  segments: number,
): ExplainedStep[] {
  return parts.flatMap((part, p): ExplainedStep[] => {
    if (part.kind === 'repeat') {
      const { from, to, forward } = match.repeats[part.repeat]!;
      const [a, b] = [match.pattern.nodes[from]!, match.pattern.nodes[to]!].map(nodeName);
      const most = Number.isFinite(forward.most) ? forward.most : '';
      const way = part.endBound ? 'find quantified paths between' : 'follow the quantified path from';
      const ends = part.reversed ? `${b} back to ${a}` : `${a} to ${b}`;
      return [
        {
          text: `${way} ${ends} {${forward.least},${most}}`,
          kind: 'repeat',
          segments: undefined,
          estimated: undefined,
          real: undefined,
        },
      ];
    }
    if (part.byCandidates) {
      const names = part.nodes.map((n) => nodeName(match.pattern.nodes[n]!));
      return [
        {
          text: `search ${part.nodes.length} nodes with candidate sets: ${names.join(', ')}`,
          kind: 'candidates',
          segments: part.scans[0]!.length,
          estimated: part.steps.at(-1)?.rows,
          real: undefined,
        },
      ];
    }
    const { pattern } = patternOfPart(match, part.nodes, part.before, part.edges, [], new Set());
    let scan = 0;
    return part.steps.map(({ step, rows }, s) => ({
      text: stepText(step, pattern, part, scan, segments) + byValue(step),
      kind: step.kind,
      segments: step.kind === 'scan' ? part.scans[scan++]!.length : undefined,
      estimated: rows,
      real: traces[p]?.[s],
    }));
  });
}

function stepText(
  step: Step,
  pattern: Pattern,
  part: Extract<PlannedPart, { kind: 'search' }>,
  scan: number,
  segments: number,
): string {
  switch (step.kind) {
    case 'scan':
      return `scan ${nodeName(pattern.nodes[step.node]!)} in ${part.scans[scan]!.length} of ${segments} segments`;
    case 'walk': {
      const { from, to } = pattern.edges[step.edge]!;
      const [start, end] = step.reversed ? [to, from] : [from, to];
      return `walk ${edgeName(pattern, step.edge)} from ${nodeName(pattern.nodes[start]!)} to ${nodeName(pattern.nodes[end]!)}`;
    }
    case 'connect': {
      const { from, to } = pattern.edges[step.edge]!;
      return `check ${edgeName(pattern, step.edge)} between ${nodeName(pattern.nodes[from]!)} and ${nodeName(pattern.nodes[to]!)}`;
    }
    default:
      return step satisfies never;
  }
}

/** Says which property leads to the nodes of a step. */
function byValue(step: Step): string {
  const list = step.kind === 'connect' ? undefined : step.list;
  return list ? ` by its ${list.name}` : '';
}

function nodeName({ name, label, slot }: Pattern['nodes'][number]): string {
  const variable = name === undefined || name.charCodeAt(0) < 32 ? `#${slot}` : name;
  return label ? `(${variable}:${labelText(label)})` : `(${variable})`;
}

function edgeName(pattern: Pattern, index: number): string {
  const { name, label } = pattern.edges[index]!;
  return `[${name ?? ''}${label ? `:${labelText(label)}` : ''}]`;
}

function labelText(label: NonNullable<Pattern['nodes'][number]['label']>): string {
  switch (label.kind) {
    case 'label':
      return label.name;
    case 'any':
      return '%';
    case 'and':
      return `${labelText(label.left)}&${labelText(label.right)}`;
    case 'or':
      return `(${labelText(label.left)}|${labelText(label.right)})`;
    case 'not':
      return `!${labelText(label.of)}`;
    default:
      return label satisfies never;
  }
}

function asText(
  matches: Explanation['matches'],
  count: number,
  time: number,
  note: string | undefined,
): string {
  const lines: string[] = [];
  matches.forEach(({ steps }, m) => {
    lines.push(`MATCH ${m + 1}`);
    steps.forEach(({ text, estimated, real }, s) => {
      const counts = [
        estimated === undefined ? '' : `expected ${rounded(estimated)}`,
        real === undefined ? '' : `found ${real}`,
      ].filter((part) => part !== '');
      lines.push(`  ${s + 1}. ${text}${counts.length > 0 ? `: ${counts.join(', ')}` : ''}`);
    });
  });
  lines.push(`${count} matches in ${time.toFixed(1)} ms.${note ? ` ${note}` : ''}`);
  return lines.join('\n');
}

function rounded(rows: number): string {
  return rows >= 100 ? rows.toFixed(0) : String(Number(rows.toPrecision(2)));
}

/**
 * Builds the stage that runs a MATCH clause: its parts in order, then conditions on the complete match.
 */
import { edgeLabelTruths } from '../plan/label-test.ts';
import { type Match, repeatSlots } from '../plan/match.ts';
import type { Condition, Pattern, PatternEdge } from '../plan/pattern.ts';
import { type BySteps, type PlannedMatch, type PlannedPart, patternOfPart } from '../plan/plan-match.ts';
import type { Earlier, RepeatSlots } from '../plan/scope.ts';
import type { Step, ValueAsked } from '../plan/step.ts';
import { IN, OUT, UNDIRECTED } from '../storage/catalog.ts';
import type { Entering } from '../storage/entering.ts';
import type { Store } from '../storage/store.ts';
import { type CandidatePlan, candidatePlan } from './candidate-plan.ts';
import { candidateSearch } from './candidate-search.ts';
import { type Generated, generate } from './generate.ts';
import { elementsOf, keepsMode, placesOf } from './path.ts';
import { pathSearchStage } from './path-search.ts';
import { repeatStage, type Walked } from './repeat.ts';
import { OutOfBudget, type Run, type Stage } from './stage.ts';
import { type Stepped, stepSearch } from './step-search.ts';
import { valueListsOf } from './value-lists.ts';

/** How labels are read, and what else the code of a search depends on besides the pattern and the order. */
export interface SearchSettings {
  readonly store: Store;
  /** Per node kind, 0 for those that do not fit; undefined when all do. */
  readonly nodeTable: (node: Pattern['nodes'][number]) => Uint8Array | undefined;
  readonly setTable: (node: Pattern['nodes'][number]) => Uint8Array | undefined;
  /** Adjacency codes that occur on edges between segments, seen from the end that owns the edge. */
  readonly crossingCodes: ReadonlySet<number>;
  /** Labels of nodes that may be in a segment other than that of the search; see `ExecuteRequest`. */
  readonly roaming: readonly string[] | undefined;
  /** The one match that the body of an EXISTS is, with its plan; undefined when it is more than that. */
  readonly body?: (number: number) => { readonly match: Match; readonly planned: PlannedMatch } | undefined;
}

type Prepared =
  | { readonly kind: 'generated'; readonly run: Generated; readonly scans: readonly Int32Array[] }
  | { readonly kind: 'candidates'; readonly plan: CandidatePlan; readonly segments: Int32Array }
  | { readonly kind: 'repeat'; readonly part: Extract<PlannedPart, { kind: 'repeat' }> };

export interface PreparedMatch {
  readonly match: Match;
  readonly parts: readonly Prepared[];
  /** Whether nothing is left to do for a match when the last part has bound it. */
  readonly plain: boolean;
  /** Per part, bindings after each step so far, when they are counted. */
  readonly traces: readonly (Float64Array | undefined)[];
}

/** Where a stage runs. */
export interface StageContext {
  readonly run: Run;
  readonly store: Store;
  /** Per segment row, 1 when the query may see the segment, 2 when it may see the nodes that roam. */
  readonly visible: Uint8Array;
  /** Per node kind, 1 for nodes that roam. */
  readonly roams: Uint8Array;
  /** Nodes that scans find beside those of the segment that they are in; see `SegmentCursor`. */
  readonly near: ReadonlySet<number>;
  readonly entering: Entering;
}

/**
 * Compiles the parts of a planned match. With `counting`, the last part counts and calls no next stage; this is only
 * for matches that `isPlain` accepts.
 */
export function prepareMatch(
  match: Match,
  planned: PlannedMatch,
  settings: SearchSettings,
  options: { readonly counting?: boolean; readonly trace?: boolean } = {},
): PreparedMatch {
  const checked = new Set<Condition>();
  const held: PatternEdge[] = [];
  const slots = new Set<number>();
  const traces: (Float64Array | undefined)[] = planned.parts.map(() => undefined);
  for (const element of [...match.pattern.nodes, ...match.pattern.edges])
    if (element.bound) slots.add(element.slot);
  const parts = planned.parts.map((part, i): Prepared => {
    if (part.kind === 'repeat') {
      const repeat = match.repeats[part.repeat]!;
      slots.add(match.pattern.nodes[repeat.from]!.slot).add(match.pattern.nodes[repeat.to]!.slot);
      return { kind: 'repeat', part };
    }
    const { pattern } = patternOfPart(match, part.nodes, part.before, part.edges, [...held], checked);
    for (const node of part.nodes) slots.add(match.pattern.nodes[node]!.slot);
    for (const edge of part.edges) {
      slots.add(match.pattern.edges[edge]!.slot);
      held.push({ ...match.pattern.edges[edge]!, bound: true });
    }
    for (const condition of match.pattern.conditions)
      if (condition.slots.every((slot) => slots.has(slot))) checked.add(condition);
    const { catalog } = settings.store;
    const edgeTable = (edge: PatternEdge) => edgeLabelTruths(edge.label, catalog, edge.leastTruth);
    const codes = catalog.edgeLabels.length * 3;
    if (part.byCandidates)
      return {
        kind: 'candidates',
        plan: candidatePlan(pattern, settings.nodeTable, edgeTable, codes),
        segments: part.scans[0]!,
      };
    const trace = options.trace ? new Float64Array(part.steps.length) : undefined;
    if (trace) traces[i] = trace;
    const steps = part.steps.map(({ step }) => step);
    const how = {
      keepFrom: part.keepFrom,
      body: (number: number) => inlineBody(settings.body?.(number)),
      counting: options.counting === true && i === planned.parts.length - 1,
      trace,
      mayRoam: (node: Pattern['nodes'][number]) => mayRoam(node, settings),
      isAlone: settings.roaming !== undefined,
      leaves: (code: number) => settings.crossingCodes.has(code),
      entered: (code: number) => settings.crossingCodes.has(mirrored(code)),
      nodeTable: settings.nodeTable,
      setTable: settings.setTable,
      valueLists: (asked: ValueAsked) => valueListsOf(settings.store, asked),
      edgeTable,
      codes,
    };
    const run = searchOf(
      part.bySteps,
      worthWriting(steps.length),
      () => stepSearch(pattern, steps, how),
      () => generate(pattern, steps, how),
    );
    return { kind: 'generated', run, scans: part.scans };
  });
  return { match, parts, plain: isPlain(match), traces };
}

/**
 * Entries that the search without code looks at before it has taken as much longer than code as writing and compiling
 * that takes, which is some tenth of a millisecond a step: whichever comes next, not even twice the better choice is paid
 * (Karlin et al., "Competitive snoopy caching", Algorithmica 3, 1988).
 */
function worthWriting(steps: number): number {
  return 5_000 + 2_000 * steps;
}

/**
 * The search of a part: step by step, in written code, or first the one and then, in a run after it has looked at `most`
 * entries, the other. Made when it is first run.
 */
function searchOf(
  bySteps: BySteps,
  most: number,
  stepped: () => Stepped,
  written: () => Generated,
): Generated {
  let steps: Stepped | undefined;
  let code: Generated | undefined;
  const isByStep = () => bySteps === 'always' || (bySteps === 'first' && (steps?.looked() ?? 0) <= most);
  return (binding) => {
    let byStep: ReturnType<Generated> | undefined;
    let byCode: ReturnType<Generated> | undefined;
    return (from, to) => {
      if (!byCode && isByStep()) {
        steps ??= stepped();
        byStep ??= steps.search(binding);
        return byStep(from, to);
      }
      if (!byCode) {
        if (!code) {
          binding.run.look();
          code = written();
        }
        byCode = code(binding);
      }
      return byCode(from, to);
    };
  };
}

function mayRoam(node: Pattern['nodes'][number], { store, setTable, roaming }: SearchSettings): boolean {
  if (!roaming) return false;
  const sets = setTable(node);
  const { labels: names, labelSets } = store.catalog;
  return labelSets.some(
    ({ labels }, set) => sets?.[set] !== 0 && labels.some((label) => roaming.includes(names[label]!)),
  );
}

/** The body of an EXISTS as steps to write in place, when it is nothing but walks from what is bound. */
function inlineBody(
  body: { readonly match: Match; readonly planned: PlannedMatch } | undefined,
): { readonly pattern: Pattern; readonly steps: readonly Step[] } | undefined {
  const part = body?.planned.parts[0];
  if (body?.planned.parts.length !== 1 || part?.kind !== 'search' || part.byCandidates) return undefined;
  if (!isPlain(body.match) || part.scans.length > 0) return undefined;
  const { pattern } = patternOfPart(body.match, part.nodes, part.before, part.edges, [], new Set());
  return { pattern, steps: part.steps.map(({ step }) => step) };
}

/** Whether a match is nothing but elements that generated code binds. */
export function isPlain(match: Match): boolean {
  return (
    match.repeats.length === 0 &&
    match.late.length === 0 &&
    match.apart === undefined &&
    match.aliases.length === 0 &&
    match.paths.every((path) => path.slot < 0 && !path.check) &&
    !match.edgesDiffer &&
    !match.nodesDiffer
  );
}

function mirrored(code: number): number {
  const direction = code % 3;
  if (direction === UNDIRECTED) return code;
  return direction === OUT ? code - OUT + IN : code - IN + OUT;
}

/** A stage that can also run a stretch of the segments that its first scan goes through. */
export interface MatchStage {
  readonly run: Stage;
  /** Segments of the first scan, when the match starts with one. */
  readonly segments: Int32Array | undefined;
  /** Runs the match for `segments[from .. to]`. */
  readonly stretch: (from: number, to: number) => boolean;
}

export function matchStage(prepared: PreparedMatch, context: StageContext, next: Stage): MatchStage {
  const { match } = prepared;
  const seen = match.apart ? new Set<string>() : undefined;
  const inner = chain(prepared, context, prepared.plain ? next : wholeStage(match, context.run, seen, next));
  return noting(seen ? forgetting(inner, seen) : inner, match);
}

/** Notes in which clause a search stops early. */
function noting(stage: MatchStage, { place }: Match): MatchStage {
  const noted = (error: unknown): unknown => {
    if (error instanceof OutOfBudget) error.place ??= place;
    return error;
  };
  return {
    segments: stage.segments,
    run: () => {
      try {
        return stage.run();
      } catch (error) {
        throw noted(error);
      }
    },
    stretch: (from, to) => {
      try {
        return stage.stretch(from, to);
      } catch (error) {
        throw noted(error);
      }
    },
  };
}

/** Duplicates are removed within a run of the clause only. */
function forgetting(stage: MatchStage, seen: Set<string>): MatchStage {
  return {
    segments: stage.segments,
    run: () => {
      seen.clear();
      return stage.run();
    },
    stretch: (from, to) => {
      seen.clear();
      return stage.stretch(from, to);
    },
  };
}

function chain(prepared: PreparedMatch, context: StageContext, next: Stage): MatchStage {
  let stage = next;
  let first: MatchStage = { run: next, segments: undefined, stretch: next };
  for (let i = prepared.parts.length - 1; i >= 0; i--) {
    first = partStage(prepared, prepared.parts[i]!, context, stage);
    stage = first.run;
  }
  return first;
}

function partStage(prepared: PreparedMatch, part: Prepared, context: StageContext, next: Stage): MatchStage {
  const { run, store, visible, roams, near, entering } = context;
  switch (part.kind) {
    case 'generated': {
      const stretch = part.run({ run, store, visible, roams, near, entering, scans: part.scans, next });
      const [segments] = part.scans;
      return { run: () => stretch(0, part.scans[0]?.length ?? 0), segments, stretch };
    }
    case 'candidates': {
      const { plan, segments } = part;
      const stretch = (from: number, to: number): boolean => {
        for (let s = from; s < to; s++)
          if (!candidateSearch(plan, { run, store, next }, segments[s]!)) return false;
        return true;
      };
      return { run: () => stretch(0, segments.length), segments, stretch };
    }
    case 'repeat': {
      const { repeat: at, reversed, endBound } = part.part;
      const repeat = prepared.match.repeats[at]!;
      const { nodes } = prepared.match.pattern;
      if (repeat.search) {
        const search = pathSearchStage(
          {
            path: repeat.forward,
            startSlot: nodes[repeat.from]!.slot,
            endSlot: nodes[repeat.to]!.slot,
            endBound,
            ...repeat.search,
            alone: repeat.alone,
          },
          context,
          { node: (node) => store.nodeId(node), edge: (edge) => store.edgeId(edge) ?? '' },
          next,
        );
        return { run: search, segments: undefined, stretch: search };
      }
      const [start, end] = reversed ? [repeat.to, repeat.from] : [repeat.from, repeat.to];
      const stage = repeatStage(
        {
          repeat: reversed ? repeat.backward : repeat.forward,
          startSlot: nodes[start]!.slot,
          endSlot: nodes[end]!.slot,
          endBound,
          reversed,
          known: repeat.known,
          edgesDiffer: repeat.edgesDiffer,
          nodesDiffer: repeat.nodesDiffer,
        },
        context,
        next,
      );
      return { run: stage, segments: undefined, stretch: stage };
    }
    default:
      return part satisfies never;
  }
}

/** What concerns a whole match: path modes, path variables, late conditions, one match for each binding. */
function wholeStage(match: Match, run: Run, seen: Set<string> | undefined, next: Stage): Stage {
  const differ = match.nodesDiffer && nodesDiffer(match, match.nodesDiffer);
  return () => {
    for (const { slot, alias } of match.aliases) run.row[alias] = run.row[slot]!;
    const paths = match.paths.map((path) => elementsOf(path.parts, run));
    for (let p = 0; p < paths.length; p++) {
      const path = match.paths[p]!;
      if (path.check && !keepsMode(path.mode, paths[p]!)) return true;
      if (path.slot >= 0) run.values[path.slot] = paths[p]!;
    }
    if (match.edgesDiffer && !edgesDiffer(match, paths)) return true;
    if (differ && !differ(run)) return true;
    for (const { test } of match.late) if (!test(run)) return true;
    if (seen && match.apart) {
      let name = `${paths.join('|')}|${match.apart.elements.map((slot) => run.row[slot])}|${JSON.stringify(match.apart.values.map((slot) => run.values[slot]))}`;
      // A name at another place of the same path is another match.
      name += `|${match.paths.map(({ parts }) => placesOf(parts, run))}`;
      // The same match under other circumstances is needed for its probability.
      if (run.keepsDoubts) name += `|${run.wayOf(match)}`;
      if (seen.has(name)) return true;
      seen.add(name);
      run.remember(name.length * 2 + 48);
    }
    return next();
  };
}

/** Whether all edges of the path patterns differ. */
function edgesDiffer(match: Match, paths: readonly (readonly number[])[]): boolean {
  const seen = new Set<number>();
  for (let p = 0; p < paths.length; p++) {
    if (!match.paths[p]!.top) continue;
    const path = paths[p]!;
    for (let i = 1; i < path.length; i += 2) {
      if (seen.has(path[i]!)) return false;
      seen.add(path[i]!);
    }
  }
  return true;
}

/**
 * Node-distinct matching with quantified paths: a node occurs once in the clauses so far. A variable that joins several
 * paths is one place, and so are the two ends of an empty path.
 */
function nodesDiffer(match: Match, earlier: Earlier): (run: Run) => boolean {
  const slots = [...earlier.nodes, ...match.pattern.nodes.map(({ slot }) => slot)];
  const repeats = [...earlier.repeats, ...repeatSlots(match)];
  return (run) => allDiffer(slots, repeats, run);
}

function allDiffer(slots: readonly number[], repeats: readonly RepeatSlots[], { row, values }: Run): boolean {
  const place = new Map<number, number>();
  for (const slot of slots) place.set(slot, slot);
  const find = (slot: number): number => {
    const next = place.get(slot)!;
    return next === slot ? slot : find(next);
  };
  // What OPTIONAL has left out walked nowhere.
  const walkedBy = ({ elements }: RepeatSlots) => values[elements] as Walked | null;
  for (const repeat of repeats)
    if (walkedBy(repeat)?.length === 0) place.set(find(repeat.from), find(repeat.to));
  const seen = new Set<number>();
  for (const slot of place.keys()) {
    const node = row[slot]!;
    if (place.get(slot) !== slot || node < 0) continue;
    if (seen.has(node)) return false;
    seen.add(node);
  }
  for (const repeat of repeats) {
    const walked = walkedBy(repeat) ?? [];
    const linked = repeat.linked.map((slot) => row[slot]!);
    for (let i = 1; i < walked.length; i += 2) {
      if (linked.includes(walked[i]!)) continue;
      if (seen.has(walked[i]!)) return false;
      seen.add(walked[i]!);
    }
  }
  return true;
}

/**
 * Rows that go on together: those of complete queries (ISO/IEC 39075:2024, 14.1 and 14.2, NEXT), and those that a page statement
 * sorts and cuts (14.9).
 */
import type { PlannablePart } from '../plan/match.ts';
import type { MatchStage, StageContext } from './match-stage.ts';
import type { PreparedClause, PreparedPage, PreparedTable } from './prepared-clauses.ts';
import { ResultSink, type Sorted, sortRows, VALUE_BYTES } from './result.ts';
import { type Run, type Stage, setterOf } from './stage.ts';

/** Runs everything before, and the next stage for each row; answers false when that wants no more. */
type Source = (next: Stage) => boolean;

/** Makes the stage of clauses. */
type Chain = (clauses: readonly PreparedClause[], context: StageContext, next: Stage) => MatchStage;

type Cells = readonly unknown[];
type Visit = (cells: Cells) => boolean;

/** The rows of the clauses before, as they were bound, sorted and cut. */
export function pageSource(page: PreparedPage, context: StageContext, chain: Chain): Source {
  const { run } = context;
  let collect: Stage = () => false;
  const stage = chain(page.clauses, context, () => collect());
  const kept = ({ row, values }: Run) =>
    row.length * 4 + values.length * 8 + page.orderBy.length * VALUE_BYTES + 96;
  return (next) => {
    const found: (Sorted & { readonly row: Int32Array; readonly values: readonly unknown[] })[] = [];
    const most = page.offset + page.limit;
    if (most > page.offset)
      collect = () => {
        run.spend(page.orderBy.length);
        run.remember(kept(run));
        found.push({
          row: run.row.slice(),
          values: run.values.slice(),
          sort: page.orderBy.map(({ value }) => run.weighed(value(run))),
          order: found.length,
        });
        return page.orderBy.length > 0 || found.length < most;
      };
    if (most > page.offset) stage.run();
    if (page.orderBy.length > 0) sortRows(found, page, run);
    let goes = true;
    for (const { row, values } of found.slice(page.offset, most)) {
      run.row.set(row);
      values.forEach((value, slot) => {
        run.values[slot] = value;
      });
      goes = next();
      if (!goes) break;
    }
    run.remember(-found.length * kept(run));
    return goes;
  };
}

/** The rows of a table, in the slots of its columns. */
export function tableSource(table: PreparedTable, context: StageContext, chain: Chain): Source {
  const rows = rowsOf(table, context, chain);
  const set = writer(table, context.run);
  return (next) => {
    let goes = true;
    rows((cells) => {
      set(cells);
      goes = next();
      return goes;
    });
    return goes;
  };
}

function writer({ columns }: PreparedTable, run: Run): (cells: Cells) => void {
  const setters = columns.map((target) => setterOf(target, run));
  return (cells) => {
    for (let i = 0; i < setters.length; i++) setters[i]!(cells[i]);
  };
}

function rowsOf(table: PreparedTable, context: StageContext, chain: Chain): (visit: Visit) => void {
  const { run } = context;
  const parts = table.parts.map((part) => partRows(part, context, chain));
  const input = table.input && { rows: rowsOf(table.input, context, chain), set: writer(table.input, run) };
  const [first] = parts;
  if (parts.length === 1) return (visit) => first!(undefined, visit);
  const conjunctions = table.parts.map(({ conjunction }) => conjunction);
  return (visit) => {
    const given = input && { rows: collected(input.rows, run), set: input.set };
    const { keyOf } = table.parts[0]!.result;
    combined(
      parts.map((rows) => (to: Visit) => rows(given, to)),
      conjunctions,
      new Rows(run, keyOf),
      visit,
    );
    if (given) run.remember(-bytesOf(given.rows));
  };
}

interface Given {
  readonly rows: readonly Cells[];
  readonly set: (cells: Cells) => void;
}

/** The rows of one part, which goes on from given rows when there are such. */
function partRows(
  { clauses, result, order }: PreparedTable['parts'][number],
  context: StageContext,
  chain: Chain,
): (given: Given | undefined, visit: Visit) => void {
  const { run } = context;
  let take: Stage = () => false;
  const stage = chain(clauses, context, () => take());
  const isInOrder = order.every((at, i) => at === i);
  return (given, visit) => {
    const sink = new ResultSink(
      result,
      run,
      isInOrder ? visit : (cells) => visit(order.map((at) => cells[at])),
    );
    const before = take;
    take = () => sink.take();
    if (!given) stage.run();
    else
      for (const cells of given.rows) {
        given.set(cells);
        if (!stage.run()) break;
      }
    sink.finish();
    sink.forget();
    take = before;
  };
}

function collected(rows: (visit: Visit) => void, run: Run): readonly Cells[] {
  const all: Cells[] = [];
  rows((cells) => {
    run.remember(bytesOf([cells]));
    all.push(cells);
    return true;
  });
  return all;
}

function bytesOf(rows: readonly Cells[]): number {
  return rows.reduce((sum, cells) => sum + cells.length * VALUE_BYTES + 64, 0);
}

/** Rows that are kept, with their keys. */
class Rows {
  readonly #run: Run;
  readonly #keyOf: (value: unknown) => string;

  constructor(run: Run, keyOf: (value: unknown) => string) {
    this.#run = run;
    this.#keyOf = keyOf;
  }

  key(cells: Cells): string {
    const key = cells.map(this.#keyOf).join('\u0001');
    this.#run.remember(key.length * 2 + 40);
    return key;
  }

  of(part: (visit: Visit) => void): readonly Cells[] {
    return collected(part, this.#run);
  }
}

type Part = (visit: Visit) => void;

/** Rows of parts combined from left to right: as they come where that can be, else kept. */
function combined(
  parts: readonly Part[],
  conjunctions: readonly PlannablePart['conjunction'][],
  kept: Rows,
  visit: Visit,
): void {
  const [, ...others] = conjunctions;
  const all = (conjunction: PlannablePart['conjunction']) => others.every((one) => one === conjunction);
  if (all('UNION ALL') || all('UNION') || all('OTHERWISE')) {
    const seen = all('UNION') ? new Set<string>() : undefined;
    let goes = true;
    let isFound = false;
    const give: Visit = (cells) => {
      isFound = true;
      if (seen) {
        const { size } = seen;
        if (seen.add(kept.key(cells)).size === size) return true;
      }
      goes = visit(cells);
      return goes;
    };
    for (const part of parts) {
      part(give);
      if (!goes || (isFound && all('OTHERWISE'))) return;
    }
    return;
  }
  let rows = kept.of(parts[0]!);
  for (let i = 1; i < parts.length; i++) rows = joined(conjunctions[i]!, rows, parts[i]!, kept);
  for (const cells of rows) if (!visit(cells)) return;
}

function joined(
  conjunction: NonNullable<PlannablePart['conjunction']>,
  left: readonly Cells[],
  part: Part,
  kept: Rows,
): readonly Cells[] {
  if (conjunction === 'OTHERWISE') return left.length > 0 ? left : kept.of(part);
  const right = kept.of(part);
  switch (conjunction) {
    case 'UNION ALL':
      return [...left, ...right];
    case 'UNION':
      return once([...left, ...right], kept);
    default: {
      const counts = new Map<string, number>();
      for (const cells of right) {
        const key = kept.key(cells);
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      const isWanted = conjunction.startsWith('INTERSECT');
      const isAll = conjunction.endsWith('ALL');
      return (isAll ? left : once(left, kept)).filter((cells) => {
        const key = kept.key(cells);
        const count = counts.get(key) ?? 0;
        if (isAll && count > 0) counts.set(key, count - 1);
        return count > 0 === isWanted;
      });
    }
  }
}

function once(rows: readonly Cells[], kept: Rows): readonly Cells[] {
  const seen = new Set<string>();
  return rows.filter((cells) => {
    const { size } = seen;
    return seen.add(kept.key(cells)).size > size;
  });
}

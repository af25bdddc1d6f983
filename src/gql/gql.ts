/**
 * Public exports of the pattern engine: nothing outside this folder imports its other files, except `files.ts`
 * (patterns over CSV files). README.md lists what is here and describes how a text becomes rows.
 *
 * ```ts
 * const graph = buildGraph(nodes, edges);                            // or new PatternGraph() and putSegment
 * const pattern = prepare('MATCH (a:Town)~[:ROAD]~(b) RETURN a.name, COUNT(*) AS roads');
 * const { columns, rows, complete } = await runPattern(graph, pattern);
 * ```
 */

// Questions
export {
  type BoundValue,
  MatchExpiredError,
  type SegmentMatch,
} from './bound-match.ts';
export {
  type BySegmentEnd,
  type BySegmentOptions,
  countBySegment,
  matchBySegment,
  type SegmentAnswer,
} from './by-segment.ts';
// Patterns
export { rowsNotByMatches } from './check/rows-by-matches.ts';
export { type Answer, countPattern, defaultPool, runPattern, streamPattern } from './engine.ts';
export { type Explanation, explainPattern } from './explain.ts';
export type { FunctionDefinition, FunctionSetting } from './expression/functions/define.ts';
export type { NodeReference, PathValue, Value } from './expression/value.ts';
// Graphs
export {
  buildGraph,
  GRAPH_COLUMNS,
  type GraphOptions,
  PatternGraph,
  type RestoredGraph,
  type SavedGraph,
} from './graph.ts';
export { describeInLine, type Problem } from './language/problem.ts';
export { type NearEnd, type NearMatch, type NearOptions, nearMatches } from './near.ts';
export { type Budgets, QueryOptionError, type QueryOptions } from './options.ts';
export { asksEdges } from './plan/edge-labels.ts';
export type { Removed } from './plan/near-patterns.ts';
export {
  type AskedElement,
  type AskedLabels,
  type UnseenOptions,
  type UnseenPattern,
  withoutUnseen,
} from './plan/unseen.ts';
export {
  PatternError,
  type PreparedPattern,
  type PrepareOptions,
  prepare,
  syntaxProblems,
  vocabularyOf,
} from './prepared-pattern.ts';
export { addFunctions, loadFunctions } from './search/functions.ts';
export type { Searched } from './shortage-note.ts';
// Patterns as SQL
export { type CompiledSql, compileSql, type SqlColumn, type SqlOptions } from './sql/compile.ts';
export { decodedRows } from './sql/decode.ts';
export type { DialectName } from './sql/dialect.ts';
export type { FunctionWriter, GraphCounts, SqlFunction, SqlSchema } from './sql/sql-schema.ts';
export type { SqlValue } from './sql/sql-value.ts';
export {
  columnsOfTable,
  createTables,
  insertRows,
  type PropertyColumn,
  PropertyColumns,
  rowsOfSegment,
  type SegmentRows,
  TABLES,
  type TableRow,
} from './sql/tables.ts';
export {
  type EdgeInput,
  GraphInputError,
  type LabelHierarchy,
  type LabelInput,
  type NodeInput,
  type Properties,
  type SegmentInput,
} from './storage/input.ts';
export type { MatchedEdge, OpenTest, Requirement, Uncertain } from './uncertain.ts';
export { WorkerPool } from './workers/pool.ts';

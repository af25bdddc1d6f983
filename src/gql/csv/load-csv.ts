/**
 * A graph from two CSV files, for the columns see `read-csv.ts`, without an object for each node and edge: of an archive
 * in files the quickest way into a graph.
 */
import { type GraphOptions, PatternGraph, WHOLE } from '../graph.ts';
import { NUMBER, STRING, storageOf } from '../storage/encode.ts';
import type { GraphDraft } from '../storage/graph-draft.ts';
import { danglingText, GraphInputError } from '../storage/input.ts';
import { EDGE_ID_KEY } from '../storage/store.ts';
import { Cells } from './cells.ts';
import {
  checkEdge,
  checkNode,
  columnOf,
  eachProperty,
  edgeColumns,
  isDirected,
  isGiven,
  KEPT,
  labelsOf,
  nodeColumns,
  scanEdges,
  scanNodes,
} from './read-csv.ts';
import { type CsvRecord, hashOf } from './scan-csv.ts';

export interface LoadOptions extends GraphOptions {
  /**
   * The column that says which segment a node is of; then it is no property. An edge is of the segment in its own such
   * column, or, where the file of edges has none, of that of its source. Default: all is one segment.
   */
  readonly segment?: string;
  /** Whether matches are grouped under a segment; see `SegmentInput`. Default: all are. */
  readonly isGrouped?: (segment: string) => boolean;
}

/**
 * Loads a graph. Throws CsvError or GraphInputError, whose messages say file and line, or the edge whose node is not there.
 */
export async function loadGraphFiles(
  nodeFile: string,
  edgeFile: string,
  options: LoadOptions = {},
): Promise<PatternGraph> {
  const graph = new PatternGraph(options);
  const draft = graph.draft();
  const values = new Values(draft);
  await scanNodes(nodeFile, (header) => nodesInto(draft, values, header, options));
  const dangling = { count: 0, first: { source: '', target: '', id: '' } };
  await scanEdges(edgeFile, (header) => edgesInto(graph, draft, values, header, options, dangling));
  if (dangling.count > 0) {
    const what = danglingText(dangling.first, dangling.count, draft.edgeCount);
    throw new GraphInputError(`${nodeFile} and ${edgeFile}: ${what}`);
  }
  graph.putDraft(draft, options.isGrouped ?? (() => true));
  return graph;
}

interface Encoded {
  readonly storage: number;
  readonly value: number;
}

/** Takes properties of lines down in the encoder. */
class Values {
  readonly #draft: GraphDraft;
  constructor(draft: GraphDraft) {
    this.#draft = draft;
  }
  readonly make = (value: Parameters<typeof storageOf>[0]): Encoded => ({
    storage: storageOf(value, '', () => ''),
    value: this.#draft.encoder.encoded(value),
  });
  readonly takeNumber = (name: string, value: number): void => {
    this.#draft.encoder.value(name, NUMBER, value);
  };
  readonly take = (name: string, { storage, value }: Encoded): void => {
    this.#draft.encoder.value(name, storage, value);
  };
}

function nodesInto(draft: GraphDraft, values: Values, header: CsvRecord, options: LoadOptions) {
  const { encoder } = draft;
  const { id, labels, properties } = nodeColumns(header, values.make, options.segment);
  const segmentOf = segments(draft, header, options.segment);
  const none = encoder.weighted([]);
  const labelSets = new Cells(KEPT, (text, record) => encoder.weighted(labelsOf(text, record)));
  return (record: CsvRecord): void => {
    checkNode(record, id);
    const { set, weights } = isGiven(record, labels) ? labelSets.of(record, labels) : none;
    encoder.open();
    for (let i = 0; i < weights.length; i++) encoder.weight(weights[i]!);
    eachProperty(record, properties, values.takeNumber, values.take);
    encoder.closeNode(set);
    if (!draft.node(idAt(draft, record, id), segmentOf(record)))
      throw record.problem(`another node has the id ${record.text(id)}`);
  };
}

function edgesInto(
  graph: PatternGraph,
  draft: GraphDraft,
  values: Values,
  header: CsvRecord,
  { segment }: LoadOptions,
  dangling: { count: number; first: { source: string; target: string; id: string } },
) {
  const { encoder } = draft;
  const { catalog, strings } = graph.store;
  const columns = edgeColumns(header, values.make, segment);
  const isOwn = segment === undefined || header.columns.includes(segment);
  const segmentOf = isOwn ? segments(draft, header, segment) : undefined;
  const labels = new Cells(KEPT, (text) => catalog.edgeLabel(text));
  const none = catalog.edgeLabel('');
  return (record: CsvRecord): void => {
    checkEdge(record, columns.source, columns.target);
    const directed = isDirected(record, columns.directed);
    const label = isGiven(record, columns.label) ? labels.of(record, columns.label) : none;
    encoder.open();
    if (isGiven(record, columns.id))
      values.take(EDGE_ID_KEY, { storage: STRING, value: strings.intern(record.text(columns.id)) });
    eachProperty(record, columns.properties, values.takeNumber, values.take);
    encoder.closeEdge(label, directed);
    const source = idAt(draft, record, columns.source);
    const target = idAt(draft, record, columns.target);
    const of = draft.segmentOf(source);
    if (of < 0 || draft.segmentOf(target) < 0) {
      const [from, to] = [record.text(columns.source), record.text(columns.target)];
      if (dangling.count++ === 0) dangling.first = { source: from, target: to, id: of < 0 ? from : to };
    }
    draft.edge(source, target, segmentOf ? segmentOf(record) : Math.max(of, 0));
  };
}

/** From a line to the number of its segment. */
function segments(
  draft: GraphDraft,
  header: CsvRecord,
  name: string | undefined,
): (record: CsvRecord) => number {
  if (name === undefined) {
    const whole = draft.segment(WHOLE);
    return () => whole;
  }
  const column = columnOf(header, name);
  const cells = new Cells(KEPT, (text, record) => {
    if (text === '') throw record.problem(`the ${name} is empty`);
    return draft.segment(text);
  });
  return (record) => cells.of(record, column);
}

/** The number of the id in a field. */
function idAt({ ids }: GraphDraft, record: CsvRecord, field: number): number {
  if (record.bits[field]! < 128)
    return ids.add(record.buffer, record.starts[field]!, record.ends[field]!, record.hashes[field]!);
  // What is not valid UTF-8 is read as U+FFFD, in ids too.
  const bytes = Buffer.from(record.text(field));
  return ids.add(bytes, 0, bytes.length, hashOf(bytes));
}

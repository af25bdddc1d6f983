import { createHash } from 'node:crypto';
import { PropertyColumns, type SegmentInput } from '../gql/gql.ts';
import { cornersOfBody } from '../model/body.ts';
import type { Device } from '../model/dossier.ts';
import { PARAMETERS } from '../model/taxonomy.ts';
import { VOCABULARY } from '../pattern-texts/vocabulary.ts';
import { recordSegment, specimenSegment } from '../patterns/segments.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { Pace } from '../state/pace.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

// What a state has for a mirror: the segments of the pattern graph by key, with a digest of each, by which those that changed
// are told. Whatever the state's audience may not see is not in it.

/** Where corners are kept of a body that is turned by no right angle; no text can name it. */
export function cornerProperty(corner: number, axis: 'x' | 'y'): string {
  return `corner ${corner} ${axis}`;
}

const KEPT = new Set<string>([
  ...VOCABULARY.properties,
  ...[0, 1, 2, 3].flatMap((i) => [cornerProperty(i, 'x'), cornerProperty(i, 'y')]),
]);

/** Whether a property is mirrored: those that patterns may name, and what their functions read. */
export function isMirrored(property: string): boolean {
  return KEPT.has(property);
}

/** A segment as it is now. */
export interface MirroredSegment {
  readonly key: string;
  readonly digest: string;
}

interface Made extends MirroredSegment {
  readonly of: object;
  readonly device: Device | undefined;
  readonly learnt: OpenedSpecimen['learnt'] | undefined;
}

/** The segments of an archive's states, one after the other; what did not change is not read again. */
export class ArchiveSegments {
  #made = new Map<string, Made>();

  /** All segments of a state by key, in order, in turns with other work. */
  async of(state: State): Promise<ReadonlyMap<string, MirroredSegment>> {
    const now = new Map<string, Made>();
    const pace = new Pace();
    for (const collection of ['makers', 'productLines', 'parts'] as const)
      for (const [id, record] of state.facts.records[collection]) {
        const key = `record:${id}`;
        const before = this.#made.get(key);
        now.set(
          key,
          before?.of === record
            ? before
            : {
                key,
                of: record,
                device: undefined,
                learnt: undefined,
                digest: digestOf(recordSegment(collection, record)),
              },
        );
      }
    for (const row of state.specimenRows()) {
      const before = this.#made.get(row.id);
      const device = deviceWith(state, row);
      if (before?.of === row && before.device === device && state.unnamed.areCurrent(before.learnt ?? []))
        now.set(row.id, before);
      else {
        const specimen = state.peek(row);
        const digest = digestOf(segmentWith(state, row, specimen));
        now.set(row.id, { key: row.id, of: row, device, learnt: specimen.learnt, digest });
        await pace.rest();
      }
    }
    // By key: the order in which things were filed would tell readers that something hidden stands between.
    this.#made = new Map([...now].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)));
    return this.#made;
  }
}

/** The content of a segment. */
export function segmentOf(state: State, key: string): SegmentInput {
  if (key.startsWith('record:')) {
    const id = key.slice('record:'.length);
    for (const collection of ['makers', 'productLines', 'parts'] as const) {
      const record = state.facts.records[collection].get(id);
      if (record) return recordSegment(collection, record)!;
    }
  }
  const row = state.specimenRow(key);
  if (!row) throw new Error(`There is no segment ${key}`);
  return segmentWith(state, row, state.peek(row));
}

function segmentWith(state: State, row: SpecimenRow, specimen: OpenedSpecimen): SegmentInput {
  const segment = specimenSegment(specimen, row.deviceId, deviceWith(state, row), (part) => state.part(part));
  return { ...segment, nodes: segment.nodes.map(withCorners) };
}

function withCorners<N extends SegmentInput['nodes'][number]>(node: N): N {
  const { x, y, rotation, length, width, side } = node.properties ?? {};
  if (typeof x !== 'number' || typeof y !== 'number' || typeof rotation !== 'number' || rotation % 90 === 0)
    return node;
  if (typeof length !== 'number' || typeof width !== 'number') return node;
  const corners = cornersOfBody({
    at: { x, y },
    side: side === 'bottom' ? 'bottom' : 'top',
    rotation,
    body: { length, width },
  })!;
  const kept = corners.flatMap(([cornerX, cornerY], i) => [
    [cornerProperty(i, 'x'), cornerX],
    [cornerProperty(i, 'y'), cornerY],
  ]);
  return { ...node, properties: { ...node.properties, ...Object.fromEntries(kept) } };
}

/** The device of a specimen that holds the device's node: the first that the state sees. */
function deviceWith(state: State, { id, deviceId }: SpecimenRow): Device | undefined {
  const row = state.facts.devices.get(deviceId);
  return row?.specimens[0] === id ? row.device : undefined;
}

/** A digest of all segments, in their order; hexadecimal. */
export function digestOfAll(segments: ReadonlyMap<string, MirroredSegment>): string {
  const hash = createHash('sha256');
  for (const { key, digest } of segments.values()) hash.update(`${key} ${digest}\n`);
  return hash.digest('hex');
}

function digestOf(segment: SegmentInput | undefined): string {
  const text = JSON.stringify(segment, (_, value) => (value instanceof Map ? [...value] : value));
  return createHash('sha256').update(text).digest('base64url');
}

/** Properties of nodes and edges that every mirror has columns for, whatever its archive holds, so that its tables are known. */
const NODE_COLUMNS = {
  string: [
    ...[
      'id',
      'name',
      'released',
      'bodySite',
      'currency',
      'ingress',
      'revision',
      'region',
      'condition',
      'openedOn',
      'kind',
    ],
    ...[
      'specimen',
      'designator',
      'board',
      'side',
      'package',
      'value',
      'marking',
      'note',
      'bus',
      'number',
      'maker',
    ],
    ...['category', 'country', 'rail', 'introduced'],
  ],
  number: [
    ...[
      'year',
      'mass',
      'price',
      'layers',
      'area',
      'length',
      'width',
      'height',
      'x',
      'y',
      'rotation',
      'pins',
      'edge',
    ],
    ...[
      'voltage',
      'members',
      ...[0, 1, 2, 3].flatMap((i) => [cornerProperty(i, 'x'), cornerProperty(i, 'y')]),
    ],
  ],
  boolean: ['complete'],
} as const;
const EDGE_COLUMNS = {
  string: ['side', 'medium', 'bus', 'net', 'pin', 'name', 'function', 'through', 'state', 'output', 'supply'],
  number: ['lines', 'passed', 'voltage', 'probability'],
  boolean: ['crosses', 'switched'],
} as const;

/** The columns of properties that a new mirror begins with. */
export function firstColumns(): PropertyColumns {
  const columns = new PropertyColumns();
  for (const kind of ['string', 'number', 'boolean'] as const) {
    for (const property of NODE_COLUMNS[kind]) columns.column('nodes', property, kind);
    for (const property of EDGE_COLUMNS[kind]) columns.column('edges', property, kind);
  }
  for (const [parameter, { text, flag }] of PARAMETERS)
    columns.column('nodes', parameter, text ? 'string' : flag ? 'boolean' : 'number');
  return columns;
}

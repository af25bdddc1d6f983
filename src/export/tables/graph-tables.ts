import type { ExportEdge, ExportNode } from '../graph/things.ts';
import type { ExportTable } from './columns.ts';

// Nodes and edges: everything, in two tables.

export const NODES: ExportTable<ExportNode> = {
  file: 'nodes.csv',
  title: 'Nodes',
  says: 'Everything that has an id: records, terms of the taxonomy, specimens and all that lies in them.',
  primaryKey: ['id'],
  namesNodes: [],
  columns: [
    { name: 'id', kind: 'id', isRequired: true, says: 'Id in the archive.', of: ({ id }) => id },
    { name: 'kind', kind: 'word', isRequired: true, says: 'Kind of thing.', of: ({ kind }) => kind },
    { name: 'name', kind: 'text', says: 'Name, title, sentence or designator.', of: ({ name }) => name },
    { name: 'device', kind: 'id', says: 'Device that it belongs to.', of: ({ device }) => device },
    { name: 'specimen', kind: 'id', says: 'Specimen that it belongs to.', of: ({ specimen }) => specimen },
    {
      name: 'details',
      kind: 'json',
      isRequired: true,
      says: 'Its record, whole, as JSON (RFC 8259); lengths on boards in mm, other quantities with their unit.',
      of: ({ details }) => details,
    },
  ],
};

/** An edge with its number, in the order of the table. */
export interface NumberedEdge extends ExportEdge {
  readonly number: number;
}

export const EDGES: ExportTable<NumberedEdge> = {
  file: 'edges.csv',
  title: 'Edges',
  says: 'What one thing says of another. What was concluded has a probability, what is on record has none.',
  primaryKey: ['edge'],
  namesNodes: ['source', 'target'],
  columns: [
    {
      name: 'edge',
      kind: 'count',
      isRequired: true,
      says: 'Number of the line.',
      of: ({ number }) => number,
    },
    {
      name: 'source',
      kind: 'id',
      isRequired: true,
      says: 'Id of the node that it starts at.',
      of: ({ source }) => source,
    },
    { name: 'label', kind: 'word', isRequired: true, says: 'What it says.', of: ({ label }) => label },
    {
      name: 'target',
      kind: 'id',
      isRequired: true,
      says: 'Id of the node that it ends at.',
      of: ({ target }) => target,
    },
    {
      name: 'directed',
      kind: 'boolean',
      isRequired: true,
      says: 'Whether it has a direction.',
      of: ({ directed }) => directed,
    },
    {
      name: 'probability',
      kind: 'number',
      says: 'Of a candidate of an identification: how likely it is, 0 to 1. Rival candidates of one identification exclude each other; what they leave to 1 is unknown.',
      of: ({ probability }) => probability,
    },
    {
      name: 'details',
      kind: 'json',
      says: 'What else it says, as JSON (RFC 8259).',
      of: ({ details }) => details,
    },
  ],
};

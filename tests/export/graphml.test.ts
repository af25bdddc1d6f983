import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { GraphMLParser, type Graph as GraphmlGraph } from 'graphml-js';
import { MultiGraph } from 'graphology';
import { parse } from 'graphology-graphml';
import { beforeAll, describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { exportFiles } from '../../src/questions/exports.ts';
import type { State } from '../../src/state/state.ts';
import { demoArchive } from '../trends/demo.ts';
import { everyId } from './every-id.ts';

// GraphML of the demo archive, held to the published XML Schema (tests/fixtures/graphml) and read by graphology's reader and by another (graphml-js).

let state: State;
beforeAll(async () => {
  state = (await demoArchive()).state('desk');
});

const texts = new Map<string | undefined, Promise<string>>();
function graphml(id?: string): Promise<string> {
  const known = texts.get(id) ?? written(id);
  texts.set(id, known);
  return known;
}

async function written(id?: string): Promise<string> {
  const [file] = await exportFiles(state, id, 'graphml', { date: '2026-11-30' });
  let text = '';
  for await (const piece of file!.pieces(() => undefined)) text += piece;
  return text;
}

const folder = join(import.meta.dirname, '../fixtures/graphml');
const schemaFile = (name: string) => ({
  fileName: name,
  contents: readFileSync(join(folder, name), 'utf8').replaceAll(
    'http://graphml.graphdrawing.org/xmlns/1.1/',
    '',
  ),
});
async function errorsOf(xml: string): Promise<readonly string[]> {
  const { valid, errors } = await validateXML({
    xml: { fileName: 'graph.graphml', contents: xml },
    schema: schemaFile('graphml.xsd'),
    preload: ['graphml-structure.xsd', 'xlink.xsd'].map(schemaFile),
    maxMemoryPages: 16_384,
  });
  expect(valid).toBe(errors.length === 0);
  return errors.map(({ message }) => message);
}

describe('the published schema', () => {
  test('accepts a device and everything', async () => {
    expect(await errorsOf(await graphml('tarn-sennit-3'))).toEqual([]);
    expect(await errorsOf(await graphml())).toEqual([]);
  });

  test('refuses ids with slashes, a key that is not declared and an edge to nowhere, so that it checks something', async () => {
    const text = await graphml('tarn-sennit-3/a');
    expect(
      await errorsOf(text.replace('<node id="tarn-sennit-3_002Fa"', '<node id="tarn-sennit-3/a"')),
    ).not.toEqual([]);
    expect(await errorsOf(text.replace('<data key="kind">', '<data key="never">'))).not.toEqual([]);
    expect(await errorsOf(text.replace(/target="[^"]+"/u, 'target="nowhere"'))).not.toEqual([]);
  });
});

test('graphology reads every id, once, and every edge with its odds', async () => {
  const graph = parse(MultiGraph, await graphml());
  const nodes = graph.mapNodes((key, attributes) => ({ key, ...attributes }) as Record<string, unknown>);
  const ids = nodes.flatMap(({ kind, id }) => (kind === 'Term' ? [] : [id as string]));
  expect(ids.toSorted()).toEqual([...everyId(state)].toSorted());
  // The identifier says the same: what an NMTOKEN may not hold is written out and nothing else.
  for (const { key, id } of nodes)
    expect(
      (key as string).replaceAll(/_([0-9A-F]{4})/gu, (_, code: string) =>
        String.fromCharCode(Number.parseInt(code, 16)),
      ),
    ).toBe(id);
  const odds = [...state.specimenRows()].flatMap(({ id }) =>
    state
      .specimen(id)!
      .dossier.identifications.flatMap(({ candidates }) => candidates.map(({ probability }) => probability)),
  );
  const read = graph
    .filterEdges((_, { label }) => label === 'IDENTIFIED_AS')
    .map((edge) => graph.getEdgeAttribute(edge, 'probability') as number);
  expect(read.toSorted()).toEqual(odds.toSorted());
  expect(
    graph
      .filterUndirectedEdges(() => true)
      .every((edge) => graph.getEdgeAttribute(edge, 'label') === 'CONNECTS'),
  ).toBe(true);
});

test('another reader finds the same nodes and edges, each with what it is', async () => {
  const text = await graphml();
  const ours = parse(MultiGraph, text);
  const theirs = await new Promise<GraphmlGraph>((resolve, reject) => {
    new GraphMLParser().parse(text, (error, graph) => (error ? reject(error) : resolve(graph)));
  });
  const sorted = (rows: readonly unknown[]) => rows.map((row) => JSON.stringify(row)).sort();
  expect(sorted(theirs.nodes.map(({ id, attributes }) => [id, attributes.id, attributes.kind]))).toEqual(
    sorted(ours.mapNodes((key, { id, kind }) => [key, id, kind])),
  );
  expect(
    sorted(theirs.edges.map(({ source, target, attributes }) => [source, target, attributes.label])),
  ).toEqual(sorted(ours.mapEdges((_, { label }, source, target) => [source, target, label])));
});

test('keys have the types of what they hold', async () => {
  const graph = parse(MultiGraph, await graphml('tarn-sennit-3/a'));
  const { dossier } = state.specimen('tarn-sennit-3/a')!;
  const read = new Map(graph.mapNodes((_, attributes) => [attributes.id as string, attributes]));
  for (const { id, at, rotation, pins, side, fitted } of dossier.components) {
    const attributes = read.get(`tarn-sennit-3/a/${id}`)!;
    expect([
      attributes.x_mm,
      attributes.y_mm,
      attributes.rotation_deg,
      attributes.pin_count,
      attributes.side,
      attributes.fitted,
    ]).toEqual([at?.x, at?.y, rotation, pins, side, fitted !== false]);
  }
});

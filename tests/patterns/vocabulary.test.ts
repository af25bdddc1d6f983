import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { vocabularyOf } from '../../src/gql/gql.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { VOCABULARY } from '../../src/pattern-texts/vocabulary.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { patternIndexOf } from '../../src/patterns/pattern-index.ts';

test('the vocabulary holds every name that the demo archive gives the engine', async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(readFiles(['seed-data']).documents, { actor: 'test', reason: 'demo' });
  const view = archive.state('desk');
  const index = patternIndexOf(view);
  index.align(view);
  const { labels, edgeLabels, properties } = vocabularyOf(index.graph);
  const missing = (used: Iterable<string>, known: readonly string[]) =>
    // Names with a space are the graph's own: no text is let through that uses one.
    [...used].filter((name) => name !== '' && !name.includes(' ') && !known.includes(name));
  expect(missing(labels, VOCABULARY.labels)).toEqual([]);
  expect(missing(edgeLabels, VOCABULARY.edgeLabels)).toEqual([]);
  expect(missing(properties, VOCABULARY.properties)).toEqual([]);
});

test('mistyped labels, links and properties are errors with near names; unbound variables too', async () => {
  const archive = await Archive.open(new MemoryJournal());
  const view = archive.state('reader');
  const mistake = (text: string) => findPattern(view, { text }).then(String, (error: Error) => error.message);
  expect(await mistake('MATCH (s:Sensr) RETURN s')).toMatch(/Sensor/u);
  expect(await mistake('MATCH (s)-[:CONECTS]-(t) RETURN s')).toMatch(/CONNECTS/u);
  expect(await mistake('MATCH (s) WHERE s.pinz > 3 RETURN s')).toMatch(/pins/u);
  expect(await mistake('MATCH (s) RETURN b')).toMatch(/Line 1, column 18/u);
});

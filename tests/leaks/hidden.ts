// What the archives of `archives.ts` hide, and what everybody sees of them that the hidden touches.

/** A word that stands in hidden records alone. */
export const SECRET = 'zebrawood';

/** Something to ask about, and what kind of thing it is; of each kind at least one is asked about everywhere. */
export interface Probe {
  readonly kind: string;
  readonly value: unknown;
  /** The field of an input that it varies, `Input.field`; absent for an argument that is no input. */
  readonly origin?: string;
}

const of = (kind: string, ...values: readonly unknown[]): readonly Probe[] =>
  values.map((value) => ({ kind, value }));

/** Ids that only the desk may know of. */
export const HIDDEN_IDS: readonly Probe[] = [
  ...of('hidden device', 'veil-ring-1'),
  ...of('hidden device', 'aa-hidden'),
  ...of('hidden device', 'dev-recalled'),
  ...of('hidden device', 'dev-draft', 'dev-coming'),
  ...of('hidden specimen', 'aa-hidden/a', 'veil-ring-1/a', 'dev-recalled/a'),
  ...of('hidden specimen', 'dev-3/b'),
  ...of('hidden thing', 'aa-hidden/a/U2', 'dev-recalled/a/U1', 'veil-ring-1/a/U5'),
  ...of('hidden thing', 'dev-3/b/U2', 'dev-3/b/main:U2'),
  ...of('hidden thing', 'veil-ring-1/a/main', 'dev-3/b/sense'),
  ...of('hidden thing', 'aa-hidden/a/sda', 'dev-3/b/v1'),
  ...of('hidden thing', 'aa-hidden/a/o1', 'aa-hidden/a/n1', 'dev-3/b/o1', 'dev-recalled/a/o5'),
  ...of('hidden thing', 'aa-hidden/a/p1'),
  ...of('hidden thing', 'dev-recalled/a/sensing'),
  ...of('hidden thing', 'veil-ring-1/a/teardown'),
  ...of('hidden maker or line', 'veil'),
  ...of('hidden maker or line', 'veil-ring'),
  ...of('hidden publication', 'hidden-film'),
  ...of('hidden publication', 'embargoed-letter'),
  ...of('hidden publication', 'recalled-letter'),
  ...of('hidden part, source or pattern', 'quistle/QWR4T50', 'quistlo/QM1'),
  ...of('hidden part, source or pattern', 'note-3', 'sensor-on-the-board'),
  ...of('hidden feed', 'gauges-counted'),
  ...of('hidden list mapping', 'gauges-listed'),
  ...of('hidden maker or line', 'quistlo'),
  ...of('hidden claim', 'letter-three/c2', 'hidden-film/c2', 'hidden-film/c1', 'recalled-letter/c1'),
  ...of(
    'hidden decision',
    'aa-hidden:sensor-on-the-bus',
    'dev-recalled:sensor-on-the-bus',
    'dev-3:no-such-pattern',
  ),
  ...of('hidden decision or correction', 'correction-1', 'correction-2026-01-20-00000000'),
  // A hidden id with its last letters otherwise: what is near is told of what one may see alone.
  ...of(
    'misspelt hidden id',
    'aa-hiden',
    'dev-recaled',
    'veil-ring-2',
    'dev-drafd',
    'quistle/QWR4T51',
    'note-4',
  ),
  ...of('misspelt hidden id', 'aa-hidden/b', 'dev-3/c'),
  ...of('misspelt hidden id', 'dev-3/b/U22', 'aa-hidden/a/o11'),
  ...of('misspelt hidden id', 'viel', 'veil-rings', 'hidden-films', 'recalled-leter', 'hidden-film/c3'),
  ...of(
    'earlier instant',
    'dev-recalled@2026-02-26T00:00:00.000Z',
    'recalled-letter/c1@2026-02-26T00:00:00.000Z',
    'aa-hidden@2026-02-26T00:00:00.000Z',
    'veil-ring-1/a/o1@2026-02-26T00:00:00.000Z',
    'dev-ended@2026-03-10T00:00:00.000Z',
    'dev-3/b@2026-04-01T00:00:00.000Z',
  ),
];

/** Ids that everybody may know of. */
export const VISIBLE_IDS: readonly Probe[] = [
  ...of('visible thing', 'dev-1', 'dev-0', 'dev-3', 'dev-2'),
  ...of('visible thing', 'dev-ended', 'dev-ended/a'),
  ...of('visible thing', 'dev-known'),
  ...of('visible thing', 'dev-1/a', 'dev-3/a'),
  ...of('visible thing', 'dev-1/a/U2', 'dev-3/a/U2', 'dev-10/a/U5', 'dev-9/a/U2'),
  ...of('visible thing', 'dev-1/a/o1', 'dev-0/a/o1'),
  ...of('visible thing', 'dev-1/a/sda', 'dev-1/a/main', 'dev-1/a/p1', 'dev-1/a/sensing', 'dev-1/a/teardown'),
  ...of('visible record', 'tarn', 'quistle'),
  ...of('visible record', 'tarn-sennit', 'tarn-lobe'),
  ...of('visible record', 'letter-one', 'letter-two'),
  ...of('visible record', 'letter-one/c1', 'letter-two/c1'),
  ...of('visible record', 'note-1'),
  ...of('visible record', 'sensor-on-the-bus', 'part-shared-by-makers'),
  ...of('visible record', 'quistle/QWR4T10', 'quistle/QWR2001', 'ostrel/OS7'),
  ...of('visible record', 'dev-1:sensor-on-the-bus', 'dev-5:sensor-on-the-bus'),
  ...of('nothing', 'dev-33', 'tran', 'letter-on', 'quistle/QWR4T11', 'note-2', 'sensor-on-the-buss'),
  ...of('nothing', 'never-was', '', 'a/b/c/d', 'dev-1@then'),
];

/** Words, as one would search for them. */
export const WORDS: readonly Probe[] = [
  ...of('hidden word', SECRET, 'zebra', `film ${SECRET}`),
  ...of('hidden id as words', 'aa-hidden', 'veil', 'recalled'),
  ...of('words of both', 'dev', 'tarn sennit', '4T10', 'motion', 'plain', 'letter'),
];

/** Patterns that name hidden things, count them, or depend in their rows or order on what else there is. */
export const PATTERN_TEXTS: readonly Probe[] = [
  ...of(
    'pattern that names a hidden thing',
    "MATCH (d:Device) WHERE d.id = 'aa-hidden' RETURN d",
    "MATCH (x:Component) WHERE x.specimen = 'dev-3/b' RETURN x",
    `MATCH (d:Device) WHERE d.name CONTAINS '${SECRET}' RETURN d.name`,
    "MATCH (m:Maker) WHERE m.id = 'veil' RETURN m, m.name",
    "MATCH (x) WHERE ELEMENT_ID(x) = 'aa-hidden/a/U2' RETURN x",
  ),
  ...of(
    'pattern that counts',
    'MATCH (d:Device) RETURN COUNT(*) AS n',
    'MATCH (x:Sensor) RETURN COUNT(*) AS n, MIN(x.designator) AS least',
    'MATCH (p:Part)<-[:IDENTIFIED_AS]-(x:Component) RETURN p, COUNT(*) AS uses',
    'MATCH (d:Device)-[:MADE_BY]->(m:Maker) RETURN m, COUNT(*) AS devices',
    'MATCH (n) RETURN COUNT(*) AS n',
  ),
  ...of(
    'pattern without an order',
    'MATCH (x:Sensor) RETURN x',
    'MATCH (x:Sensor) RETURN x LIMIT 5',
    'MATCH (a:Sensor)~[:CONNECTS]~(b:Processor) RETURN a, b',
    'MATCH (a:Sensor)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(b:Sensor) RETURN a, b, p LIMIT 40',
    'MATCH (m:Maker)<-[:MADE_BY]-(d:Device) RETURN m, d',
    'MATCH p = ANY SHORTEST (a:Sensor)~[:CONNECTS]~+(b:Processor) RETURN p LIMIT 9',
  ),
  ...of(
    'pattern whose search is chosen by numbers',
    'MATCH (a:Photodiode)~[:CONNECTS]~(b:Sensor)~[:CONNECTS]~(c:Processor), (r:Regulator)-[:FEEDS]->(c) RETURN a, b, c, r',
    'MATCH (d:Device)<-[:SPECIMEN_OF]-(s:Specimen)-[:HAS_BOARD]->(b:Board)<-[:ON]-(x:Accelerometer) RETURN d, s, b, x',
    'MATCH (x:Regulator) WHERE NOT EXISTS { MATCH (x)-[:FEEDS]->(y:Sensor) } RETURN x',
  ),
  ...of('pattern with a warning', 'MATCH (d:Device) WHERE TRUE = d.name IS NULL RETURN d'),
  ...of(
    'pattern with a mistake',
    'MATCH (x:Sensr) RETURN x',
    'MATCH (x:Component) WHERE x.secret = 1 RETURN x',
    'MATCH (',
  ),
];

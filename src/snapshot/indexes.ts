import { GRAPH_COLUMNS, type RestoredGraph, type SavedGraph } from '../gql/gql.ts';
import { LESSONS, type SavedLessons } from '../identification/lessons-read.ts';
import { PATTERNS, type RestoredPatterns, type SavedPatterns } from '../patterns/pattern-index.ts';
import { keepPresence, PRESENCE, presenceKept } from '../presence/presence.ts';
import { type HeldPresence, numberedNames, PresenceRow, renumbering } from '../presence/row.ts';
import type { SpecimenRow } from '../state/facts.ts';
import type { State } from '../state/state.ts';
import { CLASSES_KEY } from '../state/unnamed/class-lessons.ts';
import type { KindSpread, SavedKinds } from '../state/unnamed/unnamed-kinds.ts';
import type { Reading, Writing } from './sections.ts';

// What is derived from facts, at rest: spreads of unnamed components, presence, what specimens teach, the pattern index.

/** Spreads by number, in the order in which a snapshot lists them. */
export class Spreads {
  readonly all: readonly KindSpread[];
  readonly #numbers: ReadonlyMap<KindSpread, number>;

  constructor(all: readonly KindSpread[]) {
    this.all = all;
    this.#numbers = new Map(all.map((spread, number) => [spread, number]));
  }

  static of({ spreads, own, classes }: SavedKinds): Spreads {
    const tokens = [classes, ...classes.including.map(({ made }) => made)].flatMap((one) => one?.token ?? []);
    return new Spreads([...spreads, ...own, ...tokens]);
  }

  /** Number of a spread; undefined for one of another table. */
  numberOf(spread: KindSpread): number | undefined {
    return this.#numbers.get(spread);
  }

  numbersOf(learnt: Iterable<KindSpread>): readonly number[] {
    return Array.from(learnt, (spread) => this.#numbers.get(spread) ?? -1);
  }
}

/** A table in words, without its numbers. */
interface WrittenKinds {
  readonly counts: readonly string[];
  readonly spreads: readonly WrittenSpread[];
  readonly own: readonly WrittenSpread[];
  /** What was taught; the spread that stands for it says nothing else. */
  readonly key: string;
  readonly drawn: readonly (readonly [id: string, length: number])[];
  /** Behind the lessons of those drawn. */
  readonly including: readonly (readonly [id: string, length: number, key: string | 0])[];
}
type WrittenSpread = readonly [key: string, kinds: KindSpread['kinds']];

export function writeKinds({ counts, spreads, own, classes }: SavedKinds, writing: Writing): void {
  const { key, drawn, including } = classes;
  const written = (all: readonly KindSpread[]) => all.map((spread) => [spread.key, spread.kinds] as const);
  writing.json('kinds', {
    counts: counts.map(([name]) => name),
    spreads: written(spreads),
    own: written(own),
    key,
    drawn: drawn.map(([id, { length }]) => [id, length]),
    including: including.map(({ id, lessons, made }) => [id, lessons.length, made?.key ?? 0]),
  } satisfies WrittenKinds);
  writing.bytes('kinds.counts', Int32Array.from(counts.flatMap(([, row]) => [...row])));
  writing.bytes(
    'kinds.lessons',
    Int32Array.from(
      [...drawn.map(([, lessons]) => lessons), ...including.map(({ lessons }) => lessons)].flatMap((all) => [
        ...all,
      ]),
    ),
  );
}

/**
 * @param nextNumber gives a spread a number that is unique in this process
 * @param known spreads that were read already, by what they say; what says the same is the same
 */
export function readKinds(
  reading: Reading,
  nextNumber: () => number,
  known: Map<string, KindSpread>,
): SavedKinds {
  const written = reading.json('kinds') as WrittenKinds;
  const rows = intsIn(reading, 'kinds.counts');
  const each = written.counts.length === 0 ? 0 : rows.length / written.counts.length;
  const lessons = intsIn(reading, 'kinds.lessons');
  const spreadOf = (key: string, kinds: KindSpread['kinds'], taught = ''): KindSpread => {
    const says = JSON.stringify([key, kinds, taught]);
    const spread = known.get(says) ?? { key, number: nextNumber(), kinds };
    known.set(says, spread);
    return spread;
  };
  const all = (list: WrittenKinds['spreads']) => list.map(([key, kinds]) => spreadOf(key, kinds));
  const tokenOf = (taught: string) => spreadOf(CLASSES_KEY, [], taught);
  let at = 0;
  const next = (length: number) => {
    at += length;
    return lessons.slice(at - length, at);
  };
  return {
    counts: written.counts.map((name, i) => [name, rows.slice(i * each, (i + 1) * each)]),
    spreads: all(written.spreads),
    own: all(written.own),
    classes: {
      key: written.key,
      token: tokenOf(written.key),
      drawn: written.drawn.map(([id, length]) => [id, next(length)]),
      including: written.including.map(([id, length, key]) => ({
        id,
        lessons: next(length),
        made: key === 0 ? undefined : { key, token: tokenOf(key) },
      })),
    },
  };
}

function intsIn(reading: Reading, name: string): Int32Array {
  const words = reading.words(name);
  return new Int32Array(words.buffer, words.byteOffset, words.length);
}

function doublesIn(reading: Reading, name: string): Float64Array {
  const bytes = reading.bytes(name);
  return new Float64Array(bytes.buffer, bytes.byteOffset, bytes.length / 8);
}

/** A presence row as plain data: flags, unnamed components, spreads, open shares, length of its lists. */
type WrittenPresence = readonly [
  flags: number,
  unnamed: number,
  learnt: readonly number[],
  open: HeldPresence['open'] | 0,
  counts: number,
  shares: number,
];

/** Presence rows of a state, as far as they are known and are what the state would read. */
export async function writePresence(state: State, spreads: Spreads, writing: Writing): Promise<void> {
  const rows: (WrittenPresence | 0)[] = [];
  const [counts, shares]: [Uint8Array[], Uint8Array[]] = [[], []];
  for (const specimen of state.specimenRows()) {
    await writing.rest();
    const held = presenceKept(state, specimen)?.held;
    const learnt = spreads.numbersOf(held?.learnt ?? []);
    if (!held || learnt.includes(-1)) {
      rows.push(0);
      continue;
    }
    const { lists, inventoried, bench, hasNets, open } = held;
    const flags = (lists ? 1 : 0) | (inventoried ? 2 : 0) | (bench ? 4 : 0) | (hasNets ? 8 : 0);
    rows.push([
      flags,
      held.unnamed,
      learnt,
      open.length === 0 ? 0 : open,
      held.counts.length,
      held.shares.length,
    ]);
    counts.push(bytesOf(held.counts));
    shares.push(bytesOf(held.shares));
  }
  writing.json(`${PRESENCE}.names`, numberedNames());
  await writing.list(PRESENCE, rows);
  writing.bytes(`${PRESENCE}.counts`, counts);
  writing.bytes(`${PRESENCE}.shares`, shares);
}

/** Takes up presence rows of a state. */
export function readPresence(state: State, spreads: Spreads, reading: Reading): void {
  const names = reading.json(`${PRESENCE}.names`) as string[];
  const rows = reading.json(PRESENCE) as (WrittenPresence | 0)[];
  const counts = reading.words(`${PRESENCE}.counts`);
  const shares = doublesIn(reading, `${PRESENCE}.shares`);
  const renumbered = renumbering(names);
  const sets = new Map<string, ReadonlySet<KindSpread>>();
  let [atCounts, atShares] = [0, 0];
  const specimens = state.specimenRows();
  rows.forEach((row, at) => {
    if (row === 0) return;
    const [flags, unnamed, numbers, open, countsLength, sharesLength] = row;
    const key = numbers.join(' ');
    let learnt = sets.get(key);
    if (!learnt) {
      learnt = new Set(numbers.map((number) => spreads.all[number]));
      sets.set(key, learnt);
    }
    const held = {
      lists: (flags & 1) !== 0,
      inventoried: (flags & 2) !== 0,
      bench: (flags & 4) !== 0,
      hasNets: (flags & 8) !== 0,
      unnamed,
      learnt,
      open: open === 0 ? [] : open,
      counts: counts.subarray(atCounts, atCounts + countsLength),
      shares: shares.subarray(atShares, atShares + sharesLength),
    };
    atCounts += countsLength;
    atShares += sharesLength;
    keepPresence(specimens[at] as SpecimenRow, new PresenceRow(renumbered(held)));
  });
}

export async function writeLessons(
  { places, marked, ...saved }: SavedLessons,
  writing: Writing,
): Promise<void> {
  writing.json(LESSONS, saved);
  await writing.list(`${LESSONS}.marked`, marked);
  writing.bytes(`${LESSONS}.places`, places);
}

export function readLessons(reading: Reading): SavedLessons {
  const saved = reading.json(LESSONS) as Omit<SavedLessons, 'places' | 'marked'>;
  const marked = reading.json(`${LESSONS}.marked`) as SavedLessons['marked'];
  return { ...saved, marked, places: reading.words(`${LESSONS}.places`) };
}

const WAYS = ['starts', 'terms', 'parts'] as const;
const DOUBTS = ['doubtStarts', 'doubtComponents', 'doubtKinds'] as const;

export function writePatterns(
  { graph, tables, columns, alternatives }: SavedPatterns,
  writing: Writing,
): void {
  writing.json(PATTERNS, { graph: graph.tables, tables });
  for (const name of DOUBTS) writing.bytes(`${PATTERNS}.${name}`, columns[name]);
  for (const name of WAYS) writing.bytes(`${PATTERNS}.ways.${name}`, alternatives[name]);
  writing.bytes(`${PATTERNS}.ways.probabilities`, alternatives.probabilities);
  for (const name of GRAPH_COLUMNS) writing.bytes(`${PATTERNS}.graph.${name}`, graph.columns[name]);
}

export function readPatterns(state: State, spreads: Spreads, reading: Reading): RestoredPatterns {
  const read = reading.json(PATTERNS) as {
    graph: SavedGraph['tables'];
    tables: SavedPatterns['tables'];
  };
  const columns = Object.fromEntries(
    GRAPH_COLUMNS.map((name) => [name, reading.shared(`${PATTERNS}.graph.${name}`)]),
  ) as unknown as RestoredGraph['columns'];
  const doubts = Object.fromEntries(
    DOUBTS.map((name) => [name, intsIn(reading, `${PATTERNS}.${name}`)]),
  ) as unknown as SavedPatterns['columns'];
  const [starts, terms, parts] = WAYS.map((name) => intsIn(reading, `${PATTERNS}.ways.${name}`)) as [
    Int32Array,
    Int32Array,
    Int32Array,
  ];
  const probabilities = doublesIn(reading, `${PATTERNS}.ways.probabilities`);
  return {
    state,
    spreads: spreads.all,
    graph: { tables: read.graph, columns },
    tables: read.tables,
    columns: doubts,
    alternatives: { starts, terms, parts, probabilities },
  };
}

function bytesOf(view: ArrayBufferView): Uint8Array {
  return new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
}

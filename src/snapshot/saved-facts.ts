import { Map as Persistent } from 'immutable';
import { COLLECTIONS, type DeviceRecord, described } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { type Facts, NO_ADDITIONS, type SpecimenRow } from '../state/facts.ts';
import { HeldBy } from '../state/held-by.ts';
import { Links } from '../state/links.ts';
import type { Names } from '../state/names.ts';
import { PackedDossier } from '../state/packed-dossier.ts';
import type { Reading, Writing } from './sections.ts';

// Facts at rest. Each of their fields has a form here: one list, which does not compile when a field is missing, so that no field can be
// forgotten. A form writes one field into sections of its own, and reads it back.

/** How a field of facts is written and read. */
interface Form<T> {
  /** @param facts those that it is a field of */
  write(value: T, writing: Writing, facts: Facts): Promise<void> | void;
  /** @param known the fields above it in the list, and the names of the rows */
  read(reading: Reading, known: Known): T;
}

interface Known {
  readonly facts: Partial<Facts>;
  readonly names: Names;
}

type Forms<T> = { readonly [K in keyof T]-?: Form<T[K]> };

/** Anything that JSON holds. */
function plain<T>(name: string): Form<T> {
  return {
    write: (value, writing) => writing.json(name, value),
    read: (reading) => reading.json(name) as T,
  };
}

/** A persistent map of what JSON holds. */
function map<V>(name: string): Form<Persistent<string, V>> {
  return {
    write: (value, writing) => writing.list(name, value),
    read: (reading) => persistent(reading.json(name) as readonly (readonly [string, V])[]),
  };
}

function persistent<V>(entries: Iterable<readonly [string, V]>): Persistent<string, V> {
  const draft = (Persistent() as Persistent<string, V>).asMutable();
  for (const [key, one] of entries) draft.set(key, one);
  return draft.asImmutable();
}

/** Rows of specimens with something beside each, which JSON holds. */
async function writeRows(
  name: string,
  rows: readonly (readonly [beside: unknown, row: SpecimenRow])[],
  writing: Writing,
): Promise<void> {
  const dossiers: Uint8Array[] = [];
  for (const [, { filed }] of rows) {
    await writing.rest();
    dossiers.push(filed.compressed);
  }
  const written = function* () {
    for (const [at, [beside, row]] of rows.entries()) yield [beside, writtenRow(row, dossiers[at])];
  };
  await writing.list(name, written());
  for (const list of LISTS) writing.bytes(`${name}.${list}`, joined(rows.map(([, row]) => row[list])));
  writing.bytes(`${name}.dossiers`, dossiers);
}

/** Dossiers stay as they are stored, and are unpacked when one is asked for. */
function readRows<T>(name: string, reading: Reading): readonly (readonly [beside: T, row: SpecimenRow])[] {
  const written = reading.json(name) as [T, WrittenRow][];
  const lists = LISTS.map((list) => new Cutter(reading.words(`${name}.${list}`)));
  const dossiers = new Cutter(reading.bytes(`${name}.dossiers`));
  return written.map(([beside, row]) => {
    const [id, deviceId, visibility, embargoUntil, openedOn, version, marks, lengths, dossier, added] = row;
    const [columns, parts, named] = lists.map((list, at) => list.next(lengths[at])) as [
      Uint32Array,
      Uint32Array,
      Uint32Array,
    ];
    return [
      beside,
      {
        id,
        deviceId,
        visibility,
        embargoUntil: embargoUntil === 0 ? undefined : embargoUntil,
        openedOn,
        version,
        marks: marks === 0 ? [] : marks,
        columns,
        parts,
        named,
        filed: new PackedDossier(dossiers.next(dossier)),
        added: added === 0 ? NO_ADDITIONS : added,
      },
    ];
  });
}

/** Lists of numbers in a row, which lie one behind the other. */
const LISTS = ['columns', 'parts', 'named'] as const;

/** A row as plain data, with the lengths of its lists and its dossier. */
type WrittenRow = readonly [
  id: string,
  deviceId: string,
  visibility: SpecimenRow['visibility'],
  embargoUntil: string | 0,
  openedOn: string,
  version: number,
  marks: SpecimenRow['marks'] | 0,
  lengths: readonly number[],
  dossier: number,
  added: SpecimenRow['added'] | 0,
];

function writtenRow(row: SpecimenRow, dossier: Uint8Array): WrittenRow {
  const { id, deviceId, visibility, embargoUntil, openedOn, version, marks, added, ...more } = row;
  // Fields that are not above are lists, or the dossier: another one does not compile.
  more satisfies Record<(typeof LISTS)[number] | 'filed', unknown>;
  ({}) satisfies Record<Exclude<keyof typeof more, (typeof LISTS)[number] | 'filed'>, never>;
  return [
    id,
    deviceId,
    visibility,
    embargoUntil ?? 0,
    openedOn,
    version,
    marks.length === 0 ? 0 : marks,
    LISTS.map((list) => row[list].length),
    dossier.length,
    added === NO_ADDITIONS ? 0 : added,
  ];
}

const FORMS: Forms<Facts> = {
  sequence: plain('sequence'),
  instant: plain('instant'),
  records: {
    async write(records, writing) {
      for (const name of COLLECTIONS) await writing.list(`records.${name}`, records[name]);
    },
    read: (reading) =>
      Object.fromEntries(
        COLLECTIONS.map((name) => [
          name,
          persistent(reading.json(`records.${name}`) as readonly (readonly [string, unknown])[]),
        ]),
      ) as unknown as Facts['records'],
  },
  // What is said of a device follows from its record, but for an older form of it.
  devices: {
    write: (devices, writing, { records }) => writing.list('devices', writtenDevices(devices, records)),
    read: (reading, { facts }) =>
      persistent(
        (reading.json('devices') as [string, string[], Device?][]).map(([id, specimens, said]) => {
          const device = said ?? described(facts.records?.devices.get(id) as DeviceRecord);
          return [id, { device, specimens }];
        }),
      ),
  },
  specimens: {
    write: (specimens, writing) =>
      writeRows(
        'specimens',
        [...specimens.values()].map((row) => [0, row]),
        writing,
      ),
    read: (reading) => persistent(readRows<0>('specimens', reading).map(([, row]) => [row.id, row])),
  },
  // Follow from the specimens: each row lists the parts that it may hold.
  holders: {
    write: () => undefined,
    read: (_, { facts, names }) => holdersIn(facts.specimens as Facts['specimens'], names),
  },
  links: {
    write: (links, writing) => writing.list('links', links),
    read(reading) {
      const bytes = reading.bytes('links');
      return Links.restored(() => JSON.parse(Buffer.from(bytes).toString('utf8')));
    },
  },
  judgements: map('judgements'),
  corrections: plain('corrections'),
  standingRecords: map('standingRecords'),
  standingSpecimens: {
    write: (standing, writing) =>
      writeRows(
        'standingSpecimens',
        [...standing].map(([id, { version, until, ...more }]) => {
          more satisfies Record<never, never>;
          return [[id, until], version];
        }),
        writing,
      ),
    read: (reading) =>
      persistent(
        readRows<[string, number]>('standingSpecimens', reading).map(([[id, until], version]) => [
          id,
          { version, until },
        ]),
      ),
  },
  recalls: map('recalls'),
};

/** Of each device its id, its specimens and, where it does not follow from the record, what is said of it. */
function* writtenDevices(
  devices: Facts['devices'],
  records: Facts['records'],
): Generator<readonly [id: string, specimens: readonly string[], device?: Device]> {
  for (const [id, { device, specimens, ...more }] of devices) {
    more satisfies Record<never, never>;
    const record = records.devices.get(id);
    const follows = record && JSON.stringify(described(record)) === JSON.stringify(device);
    yield follows ? [id, specimens] : [id, specimens, device];
  }
}

function joined(lists: readonly Uint32Array[]): Uint32Array {
  const all = new Uint32Array(lists.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const list of lists) {
    all.set(list, at);
    at += list.length;
  }
  return all;
}

/** Cuts a list into pieces, front to back; pieces are views. */
class Cutter<T extends Uint32Array | Uint8Array> {
  readonly #all: T;
  #at = 0;

  constructor(all: T) {
    this.#all = all;
  }

  next(length: number): T {
    const from = this.#at;
    this.#at += length;
    return this.#all.subarray(from, this.#at) as T;
  }
}

const FIELDS = Object.keys(FORMS) as (keyof Facts)[];

/** Writes facts. */
export async function writeFacts(facts: Facts, writing: Writing): Promise<void> {
  for (const field of FIELDS) {
    await (FORMS[field] as Form<unknown>).write(facts[field], writing, facts);
    await writing.rest();
  }
}

/** Reads what {@link writeFacts} wrote. @param names those of the rows */
export function readFacts(reading: Reading, names: Names): Facts {
  const facts: Partial<Record<keyof Facts, unknown>> = {};
  const known = { facts: facts as Partial<Facts>, names };
  for (const field of FIELDS) facts[field] = (FORMS[field] as Form<unknown>).read(reading, known);
  return facts as unknown as Facts;
}

function holdersIn(specimens: Facts['specimens'], names: Names): Facts['holders'] {
  const ids = new Map<number, string[]>();
  for (const { id, parts } of specimens.values())
    for (const part of parts) {
      const known = ids.get(part);
      if (known) known.push(id);
      else ids.set(part, [id]);
    }
  const draft = (Persistent() as Facts['holders']).asMutable();
  for (const [part, of] of ids) draft.set(names.textOf(part), HeldBy.restored(of));
  return draft.asImmutable();
}

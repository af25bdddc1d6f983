import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { Change, Entry } from '../../src/model/entry.ts';
import { patternRows } from '../../src/questions/patterns.ts';
import { Holder } from '../../src/state/holder.ts';
import { listDevices } from '../../src/state/lists/device-list.ts';
import type { State } from '../../src/state/state.ts';
import { BY, catalogueChanges, dossierChange } from './archive-of.ts';
import { contentOf } from './content-of.ts';

// Earlier states share rows, records, indexes and caches with the present one. Each is held to an archive of its own, folded
// from the first entries alone, that shares nothing: what it holds, and what every index makes of it, asked in any order,
// with the present in between and while entries come in.

const MINUTE = 60_000;
const START = Date.UTC(2026, 0, 1);
const DEVICES = ['one', 'two', 'three'];
const at = (minutes: number) => new Date(START + minutes * MINUTE).toISOString();

const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'quistle', name: 'Quistle', makes: ['parts'] },
    { id: 'tarn', name: 'Tarn', makes: ['devices'] },
  ],
  parts: [
    { number: 'A', maker: 'quistle', categories: ['Accelerometer'] },
    { number: 'B', maker: 'quistle', categories: ['Microcontroller'] },
  ],
});

const part = fc.constantFrom('quistle/A', 'quistle/B');
const device = fc.constantFrom(...DEVICES);
const specimen = fc.constantFrom('a', 'b');

const change: fc.Arbitrary<Change> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc
      .record({ device, specimen, part, name: fc.constantFrom('Plain', 'Shining'), marked: fc.boolean() })
      .map((drawn) =>
        dossierChange({
          device: {
            id: drawn.device,
            name: `${drawn.name} ${drawn.device}`,
            maker: 'tarn',
            released: '2020',
            bodySite: 'wrist',
          },
          specimen: { id: drawn.specimen },
          boards: [{ id: 'main', kind: 'rigid' }],
          components: [
            { id: 'U1', board: 'main', ...(drawn.marked ? { marking: 'QA1' } : {}) },
            { id: 'U2', board: 'main', package: 'LGA-12' },
          ],
          connections: [{ between: ['U1', 'U2'], medium: 'trace' }],
          identifications: [{ component: 'U1', candidates: [{ part: drawn.part, probability: 0.97 }] }],
        }),
      ),
  },
  fc.record({ device, specimen, text: fc.constantFrom('matt', 'shining') }).map((drawn) => ({
    ...BY,
    kind: 'observation-recorded' as const,
    payload: {
      specimen: `${drawn.device}/${drawn.specimen}`,
      observation: { id: `o-${drawn.text}`, about: ['U1'], kind: 'appearance' as const, text: drawn.text },
    },
  })),
  fc.record({ device, specimen, part }).map((drawn) => ({
    ...BY,
    kind: 'identification-set' as const,
    payload: {
      specimen: `${drawn.device}/${drawn.specimen}`,
      identification: {
        component: 'U2',
        candidates: [{ part: drawn.part, probability: 0.9 }],
        state: 'proposed' as const,
        basis: [],
      },
    },
  })),
  fc
    .constantFrom('Accelerometer' as const, 'PressureSensor' as const)
    .map(
      (category) =>
        catalogueChanges({ parts: [{ number: 'A', maker: 'quistle', categories: [category] }] })[0] as Change,
    ),
  device.map((id) => ({
    ...BY,
    kind: 'decision-judged' as const,
    payload: { device: id, pattern: 'any', verdict: 'endorsed' as const, evidence: '' },
  })),
);

/** Changes that a journal could hold: nothing names a specimen or device before it was described. */
function possible(changes: readonly Change[]): readonly Change[] {
  const known = new Set<string>();
  return changes.filter(({ kind, payload }) => {
    if (kind === 'dossier-put') {
      const id = typeof payload.device === 'string' ? payload.device : payload.device.id;
      known.add(id).add(`${id}/${payload.specimen.id}`);
      return true;
    }
    if (kind === 'observation-recorded' || kind === 'identification-set') return known.has(payload.specimen);
    return kind !== 'decision-judged' || known.has(payload.device);
  });
}

const PATTERNS = [
  'MATCH (a:Accelerometer)-[:CONNECTS]-(b) RETURN a.specimen, b.designator',
  'MATCH (d:Device)<-[:SPECIMEN_OF]-(s)<-[:ON|PART_OF]-{0,2}(c:Microcontroller) RETURN d.id, c.designator',
];

/** What a state holds, and what each index answers of it. */
async function answersOf(state: State, holder: { readonly names: Holder['names'] }) {
  const rows = [];
  for (const text of PATTERNS)
    rows.push((await patternRows(state, { text })).rows.map((row) => JSON.stringify(row)).sort());
  return {
    content: contentOf(state.facts, holder.names),
    found: ['shining', 'one', 'plain u', 'qa'].map((words) => [...state.search(words)]),
    listed: listDevices(state, { has: ['Accelerometer'] } as Parameters<typeof listDevices>[1], 'ID').map(
      ({ id }) => id,
    ),
    unnamed: state.unnamed.spreadOf({ id: 'U9', package: 'LGA-12' }).kinds,
    rows,
  };
}

async function alone(entries: readonly Entry[], now: string) {
  const holder = new Holder();
  holder.apply(entries);
  const answers = await answersOf(holder.state('desk', now), holder);
  holder.close();
  return answers;
}

describe('an earlier state', () => {
  test('answers as an archive of its entries alone, in any order, while others come in', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(change, { minLength: 4, maxLength: 16 }),
        fc.array(fc.integer({ min: 0, max: 18 }), { minLength: 3, maxLength: 5 }),
        fc.integer({ min: 0, max: 8 }),
        async (drawn, looks, held) => {
          let minutes = 0;
          const journal = new MemoryJournal({ clock: () => new Date(START + minutes * MINUTE) });
          await journal.append(CATALOGUE);
          const changes = possible(drawn);
          const append = async (one: Change) => {
            minutes++;
            await journal.append([one]);
          };
          const opened = Math.max(0, changes.length - held);
          for (const one of changes.slice(0, opened)) await append(one);
          const archive = await Archive.open(journal, () => new Date(at(99)));
          const entries: Entry[] = [];
          for await (const batch of journal.read()) entries.push(...batch);
          const coming = [...changes.slice(opened)];
          for (const look of looks) {
            const before = entries.filter(({ instant }) => instant <= at(look));
            const then = await archive.asOf(at(look), 'desk');
            const facts = await answersOf(then, then.shared);
            expect(facts).toEqual(await alone(before, at(look)));
            const next = coming.shift();
            if (next) {
              await append(next);
              await archive.follow();
              for await (const batch of journal.read({ after: entries.length })) entries.push(...batch);
            }
            const present = archive.state('desk');
            expect(await answersOf(present, present.shared)).toEqual(await alone(entries, at(99)));
          }
          await archive.close();
        },
      ),
      { numRuns: 20 },
    );
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';
import { BY, catalogueChanges, dossierChange, entriesOf } from './archive-of.ts';
import { contentOf } from './content-of.ts';

// What readers see, held to an archive in which the hidden never was: the same journal with every hidden dossier and
// publication left out, folded anew.

const HOURS = Array.from({ length: 6 }, (_, hour) => `2027-01-01T0${hour}:00:00.000Z`);
const DEVICES = ['one', 'two', 'three'];
const SPECIMENS = ['a', 'b'];

interface Hiding {
  readonly visibility: 'published' | 'draft' | 'embargoed';
  readonly embargoUntil?: string;
}

const hiding: fc.Arbitrary<Hiding> = fc.oneof(
  fc.constant({ visibility: 'published' as const }),
  fc.constant({ visibility: 'draft' as const }),
  fc.constantFrom(...HOURS).map((embargoUntil) => ({ visibility: 'embargoed' as const, embargoUntil })),
);

const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'quillon', name: 'Quillon', makes: ['parts'] },
    ...DEVICES.map((id) => ({ id: `maker-${id}`, name: id, makes: ['devices' as const] })),
  ],
  productLines: DEVICES.map((id) => ({ id: `line-${id}`, name: id, maker: `maker-${id}` })),
  parts: [
    { number: 'A', maker: 'quillon', categories: ['Accelerometer'] },
    { number: 'B', maker: 'quillon', categories: ['Microcontroller'], relabels: 'quillon/A' },
  ],
});

const dossier = (device: string, specimen: string, hidden: Hiding, part: string) =>
  dossierChange({
    ...hidden,
    // The first specimen describes the device, the second only names it.
    device:
      specimen === 'a'
        ? {
            id: device,
            name: device,
            maker: `maker-${device}`,
            productLine: `line-${device}`,
            released: '2020',
            bodySite: 'wrist' as const,
          }
        : device,
    specimen: { id: specimen },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: [{ id: 'U1', board: 'main' }],
    identifications: [{ component: 'U1', candidates: [{ part: `quillon/${part}`, probability: 0.97 }] }],
  });

interface Step {
  readonly change: Change;
  /** What it is about: `device/specimen`, a publication, or undefined for what everybody sees. */
  readonly about?: string;
  readonly hidden?: Hiding;
}

const step: fc.Arbitrary<Step> = fc.oneof(
  fc
    .tuple(fc.constantFrom(...DEVICES), fc.constantFrom(...SPECIMENS), hiding, fc.constantFrom('A', 'B'))
    .map(([device, specimen, hidden, part]) => ({
      change: dossier(device, specimen, hidden, part),
      about: `${device}/${specimen}`,
      hidden,
    })),
  fc.tuple(fc.constantFrom('p', 'q'), hiding, fc.constantFrom(...DEVICES)).map(([id, hidden, device]) => ({
    change: catalogueChanges({
      publications: [
        {
          ...hidden,
          id,
          kind: 'article',
          title: id,
          claims: [{ id: 'c', sentence: 'So it is.', supportedBy: [`${device}/a/U1`] }],
        },
      ],
    })[0] as Change,
    about: id,
    hidden,
  })),
  fc.tuple(fc.constantFrom(...DEVICES), fc.constantFrom(...SPECIMENS)).map(([device, specimen]) => ({
    change: {
      ...BY,
      kind: 'observation-recorded' as const,
      payload: {
        specimen: `${device}/${specimen}`,
        observation: { id: 'o1', about: ['U1'], kind: 'trace' as const, text: 'seen' },
      },
    },
    about: `${device}/${specimen}`,
  })),
  fc.constantFrom(...DEVICES).map((device) => ({
    change: {
      ...BY,
      kind: 'decision-judged' as const,
      payload: { device, pattern: 'any', verdict: 'endorsed' as const, evidence: '' },
    },
    about: `${device}/a`,
  })),
  fc.constantFrom('A', 'B').map((number) => ({
    change: catalogueChanges({
      parts: [{ number, maker: 'quillon', categories: ['PressureSensor'] }],
    })[0] as Change,
  })),
);

/** Steps that a journal could hold: nothing names a specimen or device before it was described. */
function possible(steps: readonly Step[]): readonly Step[] {
  const known = new Set<string>();
  return steps.filter(({ change, about }) => {
    if (change.kind === 'dossier-put') {
      const [device, specimen] = (about as string).split('/');
      if (specimen !== 'a' && !known.has(`${device}/a`)) return false;
      known.add(about as string);
    }
    if (change.kind === 'observation-recorded' || change.kind === 'decision-judged')
      return known.has(about as string);
    return true;
  });
}

function isOpen(hidden: Hiding | undefined, now: string): boolean {
  if (!hidden) return false;
  return (
    hidden.visibility === 'published' || (hidden.embargoUntil !== undefined && hidden.embargoUntil <= now)
  );
}

/** The changes of which readers know: those about things that are open as last filed. */
function openOnly(steps: readonly Step[], now: string): readonly Change[] {
  const last = new Map<string, Hiding>();
  for (const { about, hidden } of steps) if (about !== undefined && hidden) last.set(about, hidden);
  const deviceShows = (device: string) => SPECIMENS.some((one) => isOpen(last.get(`${device}/${one}`), now));
  return steps.flatMap(({ change, about }): readonly Change[] => {
    if (about === undefined) return [change];
    const [device] = about.split('/') as [string];
    if (change.kind === 'decision-judged') return deviceShows(device) ? [change] : [];
    if (change.kind !== 'dossier-put') return isOpen(last.get(about), now) ? [change] : [];
    // An earlier filing was open or not; what stands is as last filed.
    const payload = { ...change.payload, embargoUntil: undefined, ...last.get(about) };
    if (isOpen(last.get(about), now)) return [{ ...change, payload } as Change];
    if (typeof payload.device === 'string' || !deviceShows(device)) return [];
    // A device is known through its other specimen, and so is what the hidden one says of the device itself.
    const { visibility, embargoUntil } = payload;
    const record = { ...payload.device, visibility, embargoUntil };
    return [{ ...BY, kind: 'record-put', payload: { collection: 'devices', record } } as Change];
  });
}

const folded = (changes: readonly Change[]) => {
  const holder = new Holder();
  holder.apply(entriesOf(changes));
  return holder;
};

/** Makers and lines of devices that nobody sees are in the journal without the hidden, and readers see neither. */
function seenBy(holder: Holder, now: string) {
  const { judgements, ...content } = contentOf(holder.state('reader', now).facts, holder.names);
  // The instants of entries follow from their numbers here, which differ.
  return {
    ...content,
    judgements: judgements.map(([id, all]) => [id, all.map((one) => ({ ...one, on: '' }))]),
  };
}

/** What an unnamed chip may be, learnt step by step or at once. */
const learntBy = (holder: Holder, now: string) =>
  (['reader', 'desk'] as const).map(
    (audience) => holder.state(audience, now).unnamed.spreadOf({ id: 'U9' }).kinds,
  );

describe("a reader's facts", () => {
  test('equals an archive without the hidden records, at any time and however it was imported', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(step, fc.option(fc.constantFrom(...HOURS))), { maxLength: 20 }),
        fc.constantFrom(...HOURS),
        (drawn, now) => {
          const steps = possible(drawn.map(([one]) => one));
          const looks = new Map(drawn.map(([one, look]) => [one, look]));
          const holder = folded(CATALOGUE);
          let sequence = CATALOGUE.length;
          for (const one of steps) {
            holder.apply(entriesOf([one.change], ++sequence));
            const look = looks.get(one);
            // Looks at any hour in between, in no order, bring the reader's facts along.
            if (look) seenBy(holder, look);
          }
          const without = folded([...CATALOGUE, ...openOnly(steps, now)]);
          const expected = seenBy(without, now);
          expect(seenBy(holder, now)).toEqual(expected);
          expect(learntBy(holder, now)).toEqual(learntBy(without, now));
          expect(seenBy(folded([...CATALOGUE, ...steps.map(({ change }) => change)]), now)).toEqual(expected);
        },
      ),
      { numRuns: 300 },
    );
  });

  test('stays the same object while nothing in it changes', () => {
    const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
    const before = holder.state('reader', HOURS[0] as string);
    holder.apply(entriesOf([dossier('two', 'a', { visibility: 'draft' }, 'A')], holder.sequence + 1));
    expect(holder.state('reader', HOURS[1] as string)).toBe(before);
    expect(holder.state('desk', HOURS[1] as string).device('two')).toBeDefined();
    expect(before.sequence).toBeLessThan(holder.sequence);
  });

  test('the desk and the reader share the rows of what both see', () => {
    const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
    const [desk, reader] = (['desk', 'reader'] as const).map((one) => holder.state(one, HOURS[0] as string));
    expect(reader?.specimenRow('one/a')).toBe(desk?.specimenRow('one/a'));
    expect(reader?.part('quillon/A')).toBe(desk?.part('quillon/A'));
  });
});

test('a state finds the words of its own edition', () => {
  const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
  const ids = (question: string, state = holder.state('desk', HOURS[0] as string)) =>
    [...state.search(question)].map(({ id }) => id);
  const before = holder.state('desk', HOURS[0] as string);
  holder.apply(
    entriesOf(
      [
        ...catalogueChanges({ makers: [{ id: 'quillon', name: 'Renamed', makes: ['parts'] }] }),
        dossier('two', 'a', { visibility: 'published' }, 'A'),
      ],
      holder.sequence + 1,
    ),
  );
  expect(ids('renamed')).toEqual(['quillon']);
  expect(ids('renamed', before)).toEqual([]);
  expect(ids('quillon', before)).toContain('quillon');
  expect(ids('two', before)).not.toContain('two');
  expect(ids('two')[0]).toBe('two');
});

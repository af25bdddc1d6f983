import { expect, test } from 'vitest';
import { currentPayload } from '../../src/journal/payload/payload.ts';
import type { Change } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';
import { catalogueChanges, dossierChange, entriesOf } from '../state/archive-of.ts';

// In version 2 a thing filed again as a draft or under embargo was hidden from readers until it was filed as published: the fold
// kept one version of everything, and readers saw it where it was open. What journals of then say must stay so.

const NOW = '2027-06-01T00:00:00.000Z';
const DEVICE = { id: 'one', name: 'One', maker: 'maker', released: '2020', bodySite: 'wrist' } as const;
const dossier = (specimen: string, visibility: 'published' | 'draft', describes: boolean) =>
  dossierChange({ device: describes ? DEVICE : 'one', specimen: { id: specimen }, visibility });
const device = (visibility: 'published' | 'draft') =>
  catalogueChanges({ devices: [{ ...DEVICE, visibility }] })[0] as Change;
const letter = (visibility: 'published' | 'draft', title: string) =>
  catalogueChanges({ publications: [{ id: 'letter', kind: 'article', title, visibility }] })[0] as Change;

/** What readers see of a journal of version 2. */
function seenIn(changes: readonly Change[]) {
  const holder = new Holder();
  const maker = catalogueChanges({ makers: [{ id: 'maker', name: 'M', makes: ['devices'] }] });
  const older = [...maker, ...changes].map(
    (change) => ({ ...change, payload: currentPayload(change.kind, change.payload, 2) }) as Change,
  );
  holder.apply(entriesOf(older));
  return holder.state('reader', NOW);
}

test('what an entry of version 2 filed again as a draft is taken back', () => {
  const state = seenIn([
    dossier('a', 'published', true),
    dossier('a', 'draft', false),
    letter('published', 'A'),
    letter('draft', 'B'),
  ]);
  expect([state.device('one')?.id, state.specimenRow('one/a'), state.publication('letter')]).toEqual([
    'one',
    undefined,
    undefined,
  ]);
  const both = seenIn([dossier('a', 'published', true), device('draft'), dossier('a', 'draft', false)]);
  expect([both.device('one'), both.specimenRow('one/a')]).toEqual([undefined, undefined]);
});

test('a dossier that describes its device and was filed again as a draft took the device with it, unless another showed it', () => {
  expect(
    seenIn([dossier('a', 'published', true), dossier('a', 'draft', true)]).device('one'),
  ).toBeUndefined();
  const other = seenIn([
    dossier('a', 'published', true),
    dossier('b', 'published', false),
    dossier('b', 'draft', true),
  ]);
  expect([other.device('one')?.id, other.specimensOf('one').map(({ id }) => id)]).toEqual(['one', ['one/a']]);
});

test('what was filed again as published is seen again', () => {
  const state = seenIn([letter('published', 'A'), letter('draft', 'B'), letter('published', 'C')]);
  expect(state.publication('letter')?.title).toBe('C');
});

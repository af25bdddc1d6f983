import { expect, test } from 'vitest';
import { NUMBER_WORDS } from '../../src/model/number-words.ts';
import { namesOf, TERMS, termCalled } from '../../src/model/taxonomy.ts';

test('a term is found by any of its names, however their words are joined', () => {
  for (const term of TERMS) for (const name of namesOf(term)) expect(termCalled(name)).toBe(term);
  for (const name of ['Loudspeaker', 'loud-speaker', 'LOUD SPEAKER'])
    expect(termCalled(name)).toBe('Speaker');
  expect(termCalled('satellite receiver')).toBe('SatelliteReceiver');
  expect(termCalled('diesel engine')).toBeUndefined();
});

test('number words run from zero to ninety-nine without a gap', () => {
  expect([...NUMBER_WORDS.values()]).toEqual(Array.from({ length: 100 }, (_, number) => number));
  expect(NUMBER_WORDS.get('forty-eight')).toBe(48);
});

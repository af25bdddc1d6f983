import { expect, test } from 'vitest';
import { termFix } from '../../src/model/near-term.ts';
import { NUMBER_WORDS } from '../../src/model/number-words.ts';
import { namesOf, TERMS, termCalled, withArticle } from '../../src/model/taxonomy.ts';

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

test.each([
  ['Gyro', 'write Gyroscope'],
  ['loud speaker', 'write Speaker'],
  ['Acelerometer', 'did you mean "Accelerometer"?'],
  ['Zeppelin', undefined],
])('for %s, which is no term, the fix is: %s', (written, fix) => {
  expect(termFix(written)).toBe(fix);
});

// English usage, from memory: the article goes by the sound, and letters read one by one have a sound of their own.
test.each([
  ['accelerometer', 'an accelerometer'],
  ['pressure sensor', 'a pressure sensor'],
  ['infrared thermometer', 'an infrared thermometer'],
  ['usb connector', 'a usb connector'],
  ['USB connector', 'a USB connector'],
  ['led driver', 'an led driver'],
  ['nfc controller', 'an nfc controller'],
  ['RF switch', 'an RF switch'],
  ['unit', 'a unit'],
  ['ultrasonic transducer', 'an ultrasonic transducer'],
  ['hall sensor', 'a hall sensor'],
])('%s is %s', (name, written) => {
  expect(withArticle(name)).toBe(written);
});

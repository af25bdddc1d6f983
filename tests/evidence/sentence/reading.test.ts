import { describe, expect, test } from 'vitest';
import { kindsIn } from '../../../src/evidence/sentence/kinds.ts';
import { quantifiersIn } from '../../../src/evidence/sentence/quantifiers.ts';
import { quantitiesIn } from '../../../src/evidence/sentence/quantities.ts';

// English read by hand: what a reader of the sentence would say it states (common practice, no source).

describe('numbers with units', () => {
  test.each([
    ['The board is 6 mm thick.', [['mm', 5.5, 6.5]]],
    ['It sits four millimetres from the stud.', [['mm', 3.5, 4.5]]],
    ['A quiet 2.8 V supply.', [['V', 2.75, 2.85]]],
    [
      'It fell from 1.04 Pa in 2017 to 0.232 Pa in 2022.',
      [
        ['Pa', 1.035, 1.045],
        ['Pa', 0.2315, 0.2325],
      ],
    ],
    ['The cell holds about 1,500 mAh.', [['mA.h', 1350, 1650]]],
    ['Between 2 and 3 mm apart.', [['mm', 1.5, 3.5]]],
    [
      'It measures 30 × 20 × 5.5 mm.',
      [
        ['mm', 29.5, 30.5],
        ['mm', 19.5, 20.5],
        ['mm', 5.45, 5.55],
      ],
    ],
    ['It is more than 3 mm thick.', [['mm', 3, Infinity]]],
    ['It draws no more than 40 mA.', [['mA', -Infinity, 40]]],
    ['A 0.1-ohm resistor.', [['Ohm', 0.05, 0.15]]],
    ['It rose 12 per cent.', [['%', 11.5, 12.5]]],
    [
      'At 2.4 GHz and 10 kΩ.',
      [
        ['GHz', 2.35, 2.45],
        ['kOhm', 9.5, 10.5],
      ],
    ],
    [
      'It runs for 6 hours at 20 °C.',
      [
        ['h', 5.5, 6.5],
        ['Cel', 19.5, 20.5],
      ],
    ],
    [
      '3.7 V, 65 mAh',
      [
        ['V', 3.65, 3.75],
        ['mA.h', 64.5, 65.5],
      ],
    ],
    ['Half a millimetre of air.', [['mm', 0.45, 0.55]]],
    ['12.4 ± 0.2 mm', [['mm', 12.2, 12.6]]],
    [
      'It fell from 5 to 3 V.',
      [
        ['V', 4.5, 5.5],
        ['V', 2.5, 3.5],
      ],
    ],
  ] as const)('%s', (sentence, stated) => {
    const read = quantitiesIn(sentence);
    expect(read.map(({ unit }) => unit)).toEqual(stated.map(([unit]) => unit));
    stated.forEach(([, low, high], i) => {
      expect(read[i].low).toBeCloseTo(low, 9);
      expect(read[i].high).toBeCloseTo(high, 9);
    });
  });

  test.each([
    'A second, smaller processor.',
    'The QWR4T10 and the IJB826 s.',
    'In 2017 a device came out.',
    'All three accelerometers.',
    'Since the third generation.',
    'One of a kind, two in all.',
  ])('none in: %s', (sentence) => expect(quantitiesIn(sentence)).toEqual([]));
});

describe('kinds of components', () => {
  test.each([
    ['It holds a satellite receiver and a diesel engine.', ['SatelliteReceiver']],
    ['It contains no microphone.', ['no Microphone']],
    ['It has neither a compass nor a gyroscope.', ['no Magnetometer', 'no Gyroscope']],
    ['No battery charger or fuel gauge.', ['no Charger', 'no FuelGauge']],
    ['It has no second, larger memory.', ['no Memory']],
    ['It does not have a speaker.', ['no Speaker']],
    ['There is no microphone, but a speaker.', ['no Microphone', 'Speaker']],
    ['Not only a microphone.', ['Microphone']],
    ['It is about as likely as not an accelerometer.', ['Accelerometer']],
    ['All three accelerometers go dark.', ['all 3 to 3 Accelerometer']],
    ['Two unlike processors.', ['2 to 2 Processor']],
    ['Four green LEDs and an op-amp.', ['4 to 4 GreenEmitter', 'OperationalAmplifier']],
    ['No more than two batteries.', ['0 to 2 Battery']],
    ['More than two microphones.', ['3 to Infinity Microphone']],
    ['Both microphones hear.', ['all 2 to 2 Microphone']],
    ['It stands on both sides of the photodiode.', ['Photodiode']],
    ['An analogue front end.', ['AnalogueFrontEnd']],
    ['The memories.', ['Memory']],
  ])('%s', (sentence, said) => {
    const read = kindsIn(sentence).map(({ term, isDenied, count, isTotal }) =>
      [isDenied && 'no', isTotal && 'all', count && `${count.low} to ${count.high}`, term]
        .filter(Boolean)
        .join(' '),
    );
    expect(read).toEqual(said);
  });

  test('nothing is read inside a name', () => {
    const sentence = 'The Sennit 3 memory';
    expect(kindsIn(sentence)[0].count?.low).toBe(3);
    expect(kindsIn(sentence, [{ start: 4, end: 12 }])[0].count).toBeNull();
  });
});

describe('quantifiers', () => {
  test.each([
    ['Every Sennit 3 has one.', 'all'],
    ['It always sleeps.', 'all'],
    ['All rings have one.', 'all'],
    ['All of the rings have one.', 'all'],
    ['They are never apart.', 'none'],
    ['None of the rings has one.', 'none'],
    ['No device had one.', 'none'],
    ['Most bands hold a gyroscope.', 'most'],
    ['More than half of the rings do.', 'most'],
    ['Half of all bands do.', 'half'],
    ['A third of the devices do.', 'half'],
    ['The first wrist device with a compass.', 'first'],
    ['It is the first to do so.', 'first'],
    ['It is the only ring with a compass.', 'only'],
    ['It only senses temperature.', 'only'],
    ['It holds twice the charge.', 'multiple'],
    ['It has more microphones than the Conch.', 'more'],
  ])('%s', (sentence, means) => {
    expect(quantifiersIn(sentence, quantitiesIn(sentence)).map((one) => one.means)).toEqual([means]);
  });

  test.each([
    'All three accelerometers go dark.',
    'All of the two go dark.',
    'All 12 go dark.',
    'Not every Sennit 3 has one.',
    'All but one are dark.',
    'It is not always on.',
    'It was recalled.',
    'There is no doubt.',
    'The first Ferrule senses temperature.',
    'It is only 3 mm thick.',
    'It is more than 3 mm thick.',
    'It wakes only when the button is pressed.',
    'A few millimetres away.',
  ])('none in: %s', (sentence) => {
    expect(quantifiersIn(sentence, quantitiesIn(sentence))).toEqual([]);
  });
});

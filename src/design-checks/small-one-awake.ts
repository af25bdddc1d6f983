import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const smallOneAwake = defineCheck({
  name: 'small-one-awake',
  title: 'What a small part that stays awake buys, against a large one that would have to',
  required: {
    smallActive: {
      unit: 'mA',
      above: 0,
      meaning: 'Current at work of the part that stays awake.',
      typical: { low: 0.002, high: 5, note: 'common practice, no source' },
    },
    largeActive: {
      unit: 'mA',
      above: 0,
      meaning: 'Current at work of the part that may sleep.',
      typical: { low: 2, high: 200, note: 'common practice, no source' },
    },
    largeSleep: {
      unit: 'mA',
      min: 0,
      meaning: 'Current at rest of the part that may sleep.',
      typical: { low: 0.0005, high: 1, note: 'common practice, no source' },
    },
  },
  optional: {
    capacity: { unit: 'mA.h', above: 0, meaning: 'Charge the battery holds.' },
    largeShare: {
      unit: '%',
      min: 0,
      max: 100,
      meaning: 'Share of the time that the large part is woken.',
      typical: { low: 0.1, high: 20, note: 'common practice, no source' },
    },
  },
  outputs: {
    watching: { unit: 'mA', meaning: 'Current of both while the large part sleeps.' },
    ratio: { unit: '1', meaning: 'Current of the large part awake over that.' },
    breakEven: {
      unit: '%',
      meaning:
        'Share of the time awake below which the large part may be woken and the pair still draws less.',
    },
  },
  furtherOutputs: {
    watchTime: { unit: 'h', meaning: 'Time the battery would last on watching alone.' },
    averageCurrent: { unit: 'mA', meaning: 'Current of both on average.' },
  },
  formula:
    'watching = Is + Ils; with the large part awake for d: Is + d Il + (1 - d) Ils < Il when d < 1 - Is/(Il - Ils)',
  source: 'Average over a duty cycle',
  limits:
    'The small part can do the watching by itself, and the large one would otherwise never sleep; currents at the clock and ' +
    'voltage of the data sheet, time to wake left out. The verdict is a rule of this check: supports when watching takes at most ' +
    'half of the current and waking pays below half of the time, speaks against when the pair draws more even while the large part sleeps.',
  hazards: ['lithium-cell', 'probing'],
  notAbove: [{ lower: 'largeSleep', upper: 'largeActive', because: 'rest takes no more than work' }],
  compute({ smallActive, largeActive, largeSleep, capacity, largeShare }) {
    const watching = smallActive + largeSleep;
    const share = (largeShare ?? 0) / 100;
    return {
      watching,
      ratio: largeActive / watching,
      breakEven: largeActive <= watching ? 0 : 100 * (1 - smallActive / (largeActive - largeSleep)),
      watchTime: capacity === undefined ? undefined : capacity / watching,
      averageCurrent:
        largeShare === undefined ? undefined : smallActive + share * largeActive + (1 - share) * largeSleep,
    };
  },
  judge({ watching, ratio, breakEven, watchTime }) {
    const lasts = watchTime ? ` On watching alone the battery would last ${formatValue(watchTime)}.` : '';
    return {
      verdict:
        ratio.low >= 2 && breakEven.low >= 50 ? 'supports' : ratio.high <= 1 ? 'speaks-against' : 'neutral',
      sentence:
        `Watching takes ${formatValue(watching)}; the large part awake would draw ${formatValue(ratio)} times that. ` +
        (breakEven.high === 0
          ? 'The pair draws more even while the large part sleeps.'
          : `The pair draws less while the large part is woken for under ${formatValue(breakEven)} of the time.`) +
        lasts,
    };
  },
});

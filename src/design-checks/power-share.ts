import type { CheckedValue } from './box.ts';
import { defineCheck, type InputRule, type TypicalRange } from './check.ts';
import { formatValue } from './format-value.ts';

/** Subsystems whose share is calculated, and what their load is, for the meaning of the inputs. */
const LOADS = {
  sensing: 'sensors and their front ends, emitters included',
  processing: 'processors',
  radio: 'radios',
  display: 'display with its driver and light',
  haptics: 'haptic actuator with its driver',
  audio: 'microphones, codec and amplifiers',
  storage: 'memory beyond that of the processor',
} as const;
type Load = keyof typeof LOADS;
const NAMES = Object.keys(LOADS) as readonly Load[];

type Range = readonly [low: number, high: number];

/** Current at work in mA and share of the time in %; common practice, no source. */
const TYPICAL: Readonly<Record<Load, { readonly current: Range; readonly time: Range }>> = {
  sensing: { current: [0.05, 5], time: [1, 100] },
  processing: { current: [1, 20], time: [1, 20] },
  radio: { current: [3, 15], time: [0.1, 5] },
  display: { current: [5, 60], time: [1, 100] },
  haptics: { current: [50, 120], time: [0.01, 0.5] },
  audio: { current: [1, 40], time: [0.1, 50] },
  storage: { current: [3, 20], time: [0.05, 2] },
};

function typical([low, high]: Range): TypicalRange {
  return { low, high, note: 'common practice, no source' };
}

type Currents = `${Load}Current`;
type Times = `${Load}Time`;
type Shares = `${Load}Share`;

const inputs = Object.fromEntries(
  NAMES.flatMap((name): [string, InputRule][] => [
    [
      `${name}Current`,
      {
        unit: 'mA',
        min: 0,
        meaning: `Current at work of ${LOADS[name]}, as drawn from the cell.`,
        typical: typical(TYPICAL[name].current),
      },
    ],
    [
      `${name}Time`,
      {
        unit: '%',
        min: 0,
        max: 100,
        meaning: `Share of the time at work of ${LOADS[name]}.`,
        typical: typical(TYPICAL[name].time),
      },
    ],
  ]),
) as Record<Currents | Times, InputRule>;

const shares = Object.fromEntries(
  NAMES.map((name) => [`${name}Share`, { unit: '%', meaning: `Share of ${LOADS[name]} in the power.` }]),
) as Record<Shares, { unit: string; meaning: string }>;

export const powerShare = defineCheck({
  name: 'power-share',
  title: 'Share of each subsystem in the power, and how long the battery lasts with them',
  required: {
    energy: {
      unit: 'W.h',
      above: 0,
      meaning: 'Energy the battery holds.',
      typical: { low: 0.05, high: 2, note: 'common practice, no source' },
    },
    cellVoltage: {
      unit: 'V',
      above: 0,
      meaning: 'Mean voltage of the cell, which all currents are drawn at.',
      typical: { low: 3.7, high: 3.9, note: 'common practice, no source' },
    },
  },
  optional: {
    ...inputs,
    restingCurrent: {
      unit: 'mA',
      min: 0,
      meaning: 'Current of everything at rest, which flows all the time; none if not given.',
      typical: { low: 0.005, high: 0.2, note: 'common practice, no source' },
    },
  },
  outputs: {
    averageCurrent: { unit: 'mA', meaning: 'Current on average of all loads given.' },
    averagePower: { unit: 'mW', meaning: 'Power on average of all loads given.' },
    runTime: { unit: 'h', meaning: 'Run time with the loads given.' },
  },
  furtherOutputs: {
    ...shares,
    restingShare: { unit: '%', meaning: 'Share of the current at rest in the power.' },
  },
  formula: 'Pi = V Ii di; share = Pi/ΣP; t = E/ΣP, di the share of the time at work',
  source: 'Power balance: average over a duty cycle, energy over power',
  limits:
    'Constant currents, referred to the cell (losses of converters included); a load left out makes every other share look ' +
    'larger. The verdict is on saving power where most of it goes and a rule of this check: supports when one load has half of ' +
    'the power or more, speaks against when none has more than a quarter, neutral when fewer than three loads are given.',
  hazards: ['lithium-cell', 'probing'],
  alsoWanted(given) {
    const asked = NAMES.flatMap((name): (Currents | Times)[] => {
      const pair = [`${name}Current`, `${name}Time`] as const;
      return pair.some((one) => given.has(one)) ? [...pair] : [];
    });
    return asked.length > 0 ? asked : NAMES.map((name): Currents => `${name}Current`);
  },
  sameWay: true,
  compute(given) {
    const currents = NAMES.flatMap((name): [Load, number][] => {
      const [current, time] = [given[`${name}Current`], given[`${name}Time`]];
      return current === undefined || time === undefined ? [] : [[name, (current * time) / 100]];
    });
    const { restingCurrent, cellVoltage, energy } = given;
    const averageCurrent = currents.reduce((sum, [, mean]) => sum + mean, restingCurrent ?? 0);
    const averagePower = averageCurrent * cellVoltage;
    // With nothing drawn at all no load has a share; the run time, which has no end then, is refused by the frame.
    const share = (mean: number) => (averageCurrent === 0 ? 0 : (100 * mean) / averageCurrent);
    return {
      averageCurrent,
      averagePower,
      runTime: (energy * 1000) / averagePower,
      ...Object.fromEntries(currents.map(([name, mean]) => [`${name}Share`, share(mean)])),
      restingShare: restingCurrent === undefined ? undefined : share(restingCurrent),
    };
  },
  judge(values) {
    const loads = NAMES.flatMap((name): [string, CheckedValue][] => {
      const found = values[`${name}Share`];
      return found ? [[name, found]] : [];
    });
    if (values.restingShare) loads.push(['at rest', values.restingShare]);
    loads.sort(([, a], [, b]) => b.value - a.value);
    const most = { low: greatest(loads, 'low'), high: greatest(loads, 'high') };
    const named = loads.map(([name, found]) => `${name} ${formatValue(found)}`).join(', ');
    return {
      verdict:
        loads.length < 3
          ? 'neutral'
          : most.low >= 50
            ? 'supports'
            : most.high <= 25
              ? 'speaks-against'
              : 'neutral',
      sentence:
        `Of ${formatValue(values.averagePower)} on average: ${named}. ` +
        `With these loads the battery lasts ${formatValue(values.runTime)}.`,
    };
  },
});

function greatest(loads: readonly (readonly [string, CheckedValue])[], end: 'low' | 'high'): number {
  return Math.max(...loads.map(([, found]) => found[end]));
}

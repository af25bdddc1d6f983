import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

/**
 * Share of a display's power that follows the lit picture elements, by label of the component. A display that
 * gives its own light follows them wholly; behind a backlight or on reflected light the picture hardly matters.
 * Common practice, no source.
 */
export const FOLLOWS_LIT: Readonly<Record<string, number>> = Object.freeze({
  OledDisplay: 1,
  IndicatorDisplay: 1,
  LiquidCrystalDisplay: 0,
  MemoryInPixelDisplay: 0,
  ElectrophoreticDisplay: 0,
});

export const displayPower = defineCheck({
  name: 'display-power',
  title: 'Power of the display by technology and lit fraction',
  required: {
    powerFull: {
      unit: 'mW',
      above: 0,
      meaning: 'Power with all elements lit at the rated brightness.',
      typical: { low: 50, high: 400, note: 'common practice, no source' },
    },
    powerIdle: {
      unit: 'mW',
      min: 0,
      meaning: 'Power with a dark or still picture.',
      typical: { low: 0.02, high: 70, note: 'common practice, no source' },
    },
    litShare: {
      unit: '%',
      min: 0,
      max: 100,
      meaning: 'Share of the picture elements lit.',
      typical: { low: 5, high: 40, note: 'common practice, no source' },
    },
    followsLit: {
      unit: '1',
      min: 0,
      max: 1,
      meaning:
        'Share of the power that follows the lit elements: 1 for a display that gives its own light, 0 for a backlit one.',
      typical: { low: 0, high: 1, note: 'common practice, no source' },
    },
    onShare: {
      unit: '%',
      above: 0,
      max: 100,
      meaning: 'Share of the time the display is on.',
      typical: { low: 1, high: 100, note: 'common practice, no source' },
    },
  },
  optional: {
    energy: { unit: 'W.h', above: 0, meaning: 'Energy the battery holds.' },
  },
  outputs: {
    powerOn: { unit: 'mW', meaning: 'Power while on, with that picture.' },
    averagePower: { unit: 'mW', meaning: 'Power on average, off meaning none.' },
    saved: { unit: '%', meaning: 'Saved against the same display with all elements lit.' },
  },
  furtherOutputs: { lasts: { unit: 'h', meaning: 'Time the battery would last with the display alone.' } },
  formula:
    'P = Pidle + (Pfull - Pidle)(f lit + 1 - f), f the share that follows the lit elements; average = P × share on',
  source:
    'Linear power model of a self-lit display: Dong, Choi & Zhong, Power Modeling of Graphical User Interfaces on OLED ' +
    'Displays, Design Automation Conference 2009 (cited from memory)',
  limits:
    'One brightness; elements of different colour draw differently, and the power of writing a new picture counts as idle. ' +
    'The verdict is on choosing the display for a mostly dark picture and a rule of this check: supports from half the power ' +
    'saved, speaks against up to 5 %.',
  hazards: ['lithium-cell', 'probing'],
  notAbove: [
    {
      lower: 'powerIdle',
      upper: 'powerFull',
      because: 'a dark or still picture takes no more than a full one',
    },
  ],
  compute({ powerFull, powerIdle, litShare, followsLit, onShare, energy }) {
    const drive = (followsLit * litShare) / 100 + 1 - followsLit;
    const powerOn = powerIdle + (powerFull - powerIdle) * drive;
    const averagePower = (powerOn * onShare) / 100;
    return {
      powerOn,
      averagePower,
      saved: 100 * (1 - powerOn / powerFull),
      lasts: energy === undefined ? undefined : (energy * 1000) / averagePower,
    };
  },
  judge({ powerOn, averagePower, saved, lasts }, { litShare }) {
    const time = lasts ? ` The battery would last ${formatValue(lasts)} with the display alone.` : '';
    return {
      verdict: saved.low >= 50 ? 'supports' : saved.high <= 5 ? 'speaks-against' : 'neutral',
      sentence:
        `With ${formatValue(litShare)} lit the display takes ${formatValue(powerOn)} while on, ${formatValue(averagePower)} on average; ` +
        `against a full picture ${formatValue(saved)} are saved.${time}`,
    };
  },
});

import { nextObservationsUnder } from '../../decisions/next-observations.ts';
import { thingId } from '../../model/ids.ts';
import { fixed } from '../../text/rounding.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';
import { whole } from '../frame/options.ts';

/** Bits below which an observation reads 0.000; json has all. */
const MIN_SHOWN = 0.0005;

export const command = defineCommand({
  name: 'next',
  about:
    'What to look at next, in the order of the bits that a minute of bench work is expected to give about which part it is. Destructive steps are marked; cautions follow on standard error.',
  arguments: [{ name: 'ID', help: 'a component, specimen, device, decision (device:pattern) or claim' }],
  options: {
    first: whole('N', { help: 'how many to show', min: 1, max: 200, default: 10 }),
    ...CONFUSION_OPTION,
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['next tarn-sennit-3', 'next tarn-sennit-3/a/U3 --format json'],

  async run(call) {
    const observations = await nextObservationsUnder(await call.view(), call.arguments[0]);
    const all = observations
      .slice(0, call.options.first)
      .map(({ placed, method, action, pin, gainBits, bitsPerMinute, cautions }) => ({
        component: thingId(placed.opened.id, placed.component.id),
        action,
        ...(pin === undefined ? {} : { pin }),
        bits: gainBits,
        minutes: method.minutes,
        bitsPerMinute,
        destructive: method.destructive,
        cautions,
      }));
    const shown = all.filter(({ bits }) => bits >= MIN_SHOWN);
    const dropped = all.length - shown.length;
    const cautions = new Set(shown.flatMap((one) => one.cautions));
    const messages = [
      ...(all.length === 0 ? ['no further look is expected to tell more of which part it is'] : []),
      ...(dropped > 0 ? [`${dropped} more would give less than ${MIN_SHOWN} bits`] : []),
      ...[...cautions].map((caution) => `caution: ${caution}`),
    ];
    return {
      table: () =>
        shown.map(({ bits, minutes, bitsPerMinute, destructive, component, action }) => ({
          component,
          action: destructive ? `${action} (DESTRUCTIVE)` : action,
          bits: fixed(bits, 3),
          minutes: String(minutes),
          'bits/min': fixed(bitsPerMinute, 4),
        })),
      json: () => all,
      messages,
    };
  },
});

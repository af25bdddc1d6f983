import { partIdOf } from '../../model/catalogue.ts';
import { thingId } from '../../model/ids.ts';
import { type ComponentGlance, componentAtAGlance } from '../../questions/component.ts';
import { aspectsOf, glanceText } from '../answers/component-text.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';

export const command = defineCommand({
  name: 'component',
  about:
    'One component at a glance: what was seen and by whom, what it is identified as, what the evidence makes of it, what it is joined to, its photos, and what to look at next. "candidates" has every weight, "history" who changed what, "identify" records a first identification.',
  arguments: [{ name: 'ID', help: 'id of the component, device/specimen/local' }],
  options: CONFUSION_OPTION,
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['component tarn-sennit-3/a/U3', 'component tarn-sennit-3/a/U3 --format csv'],

  async run(call) {
    const view = await call.view();
    const glance = await componentAtAGlance(view, call.arguments[0]);
    const aspects = () => aspectsOf(view, glance);
    const rows = () => aspects().map((aspect) => ({ ...aspect }));
    const { next, candidates, device, ...rest } = glance;
    return {
      text: () => glanceText(glance, aspects()),
      table: rows,
      csv: rows,
      json: () => ({
        ...rest,
        device: device.id,
        candidates: candidates && {
          state: candidates.state,
          parts: candidates.odds.candidates.map(({ part, probability }) => ({
            part: partIdOf(part),
            probability,
          })),
          none: candidates.odds.none,
          kinds: candidates.kinds,
        },
        next: next.map(({ placed, action, pin, gainBits, bitsPerMinute, method, cautions }) => ({
          component: thingId(placed.opened.id, placed.component.id),
          action,
          pin,
          bits: gainBits,
          minutes: method.minutes,
          bitsPerMinute,
          destructive: method.destructive,
          cautions,
        })),
      }),
      messages: cautionsOf(next, glance.id),
    };
  },
});

/** Cautions of the first step alone: a chip that is merely to be looked at needs no word about acid. */
function cautionsOf([first, ...others]: ComponentGlance['next'], id: string): readonly string[] {
  if (!first) return [];
  const hazards = new Set(others.flatMap(({ cautions }) => cautions));
  for (const caution of first.cautions) hazards.delete(caution);
  return [
    ...first.cautions.map((caution) => `caution: ${caution}`),
    ...(hazards.size === 0
      ? []
      : [`caution: other steps have hazards of their own; read them first: caseback next ${id}`]),
  ];
}

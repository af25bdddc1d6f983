import { impactOf } from '../../evidence/impact-of.ts';
import { onOneLine } from '../../export/table.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';

/** Characters of a description in the table; csv and json have all. */
const MAX_SHOWN = 60;

export const command = defineCommand({
  name: 'impact',
  about:
    'Everything that a thing supports, directly or through others, with the way that leads there. json has whole paths.',
  arguments: [
    {
      name: 'ID',
      help: 'an observation, photo, component, part, device, pattern, decision (device:pattern), source or claim',
    },
  ],
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['impact sallowby-keelson-3/a/o2', 'impact quistle/QWR4T16 --format csv'],

  async run(call) {
    const { of, impacted } = await impactOf(await call.view(), call.arguments[0]);
    const rows = (max: number) =>
      impacted.map(({ generation, kind, id, description, path, how }) => ({
        step: String(generation),
        kind,
        id,
        because: `${how.at(-1)} (${path.at(-2)})`,
        description: description.length > max ? `${description.slice(0, max - 1)}…` : description,
      }));
    const verb = impacted.length === 1 ? 'is' : 'are';
    return {
      table: () => rows(MAX_SHOWN),
      csv: () => rows(Infinity),
      json: () => ({ of, impacted }),
      messages: [
        `${counted(impacted.length, 'thing')} ${verb} supported by ${of.kind} ${of.id}: ${onOneLine(of.description)}`,
      ],
    };
  },
});

import { documentIdOf } from '../../api-schema/document-id.ts';
import type { Feed } from '../../model/catalogue.ts';
import { resolved } from '../../state/resolve.ts';
import { counted } from '../answers/figures.ts';
import { visibilityColumn } from '../answers/visibility-text.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'feeds',
  about:
    'Lists the feeds of the archive, or one in full. A feed is a stored question that a running service answers at an address of its own; it is filed in a catalogue, under "feeds", and brought in by "import".',
  arguments: [{ name: 'ID', help: 'id of a feed, to see it in full', optional: true }],
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['feeds', 'feeds pressure-sensors-by-year', 'feeds --format csv'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    if (id !== undefined) {
      const { thing } = resolved(view, id, ['Feed']);
      return { text: () => feedText(thing), csv: () => rowsOf([thing]), json: () => thing };
    }
    const all = view.feeds();
    return {
      table: () => rowsOf(all),
      json: () => all,
      messages: [
        all.length > 0
          ? counted(all.length, 'feed')
          : 'No feeds yet; write one in a catalogue file under "feeds" and bring it in with "caseback import"',
      ],
    };
  },
});

function rowsOf(feeds: readonly Feed[]) {
  const visible = visibilityColumn(feeds);
  return feeds.map((feed) => {
    const { id, title, maxAge, origins } = feed;
    return { feed: id, 'max age, s': String(maxAge), origins: origins.join(' '), ...visible(feed), title };
  });
}

function feedText({ id, title, question, variables, rows, maxAge, origins, note }: Feed): string {
  const given = Object.keys(variables).length > 0 ? `\nvariables: ${JSON.stringify(variables)}\n` : '';
  return [
    `${id}: ${title}\n\n`,
    question.trimEnd().replaceAll(/^/gmu, '  '),
    `\n${given}\n`,
    `Its documentId is ${documentIdOf(question)}.\n`,
    `Rows of its table: ${rows ?? 'the first list of the first field'}.\n`,
    `A copy may be shown for ${maxAge} s.\n`,
    origins.length > 0 ? `Pages of ${origins.join(', ')} may read and frame it.\n` : '',
    note ? `${note}\n` : '',
  ].join('');
}

import { stringify } from 'yaml';
import type { ListMapping } from '../../model/list-mapping.ts';
import { resolved } from '../../state/resolve.ts';
import { counted } from '../answers/figures.ts';
import { visibilityColumn } from '../answers/visibility-text.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'mappings',
  about:
    'Lists the list mappings of the archive, or one in full. A list mapping says which column of the lists of one origin holds what; "import --save-mapping ID" keeps what was said of a list, "import --mapping ID" reads others by it, and a catalogue file has them under "listMappings". In full it is shown as such a file.',
  arguments: [{ name: 'ID', help: 'id of a list mapping, to see it in full', optional: true }],
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['mappings', 'mappings placement-of-the-assembler', 'mappings --format csv'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    if (id !== undefined) {
      const { thing } = resolved(view, id, ['ListMapping']);
      return { text: () => fileText(thing), csv: () => rowsOf([thing]), json: () => thing };
    }
    const all = view.listMappings();
    return {
      table: () => rowsOf(all),
      json: () => all,
      messages: [
        all.length > 0
          ? counted(all.length, 'list mapping')
          : 'No list mappings yet; keep what is said of a list with "caseback import FILE --save-mapping ID"',
      ],
    };
  },
});

function rowsOf(mappings: readonly ListMapping[]) {
  const visible = visibilityColumn(mappings);
  return mappings.map((mapping) => {
    const { id, title, columns, sheet, headingRow, decimal, unit } = mapping;
    return {
      'list mapping': id,
      columns: String(columns.length),
      sheet: sheet ?? '',
      'heading row': headingRow === undefined ? '' : String(headingRow),
      decimal: decimal ?? '',
      unit: unit ?? '',
      ...visible(mapping),
      title,
    };
  });
}

/** As a catalogue file, which can be changed and imported. */
function fileText({ id, title, columns, ...rest }: ListMapping): string {
  const mapping = {
    id,
    title,
    columns: columns.map(({ heading, field, unit }) => ({ heading, field, ...(unit ? { unit } : {}) })),
    ...rest,
  };
  return stringify({ caseback: 'catalogue/1', listMappings: [mapping] }, { lineWidth: 120 });
}

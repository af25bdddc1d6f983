import type { NamedPattern } from '../../model/catalogue.ts';
import { resolved } from '../../state/resolve.ts';
import { counted } from '../answers/figures.ts';
import { visibilityColumn } from '../answers/visibility-text.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'patterns',
  about:
    'Lists the named patterns of the archive, or one in full: the design idea, its text, the reasons designers may have, and what speaks against. "decisions --pattern ID" lists the devices that show it, "pattern" searches for any text. An archive without patterns gets the library that ships with Caseback by "import --patterns".',
  arguments: [{ name: 'ID', help: 'id of a pattern, to see it in full', optional: true }],
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['patterns', 'patterns amplifier-at-the-sensor', 'patterns --format csv'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    if (id !== undefined) {
      const { thing } = resolved(view, id, ['Pattern']);
      return { text: () => patternText(thing), csv: () => rowsOf([thing]), json: () => thing };
    }
    const all = view.patterns();
    return {
      table: () => rowsOf(all),
      json: () => all,
      messages: [
        all.length > 0
          ? counted(all.length, 'named pattern')
          : 'No named patterns yet; "caseback import --patterns" brings in the library that ships with Caseback',
      ],
    };
  },
});

function rowsOf(patterns: readonly NamedPattern[]) {
  const visible = visibilityColumn(patterns);
  return patterns.map((pattern) => {
    const { id, name, scope, strength, check } = pattern;
    return {
      pattern: id,
      strength: String(strength),
      scope,
      check: check?.name ?? '',
      ...visible(pattern),
      name,
    };
  });
}

function patternText({
  id,
  name,
  idea,
  scope,
  text,
  reasons,
  against,
  strength,
  check,
  note,
}: NamedPattern): string {
  const listed = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? '' : `\n${title}\n${lines.map((line) => `  - ${line}\n`).join('')}`;
  return [
    `${id}: ${name}\n${idea}\n\n`,
    text.replaceAll(/^/gmu, '  '),
    '\n',
    listed('Reasons the designers may have had', reasons),
    listed('What would speak against it', against),
    `\nThe shape means the idea with ${strength}. A match lies ${scope === 'device' ? 'within one specimen' : 'anywhere in the archive'}.\n`,
    check ? `Its arithmetic: caseback calculate ${check.name}\n` : '',
    note ? `${note}\n` : '',
  ].join('');
}

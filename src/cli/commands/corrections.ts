import type { Correction } from '../../model/correction.ts';
import { CasebackError } from '../../model/problems.ts';
import { correctionsMade } from '../../questions/evidence.ts';
import { didYouMean } from '../../text/near.ts';
import { fixed } from '../../text/rounding.ts';
import { counted } from '../answers/figures.ts';
import { visibilityColumn } from '../answers/visibility-text.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted } from '../frame/exit.ts';

export const command = defineCommand({
  name: 'corrections',
  about:
    'Lists what was corrected: when, by whom, why, and how many publications and sentences it touched. One by its id shows these sentences, before and after, and a text for each correction notice. "correct" makes a correction.',
  arguments: [{ name: 'ID', help: 'id of a correction, to see it in full', optional: true }],
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['corrections', 'corrections --format csv'],

  async run(call) {
    const all = await correctionsMade(await call.view());
    const [id] = call.arguments;
    if (id === undefined)
      return {
        table: () => rowsOf(all),
        heading: ['correction', 'on', 'by', 'publications', 'sentences', 'summary', 'reason'],
        json: () => all,
        messages: [counted(all.length, 'correction')],
      };
    const found = all.find((one) => one.id === id);
    if (!found) {
      const near = didYouMean(
        id,
        all.map((one) => one.id),
      );
      throw new CasebackError(
        'NOT_FOUND',
        `no correction ${quoted(id)} is in the archive; ${near ?? '"caseback corrections" lists them'}`,
      );
    }
    return { text: () => correctionText(found), csv: () => rowsOf([found]), json: () => found };
  },
});

function rowsOf(corrections: readonly Correction[]) {
  const visible = visibilityColumn(corrections);
  return corrections.map((one) => ({ ...rowOf(one), ...visible(one) }));
}

function rowOf({ id, on, by, summary, reason, publications }: Correction) {
  return {
    correction: id,
    on: on.slice(0, 10),
    by,
    publications: String(publications.length),
    sentences: String(publications.reduce((sum, { claims }) => sum + claims.length, 0)),
    summary,
    reason,
  };
}

function correctionText({ id, on, by, summary, reason, publications }: Correction): string {
  const touched = publications.map(({ title, publication, claims, notice }) =>
    [
      `\n${publication}: ${title}\n`,
      ...claims.map(
        ({ claim, sentence, before, after, findings }) =>
          `  ${claim}  ${figure(before)} > ${figure(after)}\n    “${sentence}”\n${findings.map((one) => `    ${one}\n`).join('')}`,
      ),
      `  Notice: ${notice}\n`,
    ].join(''),
  );
  return `${id}, ${on.slice(0, 10)}, ${by}: ${summary}\n${reason}\n${touched.length > 0 ? touched.join('') : '\nIt touched no publication.\n'}`;
}

function figure(probability: number | null): string {
  return probability === null ? '-' : fixed(probability, 3);
}

import { auditClaims } from '../evidence/audit.ts';
import { toCsv } from '../export/csv.ts';
import { toTable } from '../export/table.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage:
    'audit [PUBLICATION] [--all] [--format text|table|csv|json] [--data FOLDER] [--audience reader|desk]',
  help: `Holds every published sentence against what it rests on, and lists those that say more than the evidence
(overstated), less (understated), lack support, or rest on something taken back (withdrawn). How sure a sentence
sounds is read from the calibrated scale of Mastrandrea et al. 2010, from everyday words, or, where it is stated
flatly, taken as 0.95 and more.

${DATA_HELP}
  --all             sentences whose wording fits as well
  --format text     sentence by sentence (default); table and csv have a row a finding; json everything
${AUDIENCE_HELP}

Exit code 1 when a sentence has a finding.

  caseback audit
  caseback audit bench-letter-31 --all`,
  options: { ...DATA_OPTION, ...AUDIENCE_OPTION, all: { type: 'boolean' }, format: { type: 'string' } },
  words: 1,

  async run([publication], values) {
    const format = choiceOf(values, 'format', ['text', 'table', 'csv', 'json'], 'text');
    const archive = await openArchive(dataFolder(values));
    try {
      const audited = await auditClaims(archive.view(audienceOf(values)), publication);
      const wrong = audited.filter(({ findings }) => findings.length > 0);
      const shown = values.all ? audited : wrong;
      const rows = shown.flatMap(({ id, probability, findings }) =>
        (findings.length > 0 ? findings : [{ kind: 'fits', says: '' }]).map(({ kind, says }) => ({
          claim: id,
          probability: probability?.toFixed(3) ?? '',
          finding: kind,
          says,
        })),
      );
      if (format === 'json') {
        const answer = shown.map(({ id, claim, support, said, probability, proposal, findings }) => ({
          claim: id,
          sentence: claim.sentence,
          said,
          support,
          probability,
          proposal,
          findings,
        }));
        process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
      } else if (format === 'csv') process.stdout.write(toCsv(rows));
      else if (format === 'table') process.stdout.write(toTable(rows));
      else
        for (const { id, claim, findings } of shown) {
          process.stdout.write(`${id}\n  “${claim.sentence}”\n`);
          for (const { kind, says } of findings) process.stdout.write(`  ${kind}: ${says}\n`);
          process.stdout.write('\n');
        }
      process.stderr.write(
        `${counted(audited.length, 'sentence')} looked at, ${wrong.length} with a finding\n`,
      );
      return wrong.length > 0 ? EXIT.problems : EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

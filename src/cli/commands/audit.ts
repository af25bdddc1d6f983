import { auditClaims } from '../../evidence/audit.ts';
import { fixed } from '../../text/rounding.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';
import { flag } from '../frame/options.ts';

export const command = defineCommand({
  name: 'audit',
  about:
    'Checks every published sentence against what supports it, and lists those that claim more than the evidence gives (overstated), less (understated), lack support, or are contradicted by it or supported by something withdrawn. Numbers with units, kinds of components and their number, denials, words such as most or first, parts and devices named are compared with what lies under the sentence; what was compared with nothing is listed. How sure a sentence sounds is read from the calibrated scale of Mastrandrea et al. 2010, from everyday words, or, where it is stated flatly, taken as 0.95 and more.\nExit code 1 when a sentence has a finding.',
  arguments: [{ name: 'PUBLICATION', help: 'id of one publication (default: all of them)', optional: true }],
  options: { all: flag('sentences whose wording fits as well') },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['audit', 'audit bench-letter-31 --all'],

  async run(call) {
    const audited = await auditClaims(await call.view(), call.arguments[0]);
    const wrong = audited.filter(({ findings }) => findings.length > 0);
    const shown = call.options.all ? audited : wrong;
    return {
      text: () =>
        shown
          .map(({ id, claim, findings, notChecked }) => {
            const lines = [
              ...findings.map(({ kind, message }) => `  ${kind}: ${message}\n`),
              ...notChecked.map((what) => `  not checked: ${what}\n`),
            ];
            return `${id}\n  “${claim.sentence}”\n${lines.join('')}\n`;
          })
          .join(''),
      table: () =>
        shown.flatMap(({ id, probability, findings }) =>
          (findings.length > 0 ? findings : [{ kind: 'fits', message: '' }]).map(({ kind, message }) => ({
            claim: id,
            probability: probability === null ? '' : fixed(probability, 3),
            finding: kind,
            message,
          })),
        ),
      json: () =>
        shown.map(
          ({ id, claim, support, wording, probability, proposal, statements, notChecked, findings }) => ({
            claim: id,
            sentence: claim.sentence,
            said: wording,
            support,
            probability,
            proposal,
            statements,
            notChecked,
            findings,
          }),
        ),
      messages: [`${counted(audited.length, 'sentence')} checked, ${wrong.length} with a finding`],
      exit: wrong.length > 0 ? EXIT.problems : EXIT.fine,
    };
  },
});

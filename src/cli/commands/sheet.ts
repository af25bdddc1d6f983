import { checkingSheet } from '../../evidence/checking-sheet.ts';
import { CasebackError } from '../../model/problems.ts';
import { standalone } from '../../service/pages/layout.ts';
import { sheetBody } from '../../service/pages/sheet.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';
import { writeText } from '../frame/files.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'sheet',
  about:
    'The checking sheet of a publication as one HTML page to print: every sentence, what supports it down to observation, photo and source, who judged, and what does not fit. A running service shows the same at /publications/PUBLICATION/sheet.',
  arguments: [{ name: 'PUBLICATION', help: 'id of the publication' }],
  options: { out: text('FILE', 'where to write it (default: standard output)') },
  uses: 'view',
  examples: ['sheet pulse-comes-to-the-wrist --out sheet.html'],

  async run(call) {
    const [publication] = call.arguments;
    const { out } = call.options;
    const view = await call.view();
    if (call.asOf !== undefined && !view.publication(publication))
      throw new CasebackError(
        'NOT_FOUND',
        `No publication "${publication}" was in the archive as of ${call.asOf}; "caseback history ${publication}" shows when it came in`,
      );
    const sheet = await checkingSheet(view, publication);
    const page = standalone({
      title: `${sheet.publication.title} · checking sheet`,
      body: sheetBody(sheet),
    });
    if (out === undefined) call.terminal.out(page.text);
    else {
      writeText(out, page.text);
      call.terminal.message(`${counted(sheet.sentences.length, 'sentence')} written to ${out}\n`);
    }
    return EXIT.fine;
  },
});

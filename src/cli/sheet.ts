import { writeFileSync } from 'node:fs';
import { checkingSheet } from '../evidence/checking-sheet.ts';
import { CasebackError } from '../model/problems.ts';
import { standalone } from '../service/pages/layout.ts';
import { sheetBody } from '../service/pages/sheet.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { pastInstant } from './instant.ts';
import { openArchive } from './open-archive.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage: 'sheet PUBLICATION [--out FILE] [--as-of WHEN] [--data FOLDER] [--audience reader|desk]',
  help: `The checking sheet of a publication as one HTML page to print: every sentence, what it rests on down to observation, photo
and source, who judged, and what does not fit. A running service shows the same at /publications/PUBLICATION/sheet.

${DATA_HELP}
  --out FILE        where to write it (default: standard output)
  --as-of WHEN      the evidence as it stood at an instant or at the end of a day, UTC
${AUDIENCE_HELP}

  caseback sheet pulse-comes-to-the-wrist --out sheet.html`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    out: { type: 'string' },
    'as-of': { type: 'string' },
  },
  words: 1,

  async run([publication], values) {
    if (publication === undefined)
      throw new UsageError('name a publication, such as pulse-comes-to-the-wrist');
    const asOf = textOf(values, 'as-of');
    const archive = await openArchive(
      dataFolder(values),
      asOf === undefined ? undefined : pastInstant(asOf, '--as-of', new Date()),
    );
    try {
      const view = archive.view(audienceOf(values));
      if (asOf !== undefined && !view.publication(publication))
        throw new CasebackError(
          'NOT_FOUND',
          `No publication "${publication}" was in the archive as of ${asOf}; "caseback history ${publication}" says when it came in`,
        );
      const sheet = await checkingSheet(view, publication);
      const page = standalone({
        title: `${sheet.publication.title} · checking sheet`,
        body: sheetBody(sheet),
      });
      const out = textOf(values, 'out');
      if (out === undefined) process.stdout.write(page.text);
      else {
        writeFileSync(out, page.text);
        process.stderr.write(`${counted(sheet.sentences.length, 'sentence')} written to ${out}\n`);
      }
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

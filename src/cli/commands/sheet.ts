import { type CheckingSheet, checkingSheet } from '../../evidence/checking-sheet.ts';
import type { ShownPhoto } from '../../evidence/photos-showing.ts';
import { CasebackError } from '../../model/problems.ts';
import type { Photos } from '../../photos/photos.ts';
import { partOf, sizeOfPart } from '../../photos/sizes.ts';
import { standalone } from '../../service/pages/layout.ts';
import { pageSizeOf, type ShownPicture, sheetBody } from '../../service/pages/sheet.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';
import { writeText } from '../frame/files.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'sheet',
  about:
    'The checking sheet of a publication as one HTML page to print: every sentence, what supports it down to observation, photo and source, who judged, and what does not fit. The photos that show what supports a sentence, or the parts of them that do, stand in it. A running service shows the same at /publications/PUBLICATION/sheet.',
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
    const pictures = await picturesIn(sheet, (await call.archive()).photos);
    const page = standalone({
      title: `${sheet.publication.title} · checking sheet`,
      body: sheetBody(sheet, (photo) => pictures.get(photo)),
    });
    if (out === undefined) call.terminal.out(page.text);
    else {
      writeText(out, page.text);
      call.terminal.message(`${counted(sheet.sentences.length, 'sentence')} written to ${out}\n`);
    }
    return EXIT.fine;
  },
});

/** Pictures that stand in the page itself, so that it needs nothing beside it. */
async function picturesIn(
  { sentences }: CheckingSheet,
  photos: Photos | undefined,
): Promise<ReadonlyMap<ShownPhoto, ShownPicture>> {
  const found = new Map<ShownPhoto, ShownPicture>();
  for (const photo of sentences.flatMap((sentence) => sentence.photos)) {
    const { file, part } = photo;
    if (!file || !photos) continue;
    const renditions = await photos.renditions();
    const size = part ? sizeOfPart(partOf(file, part.box)) : pageSizeOf(file);
    const content = part
      ? await renditions.part(file, part.box)
      : await renditions.get(file, `${size.width},${size.height}`);
    if (!content) continue;
    const src = `data:image/jpeg;base64,${Buffer.from(content).toString('base64')}`;
    found.set(photo, { src, ...size });
  }
  return found;
}

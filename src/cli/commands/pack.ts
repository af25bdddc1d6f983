import { createWriteStream, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Pack } from '../../pack/pack.ts';
import { zipOf } from '../../pack/zip.ts';
import { packOfPublication } from '../../questions/packs.ts';
import { CitedStates } from '../../service/cite/cited-states.ts';
import { PACK_PAGES } from '../../service/pages/pack-preview.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { fileRefusal, refuseFilled, writeText } from '../frame/files.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'pack',
  about:
    'A publication as one folder, or a ZIP where --out ends with .zip, for readers, after RO-Crate 1.2: every sentence with its support, figures as CSV, charts, boards drawn with what the sentences name, the checking sheet, licences and credits, and the state of the archive. It is made from what readers see, unless --audience desk is given. ro-crate-preview.html opens it; verify-pack says later what is no longer so. The same state gives the same bytes: name its instant with --as-of.',
  arguments: [{ name: 'PUBLICATION', help: 'id of the publication' }],
  options: {
    out: text('PLACE', 'new or empty folder, or FILE.zip'),
    licence: text('LICENCE', 'licence of the pack, an address or SPDX identifier; photos keep their own'),
  },
  uses: 'view',
  examples: [
    'pack altitude-at-the-wrist --out altitude-pack',
    'pack pulse-comes-to-the-wrist --out pulse.zip --licence CC-BY-4.0',
  ],

  async run(call) {
    const [publication] = call.arguments;
    const { out, licence } = call.options;
    if (out === undefined)
      throw new UsageError('--out is missing; name a new or empty folder, or a file that ends with .zip');
    const isZip = out.toLowerCase().endsWith('.zip');
    if (!isZip) refuseFilled(out);
    const archive = await call.archive();
    // What goes out to readers is what readers see, at the desk too.
    const audience = call.given.has('audience') ? call.audience : 'reader';
    const view = archive.state(audience);
    const instant = call.asOf ?? new Date().toISOString();
    const secret = await archive.secret();
    const name = secret ? new CitedStates(secret).nameAt(view, Date.parse(instant)) : null;
    const pack = await packOfPublication(view, publication, {
      state: { instant, name },
      pages: PACK_PAGES,
      licence,
      photos: archive.photos,
    });
    if (isZip) await writeZip(out, pack, instant.slice(0, 10));
    else for (const { path, content } of pack.files) writeText(join(out, path), content);
    call.terminal.message(told(pack, out, audience === 'desk'));
    return EXIT.fine;
  },
});

async function writeZip(file: string, { files }: Pack, day: string): Promise<void> {
  try {
    mkdirSync(dirname(file), { recursive: true });
    await pipeline(zipOf(files, day), createWriteStream(file));
  } catch (error) {
    throw fileRefusal(file, 'written', error);
  }
}

function told({ files, contents: { statement, leftOut } }: Pack, out: string, isOfDesk: boolean): string {
  const whose = isOfDesk ? 'as the desk sees it: not for readers' : 'as readers see it';
  const left = leftOut.map(({ id, why }) => `  left out: ${id}: ${why}\n`).join('');
  return `${counted(files.length, 'file')} with ${counted(statement.sentences.length, 'sentence')} written to ${out}, ${whose}; state of ${statement.state.instant}\n${left}`;
}

import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Archive } from '../archive.ts';
import { writeCatalogue, writeDossier, writeJson } from '../dossier/write.ts';
import { specimenIdOf } from '../model/dossier.ts';
import { fileNameOf } from '../model/ids.ts';
import { notFound } from '../state/resolve.ts';
import type { SpecimenRow } from '../state/state.ts';
import type { View } from '../state/view.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { Progress } from './progress.ts';
import { counted } from './words.ts';

/** Stands among the ids for makers, product lines, parts, sources, publications and patterns. */
const CATALOGUE = 'catalogue';

export const command: Command = {
  usage:
    'export [ID|catalogue ...] [--data FOLDER] [--out FOLDER] [--format yaml|json] [--audience desk|reader]',
  help: `Without ids: the catalogue and every dossier, into a folder of files. With ids of devices or specimens: their
dossiers; the word "catalogue" stands for all that dossiers share. A single file goes to standard output unless
a folder is named. Importing what was exported changes nothing.

${DATA_HELP}
  --out FOLDER      where to write, a new or empty folder (default for several files: ./export)
  --format yaml     or json
  --audience desk   all of it; reader leaves out drafts and what is under embargo

  caseback export tarn-loop-3/a > tarn-loop-3.yaml
  caseback export --out backup
  caseback export tarn-loop-3 catalogue --out for-a-colleague`,
  options: {
    ...DATA_OPTION,
    out: { type: 'string' },
    format: { type: 'string' },
    audience: { type: 'string' },
  },

  async run(words, values) {
    const format = choiceOf(values, 'format', ['yaml', 'json'], 'yaml');
    const audience = choiceOf(values, 'audience', ['desk', 'reader'], 'desk');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audience);
      const ids = words.filter((word) => word !== CATALOGUE);
      const withCatalogue = words.length === 0 || words.includes(CATALOGUE);
      const specimens = words.length === 0 ? allSpecimens(view) : ids.flatMap((id) => specimensOf(view, id));
      const files = new Set(specimens).size + (withCatalogue ? 1 : 0);
      const out = textOf(values, 'out') ?? (files === 1 && words.length > 0 ? undefined : 'export');
      if (out === undefined) {
        for (const [, text] of written(archive, view, specimens, withCatalogue, format))
          process.stdout.write(text);
        return EXIT.fine;
      }
      if (existsSync(out) && readdirSync(out).length > 0)
        throw new UsageError(`${out} holds something already; name a new or empty folder with --out`);
      const progress = new Progress('writing files', files);
      let done = 0;
      for (const [name, text] of written(archive, view, new Set(specimens), withCatalogue, format)) {
        const file = join(out, name);
        mkdirSync(dirname(file), { recursive: true });
        writeFileSync(file, text);
        progress.update(++done);
      }
      progress.end();
      process.stderr.write(`${counted(done, 'file')} written to ${out}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

/** Files one by one, so that a large archive need not fit in memory as text. */
function* written(
  archive: Archive,
  view: View,
  specimens: Iterable<string>,
  withCatalogue: boolean,
  format: 'yaml' | 'json',
): Generator<readonly [name: string, text: string]> {
  if (withCatalogue) {
    const catalogue = archive.exportCatalogue(view);
    yield [`catalogue.${format}`, format === 'json' ? writeJson(catalogue) : writeCatalogue(catalogue)];
  }
  for (const id of specimens) {
    const dossier = archive.exportDossier(view, view.specimenRow(id) as SpecimenRow);
    // An id has hyphens, never a dot, so no two specimens share a name.
    const name = join('dossiers', `${fileNameOf(specimenIdOf(dossier), '.')}.${format}`);
    yield [name, format === 'json' ? writeJson(dossier) : writeDossier(dossier)];
  }
}

function allSpecimens(view: View): string[] {
  return Array.from(view.specimenRows(), ({ id }) => id);
}

/** Visible specimens of a device, or the one specimen of that id. */
function specimensOf(view: View, id: string): string[] {
  const found = view.specimenRow(id) ? [id] : view.specimensOf(id).map((row) => row.id);
  if (found.length > 0) return found;
  throw notFound(view, id, ['Device', 'Specimen']);
}

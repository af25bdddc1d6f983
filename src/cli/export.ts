import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { writeCatalogue, writeDossier, writeJson } from '../dossier/write.ts';
import { type Dossier, deviceIdOf } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import { type Command, choiceOf, EXIT, textOf } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openArchive } from './dataFolder.ts';

export const command: Command = {
  summary: 'writes dossiers and the catalogue as files that import reads back',
  usage: 'export [ID ...] [--out FOLDER] [--format yaml|json] [--audience desk|reader]',
  help: `Without ids: the catalogue and every dossier, into a folder. With ids of devices or specimens: their dossiers,
to standard output when there is one and no folder is named. Importing what was exported changes nothing.

${DATA_HELP}
  --out FOLDER      where to write (default with no ids: ./export)
  --format yaml     or json
  --audience desk   all of it; reader leaves out drafts and what is under embargo

  caseback export tarn-loop-3 > tarn-loop-3.yaml
  caseback export --out backup`,
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
      const dossiers =
        words.length === 0 ? [...archive.exportDossiers(view)] : words.flatMap((id) => named(id));
      function named(id: string): Dossier[] {
        const found = [...archive.exportDossiers(view, id)];
        if (found.length === 0)
          throw new CasebackError('NOT_FOUND', `No device or specimen "${id}" is in the archive`);
        return found;
      }
      const write = (dossier: Dossier) => (format === 'json' ? writeJson(dossier) : writeDossier(dossier));
      const out = textOf(values, 'out') ?? (words.length === 0 ? 'export' : undefined);
      if (out === undefined && dossiers.length === 1) {
        process.stdout.write(write(dossiers[0]));
        return EXIT.fine;
      }
      const files = new Map(
        dossiers.map((one) => [
          join('dossiers', `${deviceIdOf(one)}-${one.specimen.id}.${format}`),
          write(one),
        ]),
      );
      if (words.length === 0) {
        const catalogue = archive.exportCatalogue(view);
        files.set(
          `catalogue.${format}`,
          format === 'json' ? writeJson(catalogue) : writeCatalogue(catalogue),
        );
      }
      for (const [name, text] of files) {
        const file = join(out ?? '.', name);
        mkdirSync(dirname(file), { recursive: true });
        writeFileSync(file, text);
      }
      process.stderr.write(
        `${files.size === 1 ? '1 file' : `${files.size} files`} written to ${out ?? '.'}\n`,
      );
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

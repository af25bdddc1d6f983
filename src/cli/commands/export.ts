import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Archive } from '../../archive.ts';
import { writeCatalogue, writeDossier, writeJson } from '../../dossier/write.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import { fileNameOf } from '../../model/ids.ts';
import type { SpecimenRow } from '../../state/facts.ts';
import { notFound, notOpened } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { writeText } from '../frame/files.ts';
import { text } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

/** Stands among the ids for makers, product lines, parts, sources, publications and patterns. */
const CATALOGUE = 'catalogue';

export const command = defineCommand({
  name: 'export',
  about:
    'Without ids: the catalogue and every dossier, into a folder of files. With ids of devices or specimens: their dossiers; the word "catalogue" stands for all that dossiers share. A single dossier, or the catalogue, goes to standard output unless a folder is named; several files need a folder. Importing what was exported changes nothing. For others than the desk, --audience reader leaves drafts and embargoed records out.',
  arguments: [
    {
      name: 'ID',
      help: 'a device, a specimen, or "catalogue" (default: everything)',
      optional: true,
      many: true,
    },
  ],
  options: {
    out: text('FOLDER', 'where to write, a new or empty folder'),
  },
  uses: 'view',
  formats: ['yaml', 'json'],
  examples: [
    'export tarn-sennit-3/a > tarn-sennit-3.yaml',
    'export --out backup',
    'export tarn-sennit-3 catalogue --out for-a-colleague --audience reader',
  ],

  async run(call) {
    const names = call.arguments;
    const format = call.format === 'json' ? 'json' : 'yaml';
    const archive = await call.archive();
    const view = await call.view();
    const ids = names.filter((name) => name !== CATALOGUE);
    const withCatalogue = names.length === 0 || names.includes(CATALOGUE);
    const specimens = new Set(
      names.length === 0 ? allSpecimens(view) : ids.flatMap((id) => specimensOf(view, id)),
    );
    const count = specimens.size + (withCatalogue ? 1 : 0);
    const { out } = call.options;
    if (out === undefined && (names.length === 0 || count > 1))
      throw new UsageError(
        `${counted(count, 'file')} to write; name a new or empty folder, such as --out backup`,
      );
    const files = filesOf(archive, view, specimens, withCatalogue, format);
    if (out === undefined) {
      for (const [, content] of files) call.terminal.out(content);
      return EXIT.fine;
    }
    refuseFilled(out);
    const progress = new Progress('writing files', count);
    let done = 0;
    for (const [name, content] of files) {
      writeText(join(out, name), content);
      progress.update(++done);
    }
    progress.end();
    const which =
      call.audience === 'reader'
        ? 'without drafts and embargoed records'
        : 'drafts and embargoed records too; --audience reader leaves them out';
    call.terminal.message(`${counted(done, 'file')} written to ${out}, ${which}\n`);
    return EXIT.fine;
  },
});

function refuseFilled(out: string): void {
  let isFilled = false;
  try {
    isFilled = existsSync(out) && readdirSync(out).length > 0;
  } catch {
    // A file of that name, which writing will refuse with its reason.
  }
  if (isFilled) throw new UsageError(`${out} is not empty; name a new or empty folder with --out`);
}

/** Files one by one, so that a large archive need not fit in memory as text. */
function* filesOf(
  archive: Archive,
  view: State,
  specimens: Iterable<string>,
  withCatalogue: boolean,
  format: 'yaml' | 'json',
): Generator<readonly [name: string, content: string]> {
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

function allSpecimens(view: State): string[] {
  return Array.from(view.specimenRows(), ({ id }) => id);
}

/** Visible specimens of a device, or the one specimen of that id. */
function specimensOf(view: State, id: string): string[] {
  const found = view.specimenRow(id) ? [id] : view.specimensOf(id).map((row) => row.id);
  if (found.length > 0) return found;
  const device = view.device(id);
  throw device ? notOpened(device) : notFound(view, id, ['Device', 'Specimen']);
}

import { join } from 'node:path';
import { exportCatalogue, exportDossier } from '../../archive/as-files.ts';
import type { Archive } from '../../archive.ts';
import { writeCatalogue, writeDossier, writeJson } from '../../dossier/write.ts';
import { type Dossier, specimenIdOf } from '../../model/dossier.ts';
import { fileNameOf } from '../../model/ids.ts';
import { nameByDigest } from '../../photos/beside.ts';
import {
  EXPORT_FORMATS,
  EXPORTS,
  type ExportFormat,
  exportFiles,
  Losses,
  survey,
  today,
} from '../../questions/exports.ts';
import type { SpecimenRow } from '../../state/facts.ts';
import { notFound, notOpened } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { counted } from '../answers/figures.ts';
import type { Call } from '../frame/call.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { refuseFilled, writePieces, writeText } from '../frame/files.ts';
import { choice, flag, type Options, text } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

/** Stands among the ids for makers, product lines, parts, sources, publications and patterns. */
const CATALOGUE = 'catalogue';

export const command = defineCommand({
  name: 'export',
  about:
    'Without ids: the catalogue and every dossier, into a folder of files. With ids of devices or specimens: their dossiers; the word "catalogue" stands for all that dossiers share. A single dossier, or the catalogue, goes to standard output unless a folder is named; several files need a folder. Importing what was exported changes nothing. With --as: tables (csv: nodes, edges, components, bill of materials and placement, with CSVW metadata) or a graph for other programs, of everything or of one device or specimen; linked data (json-ld) of anything that has an id as well; what they cannot hold is told as losses. For others than the desk, --audience reader leaves drafts and embargoed records out.',
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
    as: choice('KIND', EXPORT_FORMATS, {
      help: `${Object.entries(EXPORTS)
        .map(([name, what]) => `${name}: ${what}`)
        .join('; ')} (default: files that import reads)`,
    }),
    strict: flag('with --as: refuses, and writes nothing, when anything would be lost'),
    licence: text(
      'LICENCE',
      'with --as csv or json-ld: licence of what is written, an address or SPDX identifier',
    ),
    base: text(
      'ADDRESS',
      'with --as json-ld: where the addresses of records begin, such as that of a service (default: names without an address)',
    ),
  },
  uses: 'view',
  formats: ['yaml', 'json'],
  examples: [
    'export tarn-sennit-3/a > tarn-sennit-3.yaml',
    'export --out backup',
    'export tarn-sennit-3 catalogue --out for-a-colleague --audience reader',
    'export tarn-sennit-3 --as csv --out tables',
    'export --as graphml > archive.graphml',
    'export pulse-comes-to-the-wrist --as json-ld > the-pulse.jsonld',
  ],

  async run(call) {
    const { as, strict, licence, base } = call.options;
    if (base !== undefined && as !== 'json-ld') throw new UsageError('--base goes with --as json-ld');
    if (as !== undefined) return exportAs(call, as);
    if (strict || licence !== undefined)
      throw new UsageError(`--${strict ? 'strict' : 'licence'} goes with --as, such as --as csv`);
    const names = call.arguments;
    const format = call.format === 'json' ? 'json' : 'yaml';
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
    const files = filesOf(view, specimens, withCatalogue, format);
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
    const photos =
      call.audience === 'desk' ? await writePhotos(await call.archive(), view, specimens, out) : '';
    call.terminal.message(
      `${counted(done, 'file')}${photos} written to ${out}, ${audienceTold(call.audience)}\n`,
    );
    return EXIT.fine;
  },
});

/** Losses that are shown one by one. */
const MOST_SHOWN = 10;

/** Tables or a graph of everything, or of the one thing named. */
async function exportAs(
  call: Call<Options> & {
    readonly options: {
      readonly out?: string;
      readonly strict?: boolean;
      readonly licence?: string;
      readonly base?: string;
    };
  },
  as: ExportFormat,
): Promise<number> {
  const [id, ...more] = call.arguments;
  const { out, strict, licence, base } = call.options;
  if (more.length > 0) throw new UsageError('--as takes one id, or none for everything');
  const view = await call.view();
  const all = await exportFiles(view, id, as, { date: call.asOf ?? today(), licence }, base);
  const files = out === undefined ? all.filter(({ isBeside }) => !isBeside) : all;
  if (out === undefined && (files.length > 1 || files.some(({ isBinary }) => isBinary)))
    throw new UsageError(
      `${counted(files.length, 'file')} to write; name a new or empty folder, such as --out tables`,
    );
  if (out !== undefined) refuseFilled(out);
  if (strict) {
    const losses = new Losses(MOST_SHOWN);
    await survey(files, losses);
    if (losses.count > 0) {
      call.terminal.message(`${toldLosses(losses)}Nothing was written; without --strict the rest is\n`);
      return EXIT.problems;
    }
  }
  const losses = new Losses(MOST_SHOWN);
  for (const { name, pieces } of files) {
    if (out !== undefined) await writePieces(join(out, name), pieces(losses.add));
    else for await (const piece of pieces(losses.add)) call.terminal.out(piece as string);
  }
  call.terminal.message(toldLosses(losses));
  if (out !== undefined)
    call.terminal.message(
      `${counted(files.length, 'file')} written to ${out}, ${audienceTold(call.audience)}\n`,
    );
  return EXIT.fine;
}

function toldLosses({ count, first }: Losses): string {
  if (count === 0) return '';
  const lines = first.map(({ record, field, why }) => `  ${record} ${field}: ${why}\n`);
  const more = count > first.length ? `  and ${count - first.length} more\n` : '';
  return `${counted(count, 'loss', 'losses')}:\n${lines.join('')}${more}`;
}

function audienceTold(audience: Audience): string {
  return audience === 'reader'
    ? 'without drafts and embargoed records'
    : 'drafts and embargoed records too; --audience reader leaves them out';
}

/** Files one by one, so that a large archive need not fit in memory as text. */
function* filesOf(
  view: State,
  specimens: Iterable<string>,
  withCatalogue: boolean,
  format: 'yaml' | 'json',
): Generator<readonly [name: string, content: string]> {
  if (withCatalogue) {
    const catalogue = exportCatalogue(view);
    yield [`catalogue.${format}`, format === 'json' ? writeJson(catalogue) : writeCatalogue(catalogue)];
  }
  for (const id of specimens) {
    const whole = exportDossier(view, view.specimenRow(id) as SpecimenRow);
    const dossier = view.audience === 'desk' ? whole : withoutFiles(whole);
    // An id has hyphens, never a dot, so no two specimens share a name.
    const name = join('dossiers', `${fileNameOf(specimenIdOf(dossier), '.')}.${format}`);
    yield [name, format === 'json' ? writeJson(dossier) : writeDossier(dossier)];
  }
}

/** Readers get photos as they are handed on, which are other files: what they export names none. */
function withoutFiles(dossier: Dossier): Dossier {
  return { ...dossier, photos: dossier.photos.map(({ file: _, ...photo }) => photo) };
}

/** Puts the files of photos, as they came, beside the dossiers. @returns how many, in words */
async function writePhotos(
  { photos }: Archive,
  view: State,
  specimens: Iterable<string>,
  out: string,
): Promise<string> {
  const written = new Set<string>();
  for (const id of specimens)
    for (const { sha256, type } of view.specimenRow(id)?.added.photoFiles ?? []) {
      if (written.has(sha256)) continue;
      const content = await photos?.store.get(sha256);
      if (!content) continue;
      writeText(join(out, 'dossiers', nameByDigest(sha256, type)), content);
      written.add(sha256);
    }
  return written.size === 0 ? '' : ` and ${counted(written.size, 'photo')}`;
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

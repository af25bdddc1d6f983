import { createHash } from 'node:crypto';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { contentsOf, type MadeFile, type PackContents, type PackSettings } from './contents.ts';
import { DIGESTS, METADATA, metadataOf, PREVIEW } from './metadata.ts';

/** A pack: every file of it, in order of paths. */
export interface Pack {
  readonly contents: PackContents;
  readonly files: readonly MadeFile[];
}

/**
 * The pack of a publication. Equal state, settings and program give equal bytes.
 * @throws CasebackError NOT_FOUND when nothing visible has the id, OUT_OF_BUDGET or UNAVAILABLE of a drawing; the signal's reason
 */
export async function packOf(
  view: State,
  publicationId: string,
  settings: PackSettings,
  signal?: AbortSignal,
): Promise<Pack> {
  const contents = await contentsOf(view, publicationId, settings, signal);
  const pace = new Pace(signal);
  const files: MadeFile[] = [];
  for (const { make, ...file } of contents.files) {
    await pace.rest();
    files.push(made(file, await make()));
  }
  const { archive, pages } = settings;
  const digestsSize = digestsOf(contents.files.map(({ path }) => ({ path, sha256: NO_DIGEST }))).length;
  const preview = pages.preview(contents, files, [archive]);
  const metadata = metadataOf(view, contents, files, archive, digestsSize);
  files.push(
    made(
      {
        path: METADATA,
        mediaType: 'application/ld+json',
        title: 'Metadata',
        says: 'What is here, after RO-Crate 1.2.',
        about: [],
      },
      `${JSON.stringify(metadata, null, 2)}\n`,
    ),
    made({ path: PREVIEW, mediaType: 'text/html', title: 'Read this first', says: '', about: [] }, preview),
  );
  const digests = { path: DIGESTS, mediaType: 'text/plain', title: 'Digests', says: '', about: [] };
  files.push(made(digests, digestsOf(files)));
  return { contents, files: files.sort((a, b) => (a.path < b.path ? -1 : 1)) };
}

const NO_DIGEST = '0'.repeat(64);

function made(file: Omit<MadeFile, 'content' | 'sha256'>, content: string | Uint8Array): MadeFile {
  const bytes = typeof content === 'string' ? Buffer.from(content) : content;
  return { ...file, content: bytes, sha256: createHash('sha256').update(bytes).digest('hex') };
}

/** A line a file, as `sha256sum` writes it; metadata and the page to open first among them. */
function digestsOf(files: readonly Pick<MadeFile, 'path' | 'sha256'>[]): string {
  const others = [METADATA, PREVIEW]
    .filter((path) => !files.some((file) => file.path === path))
    .map((path) => ({ path, sha256: NO_DIGEST }));
  return [...files, ...others]
    .sort((a, b) => (a.path < b.path ? -1 : 1))
    .map(({ path, sha256 }) => `${sha256}  ${path}\n`)
    .join('');
}

import type { z } from 'zod';
import { catalogueSchema } from '../model/catalogue.ts';
import type { Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import { withSingleComponents, writtenDossierSchema } from './component-arrays.ts';
import { withUniqueIds } from './component-ids.ts';
import { decodeText } from './decode.ts';
import type { Path, Place, ReadDocument } from './document/document.ts';
import { problemsOf } from './issues.ts';
import { soundJson } from './json.ts';
import { limited, MAX_PROBLEMS } from './limited.ts';
import { type SoundPart, soundPart } from './sound-part.ts';
import { readTree, type Tree } from './tree.ts';

export type { ReadDocument };

export type ReadResult =
  | { readonly document: ReadDocument; readonly problems: readonly []; readonly part?: undefined }
  | {
      readonly document?: undefined;
      readonly problems: readonly Problem[];
      /** What of the file can be read all the same; undefined where that is nothing. */
      readonly part?: ReadPart | undefined;
    };

/** The sound part of a file with problems, against which rules can be held. */
export interface ReadPart {
  readonly document: ReadDocument;
  /** Paths in the file of what has problems. */
  readonly problems: readonly Problem[];
  /** What stands in for what could not be read. */
  readonly standIns: readonly string[];
  /** Whether something that others may name is among what could not be read. */
  readonly hasGaps: boolean;
}

const HEADERS = ['dossier/1', 'catalogue/1'] as const;

/**
 * Reads one dossier or catalogue file, YAML or JSON in UTF-8; returns it, or every problem that it has by itself (up to
 * a hundred). `checkDocuments` checks what it says about other things.
 */
export function readDocument(bytes: Uint8Array, file: string): ReadResult {
  const decoded = decodeText(bytes, file);
  if ('problem' in decoded) return { problems: [decoded.problem] };
  const { text } = decoded;
  const sound = soundDocument(text, file);
  if (sound) return { document: sound, problems: [] };
  const read = readTree(text, file);
  if ('problems' in read) return { problems: limited(read.problems) };
  const { tree } = read;
  const header = tree.scalar('caseback');
  switch (header) {
    case 'dossier/1': {
      const checked = check(writtenDossierSchema, tree, file);
      if ('problems' in checked) {
        const sound = soundIn(checked.problems, writtenDossierSchema, tree);
        return refused(
          checked.problems,
          sound,
          (value, locate) => dossierDocument(value, file, locate),
          tree,
        );
      }
      return { document: dossierDocument(checked.value, file, locator(text, file, tree)), problems: [] };
    }
    case 'catalogue/1': {
      const checked = check(catalogueSchema, tree, file);
      if ('problems' in checked) {
        const sound = soundIn(checked.problems, catalogueSchema, tree);
        return refused(
          checked.problems,
          sound,
          (value, locate) => ({ kind: 'catalogue', file, locate, catalogue: value }),
          tree,
        );
      }
      const { value: catalogue } = checked;
      return {
        document: { kind: 'catalogue', file, locate: locator(text, file, tree), catalogue },
        problems: [],
      };
    }
    default:
      return { problems: [headerProblem(header, tree, file)] };
  }
}

/** What of a file is sound; nothing where it has more problems than are listed. */
function soundIn<T>(
  problems: readonly Problem[],
  schema: z.ZodType<T>,
  tree: Tree,
): SoundPart<T> | undefined {
  return problems.length > MAX_PROBLEMS ? undefined : soundPart(schema, tree.value(schema));
}

/** The problems of a file, and what of it is sound. */
function refused<T>(
  problems: readonly Problem[],
  sound: SoundPart<T> | undefined,
  documentOf: (value: T, locate: (path: Path) => Place) => ReadDocument,
  tree: Tree,
): ReadResult {
  if (!sound) return { problems };
  const { inFile, standIns, hasGaps } = sound;
  const document = documentOf(sound.value, (path) => tree.locate(inFile(path)));
  const { written } = document;
  const part = {
    problems,
    standIns,
    hasGaps,
    document: { ...document, written: (path: Path) => inFile(written ? written(path) : path) },
  };
  return { problems, part };
}

/** A JSON file without any problem, the fast way; undefined: it must be read with places and messages. */
function soundDocument(text: string, file: string): ReadDocument | undefined {
  const json = soundJson(text);
  if (!json) return undefined;
  const { value } = json;
  const dossier = writtenDossierSchema.safeParse(value).data;
  if (dossier) return dossierDocument(dossier, file, locator(text, file));
  const catalogue = catalogueSchema.safeParse(value).data;
  return catalogue && { kind: 'catalogue', file, locate: locator(text, file), catalogue };
}

function dossierDocument(
  read: z.infer<typeof writtenDossierSchema>,
  file: string,
  locate: (path: Path) => Place,
): ReadDocument {
  const { dossier, written } = withSingleComponents(read);
  return {
    kind: 'dossier',
    file,
    locate: written ? (path) => locate(written(path)) : locate,
    written,
    dossier: withUniqueIds(dossier),
  };
}

function check<T>(
  schema: z.ZodType<T>,
  tree: Tree,
  file: string,
): { readonly value: T } | { readonly problems: readonly Problem[] } {
  const value = tree.value(schema);
  const result = schema.safeParse(value);
  const problems = [
    ...tree.problems,
    ...(result.success ? [] : problemsOf(result.error.issues, value, schema, tree, file)),
  ];
  if (result.success && problems.length === 0) return { value: result.data };
  const place = ({ line = 0, column = 0 }: Problem) => line * 1e6 + column;
  return { problems: limited(problems.sort((a, b) => place(a) - place(b))) };
}

/**
 * Places are needed only when something is wrong, and what the parser keeps is a hundred times the text; so it is
 * dropped when memory is short, and made again from the text.
 */
function locator(text: string, file: string, tree?: Tree): (path: Path) => Place {
  let kept = tree && new WeakRef(tree);
  return (path) => {
    let at = kept?.deref();
    if (!at) {
      const again = readTree(text, file);
      if ('problems' in again) return { line: 1, column: 1 };
      at = again.tree;
      kept = new WeakRef(at);
    }
    return at.locate(path);
  };
}

function headerProblem(header: unknown, tree: Tree, file: string): Problem {
  const choice = 'start with "caseback: dossier/1" or "caseback: catalogue/1"';
  if (header === undefined || header === null)
    return { file, ...tree.locate([]), what: 'does not say what it is', fix: choice };
  const near = typeof header === 'string' ? didYouMean(header, HEADERS) : undefined;
  return {
    file,
    ...tree.locate(['caseback']),
    path: 'caseback',
    what: `${JSON.stringify(header)} is not a form this program reads`,
    fix: near ?? choice,
  };
}

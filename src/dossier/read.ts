import type { z } from 'zod';
import { type Catalogue, catalogueSchema } from '../model/catalogue.ts';
import { type Dossier, dossierSchema } from '../model/dossier.ts';
import type { Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import { decodeText } from './decode.ts';
import { fieldNames } from './fieldNames.ts';
import { problemsOf } from './issues.ts';
import { type Path, type Place, readTree, type Tree } from './tree.ts';

/** A file that was read without a problem. */
export type ReadDocument = {
  readonly file: string;
  /** Place of the value at a path. */
  locate(path: Path): Place;
} & (
  | { readonly kind: 'dossier'; readonly dossier: Dossier }
  | { readonly kind: 'catalogue'; readonly catalogue: Catalogue }
);

export type ReadResult =
  | { readonly document: ReadDocument; readonly problems: readonly [] }
  | { readonly document?: undefined; readonly problems: readonly Problem[] };

const HEADERS = ['dossier/1', 'catalogue/1'] as const;
const dossierFields = fieldNames(dossierSchema);
const catalogueFields = fieldNames(catalogueSchema);

/** Reads one dossier or catalogue file; answers it, or every problem it has. */
export function readDocument(bytes: Uint8Array, file: string): ReadResult {
  const decoded = decodeText(bytes, file);
  if ('problem' in decoded) return { problems: [decoded.problem] };
  const read = readTree(decoded.text, file);
  if ('problems' in read) return { problems: read.problems };
  const { tree } = read;
  const header = (tree.value as { caseback?: unknown } | null)?.caseback;
  switch (header) {
    case 'dossier/1': {
      const checked = check(dossierSchema, tree, file, dossierFields);
      if ('problems' in checked) return { problems: checked.problems };
      return {
        document: { kind: 'dossier', file, locate: tree.locate, dossier: checked.value },
        problems: [],
      };
    }
    case 'catalogue/1': {
      const checked = check(catalogueSchema, tree, file, catalogueFields);
      if ('problems' in checked) return { problems: checked.problems };
      return {
        document: { kind: 'catalogue', file, locate: tree.locate, catalogue: checked.value },
        problems: [],
      };
    }
    default:
      return { problems: [headerProblem(header, tree, file)] };
  }
}

function check<T>(
  schema: z.ZodType<T>,
  tree: Tree,
  file: string,
  fields: (path: Path) => readonly string[],
): { readonly value: T } | { readonly problems: readonly Problem[] } {
  const result = schema.safeParse(tree.value);
  return result.success
    ? { value: result.data }
    : { problems: problemsOf(result.error.issues, tree, file, fields) };
}

function headerProblem(header: unknown, tree: Tree, file: string): Problem {
  const choice = 'start with "caseback: dossier/1" or "caseback: catalogue/1"';
  if (header === undefined)
    return { file, ...tree.locate([]), what: 'does not say what it is', mend: choice };
  const near = typeof header === 'string' ? didYouMean(header, HEADERS) : undefined;
  return {
    file,
    ...tree.locate(['caseback']),
    path: 'caseback',
    what: `${JSON.stringify(header)} is no form this program reads`,
    mend: near ?? choice,
  };
}

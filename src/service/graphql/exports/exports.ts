import type { Scope } from '../../../export/graph/graph.ts';
import { CasebackError } from '../../../model/problems.ts';
import { EXPORTS, type ExportFile, exportsOf, surveyOf, today } from '../../../questions/exports.ts';
import { addressOf, zipNameOf } from '../../exports/addresses.ts';
import { type Seen, viewOf } from '../context.ts';
import { instantOf, readId } from '../instants.ts';
import type { Resolvers } from '../resolver-types.ts';

/** Bytes of a file that an answer may have in it; the schema says so. */
const MOST_TEXT = 2 * 2 ** 20;

/** A file of an export, what it is of, and the view that it is made of. */
export interface ExportFileSource extends Seen<Pick<ExportFile, 'name' | 'mediaType'>> {
  readonly scope: Scope;
  readonly file: ExportFile;
}

/** Files for other programs. */
export const exports: Resolvers = {
  Query: {
    exports: async (root, { of }, context) => {
      const view = viewOf(root, context);
      const instant = instantOf(view);
      const id = of == null ? undefined : readId(of).id;
      const sets = await exportsOf(view, id, { date: instant ?? today() });
      return sets.map(({ format, scope, files }) => ({
        kind: format,
        about: EXPORTS[format],
        zip: instant === undefined ? addressOf(scope, zipNameOf(format)) : undefined,
        files: files.map((file) => ({ name: file.name, mediaType: file.mediaType, scope, file, view })),
      }));
    },
  },
  ExportFile: {
    address: ({ view, scope, name }) => (instantOf(view) === undefined ? addressOf(scope, name) : undefined),
    rows: async ({ view, scope, file }, _, context) =>
      file.rows && (await surveyOf(view, scope, file, context.signal())).rows,
    lossCount: async ({ view, scope, file }, _, context) =>
      (await surveyOf(view, scope, file, context.signal())).losses.count,
    losses: async ({ view, scope, file }, _, context) =>
      (await surveyOf(view, scope, file, context.signal())).losses.first,
    text: ({ file }, _, context) => (file.isBinary ? undefined : textOf(file, context.signal())),
  },
};

/** @throws CasebackError TOO_LARGE */
async function textOf({ name, pieces }: ExportFile, signal: AbortSignal): Promise<string> {
  let text = '';
  for await (const piece of pieces(() => undefined, signal)) {
    text += piece as string;
    if (text.length > MOST_TEXT)
      throw new CasebackError('TOO_LARGE', `${name} has more than 2 MiB; fetch it at its address`);
  }
  return text;
}

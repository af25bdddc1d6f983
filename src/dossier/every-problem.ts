import { type Finding, gatherInto, type Held } from './check/context.ts';
import { globalReferencesAreKnown } from './check/global-references.ts';
import { localReferencesAreKnown } from './check/local-references.ts';
import { checkingDocuments } from './check/rules.ts';
import type { ReadPart } from './read.ts';
import type { ReadFiles } from './read-files.ts';
import { atOnce, type Steps } from './steps.ts';

/**
 * Everything that is wrong with files, at once: what their schemas refuse, and what the rules find in all that can be read.
 * Where something cannot be read, nothing is said of it but that, nor of what only it can have described.
 */
export function everyProblem(read: ReadFiles, held: Held): readonly Finding[] {
  return atOnce(findingEveryProblem(read, held));
}

/** As {@link everyProblem}, in steps between which others may run. */
export function* findingEveryProblem(
  { files, documents, problems, parts, isBlind }: ReadFiles,
  held: Held,
): Steps<readonly Finding[]> {
  const unread = problems.map((problem): Finding => ({ severity: 'error', ...problem }));
  const all = [...documents, ...parts.map(({ document }) => document)];
  const found = yield* checkingDocuments(all, held);
  if (parts.length === 0 && !isBlind) return [...unread, ...found];
  const byFile = new Map(parts.map((part) => [part.document.file, part]));
  const guesses = new Set<string>();
  const doubtful: Finding[] = [];
  // What an unread file or item describes is not unknown.
  if (isBlind || parts.some(({ hasGaps }) => hasGaps))
    globalReferencesAreKnown(all, held, gatherInto(doubtful, []));
  for (const { document, hasGaps } of parts)
    if (document.kind === 'dossier' && hasGaps) localReferencesAreKnown(document, gatherInto(doubtful, []));
  for (const one of doubtful) guesses.add(keyOf(one));
  const sound = found.filter((finding) => {
    const part = byFile.get(finding.file ?? '');
    return !guesses.has(keyOf(finding)) && !(part && isOfUnread(finding, part));
  });
  const order: readonly (string | undefined)[] = files;
  return [...unread, ...sound].toSorted(
    (a, b) =>
      order.indexOf(a.file) - order.indexOf(b.file) ||
      (a.line ?? 0) - (b.line ?? 0) ||
      (a.column ?? 0) - (b.column ?? 0),
  );
}

const keyOf = ({ file, path, what }: Finding) => JSON.stringify([file, path, what]);

/** Whether a finding is about something that could not be read, or about what stands in for it. */
function isOfUnread({ path = '', what }: Finding, { problems, standIns }: ReadPart): boolean {
  return (
    standIns.some((one) => what.includes(one)) ||
    problems.some(
      ({ path: unread }) => unread !== undefined && (isWithin(path, unread) || isWithin(unread, path)),
    )
  );
}

function isWithin(path: string, around: string): boolean {
  if (around === '' || !path.startsWith(around)) return false;
  const next = path[around.length];
  return next === undefined || next === '.' || next === '[';
}

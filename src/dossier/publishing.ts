import type { Collection } from '../model/catalogue.ts';
import { recordId } from '../model/catalogue.ts';
import { specimenIdOf } from '../model/dossier.ts';
import type { Change } from '../model/entry.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import type { Visible } from '../model/visibility.ts';
import type { HeldDossiers } from './check/context.ts';
import { limited } from './limited.ts';

/** What readers see only through what it belongs to: a device, a part. A new one by itself shows nothing. */
const SEEN_THROUGH_OTHERS: ReadonlySet<Collection> = new Set(['makers', 'productLines']);

/**
 * Refuses an import by somebody who may not publish: everything in it must be a draft, and replace nothing but drafts. What is
 * under embargo publishes itself when that ends, and so takes the same right.
 * @throws CasebackError NOT_ALLOWED with everything that an editor has to bring in
 */
export function refusePublishing(changes: readonly Change[], held: HeldDossiers): void {
  const problems = changes.flatMap((change): Problem[] => {
    const described = describe(change, held);
    if (!described) return [];
    const { name, now, before, isSeenByItself } = described;
    if (before && !isDraft(before))
      return [
        { path: name, what: 'is not a draft in the archive', fix: 'ask an editor to import the change' },
      ];
    if (isDraft(now) || (!isSeenByItself && now.visibility === undefined)) return [];
    return [
      { path: name, what: 'would be published', fix: 'set visibility: draft, or ask an editor to import it' },
    ];
  });
  if (problems.length === 0) return;
  const count = problems.length === 1 ? '1 record is' : `${problems.length} records are`;
  throw new CasebackError(
    'NOT_ALLOWED',
    `a contributor imports drafts, and ${count} more than that; nothing was written`,
    limited(problems),
  );
}

interface Described {
  readonly name: string;
  readonly now: Partial<Visible>;
  readonly before: Partial<Visible> | undefined;
  readonly isSeenByItself: boolean;
}

function describe(change: Change, held: HeldDossiers): Described | undefined {
  if (change.kind === 'dossier-put') {
    const name = specimenIdOf(change.payload);
    return { name, now: change.payload, before: held.dossierNow(name), isSeenByItself: true };
  }
  if (change.kind !== 'record-put') return undefined;
  const { collection, record } = change.payload;
  const name = recordId(collection, record);
  return {
    name,
    now: record as Partial<Visible>,
    before: held.record(collection, name) as Partial<Visible> | undefined,
    isSeenByItself: !SEEN_THROUGH_OTHERS.has(collection),
  };
}

const isDraft = ({ visibility }: Partial<Visible>) => visibility === 'draft';

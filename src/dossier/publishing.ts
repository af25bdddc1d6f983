import type { Collection } from '../model/catalogue.ts';
import { claimIdOf, type Publication, recordId } from '../model/catalogue.ts';
import { type Dossier, specimenIdOf } from '../model/dossier.ts';
import type { Change } from '../model/entry.ts';
import { thingId } from '../model/ids.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { isMarked, unmarked, type Visible } from '../model/visibility.ts';
import { orderFreeText } from '../text/member-order.ts';
import type { HeldDossiers } from './check/context.ts';
import { limited } from './limited.ts';

/** What readers see only through what it belongs to: a device, a part. A new one by itself shows nothing. */
const SEEN_THROUGH_OTHERS: ReadonlySet<Collection> = new Set(['makers', 'productLines']);

/**
 * Refuses an import by somebody who may not publish: everything in it must be a draft, and replace nothing but drafts. A draft beside
 * what is published changes nothing that readers see, but whatever anybody records afterwards waits with it. What is
 * under embargo publishes itself when that ends, and so takes the same right. A claim or identification in a draft is a draft, or as hidden
 * as it was: what an editor hid by itself must not go out with the rest.
 * @throws CasebackError NOT_ALLOWED with everything that an editor has to bring in
 */
export function refusePublishing(changes: readonly Change[], held: HeldDossiers): void {
  const problems = changes.flatMap((change): Problem[] => {
    const described = describe(change, held);
    if (!described) return [];
    const { name, now, before, isSeenByItself, parts, partsBefore } = described;
    if (before && !isDraft(before))
      return [
        {
          path: name,
          what: 'is not a draft in the archive',
          fix: 'ask an editor to import the change, or to file a draft beside it, which contributors may change then',
        },
      ];
    if (isDraft(now) || (!isSeenByItself && now.visibility === undefined))
      return partProblems(parts, partsBefore);
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
  readonly parts: readonly Part[];
  readonly partsBefore: readonly Part[];
}

/** A claim or an identification, which may be hidden by itself. */
interface Part extends Visible {
  readonly path: string;
  /** What tells it from all others. */
  readonly key: string;
  /** What it still has when it was written anew: the sentence, or the component. */
  readonly likeness: string;
}

function partProblems(parts: readonly Part[], before: readonly Part[]): Problem[] {
  const keys = new Set(parts.map(({ key }) => key));
  return parts.flatMap((part) => {
    if (isDraft(part)) return [];
    const same = before.filter(({ key }) => key === part.key);
    const alike = before.filter(({ key, likeness }) => likeness === part.likeness && !keys.has(key));
    const earlier = same.length > 0 ? same : alike;
    if (
      earlier.every((one) => isAsVisible(part, one)) &&
      (earlier.length > 0 || part.visibility === undefined)
    )
      return [];
    return [
      {
        path: part.path,
        what: earlier.some(isMarked) ? 'would be hidden no longer, or not as it was' : 'would be published',
        fix: 'leave its visibility as the archive has it, set visibility: draft, or ask an editor to import it',
      },
    ];
  });
}

function isAsVisible(one: Visible, other: Visible): boolean {
  const endOf = ({ embargoUntil }: Visible) => (embargoUntil === undefined ? 0 : Date.parse(embargoUntil));
  return (
    (one.visibility ?? 'published') === (other.visibility ?? 'published') &&
    (one.visibility !== 'embargoed' || endOf(one) === endOf(other))
  );
}

function identificationsOf(dossier: Dossier): readonly Part[] {
  return dossier.identifications.map((one) => ({
    visibility: one.visibility,
    embargoUntil: one.embargoUntil,
    path: thingId(specimenIdOf(dossier), one.component),
    key: orderFreeText(unmarked(one)),
    likeness: one.component,
  }));
}

function claimsOf(publication: Publication): readonly Part[] {
  return publication.claims.map((one) => ({
    visibility: one.visibility,
    embargoUntil: one.embargoUntil,
    path: claimIdOf(publication, one),
    key: one.id,
    likeness: one.sentence,
  }));
}

function describe(change: Change, held: HeldDossiers): Described | undefined {
  if (change.kind === 'dossier-put') {
    const name = specimenIdOf(change.payload);
    const before = held.dossierNow(name);
    return {
      name,
      now: change.payload,
      before,
      isSeenByItself: true,
      parts: identificationsOf(change.payload),
      partsBefore: before ? identificationsOf(before) : [],
    };
  }
  if (change.kind !== 'record-put') return undefined;
  const { collection, record } = change.payload;
  const name = recordId(collection, record);
  const publication = held.record('publications', name);
  return {
    name,
    now: record as Partial<Visible>,
    before: held.record(collection, name) as Partial<Visible> | undefined,
    isSeenByItself: !SEEN_THROUGH_OTHERS.has(collection),
    parts: collection === 'publications' ? claimsOf(record as Publication) : [],
    partsBefore: collection === 'publications' && publication ? claimsOf(publication) : [],
  };
}

const isDraft = ({ visibility }: Partial<Visible>) => visibility === 'draft';

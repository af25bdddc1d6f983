import { type CatalogueRecord, type Collection, claimIdOf, recordId } from '../../model/catalogue.ts';
import { type Device, type Dossier, deviceIdOf, specimenIdOf } from '../../model/dossier.ts';
import { memberId, parseDecisionId, parseId, parseMemberId } from '../../model/ids.ts';
import { isMorePublic, mostPublic, type Visible } from '../../model/visibility.ts';
import { withDeviceId } from '../devices.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import { same } from '../document/same.ts';
import type { ArchiveRule, Held, Report } from './context.ts';

/**
 * What readers may see names nothing that they may not see at that time: it would tell them of it, or leave them a sentence
 * without its support. Makers and product lines that say nothing of who may see them are seen through what names them.
 */
export const readersKnowWhatIsNamed: ArchiveRule = (documents, held, report) => {
  const naming = new Naming(documents, held, report);
  for (const document of documents) {
    if (document.kind === 'dossier') naming.dossier(document, document.dossier);
    else naming.catalogue(document);
  }
};

const DRAFT: Visible = { visibility: 'draft' };

/** The less public of two. */
const within = (one: Visible, other: Visible) => (isMorePublic(one, other) ? other : one);

class Naming {
  readonly #held: Held;
  readonly #report: Report;
  /** Who may see what the files bring, by id. */
  readonly #incoming = new Map<string, Visible>();

  constructor(documents: readonly ReadDocument[], held: Held, report: Report) {
    this.#held = held;
    this.#report = report;
    for (const document of documents) this.#take(document);
  }

  #take(document: ReadDocument): void {
    if (document.kind === 'dossier') {
      const { dossier } = document;
      this.#incoming.set(specimenIdOf(dossier), dossier);
      const device = deviceIdOf(dossier);
      this.#incoming.set(device, mostPublic([dossier, this.#incoming.get(device) ?? DRAFT]) ?? dossier);
      return;
    }
    for (const [collection, record] of recordsOf(document)) {
      const id = recordId(collection, record);
      const others = collection === 'devices' ? [this.#incoming.get(id) ?? DRAFT] : [];
      this.#incoming.set(id, mostPublic([record, ...others]) ?? record);
      if (collection === 'publications') {
        const publication = record as CatalogueRecord<'publications'>;
        for (const claim of publication.claims)
          this.#incoming.set(claimIdOf(publication, claim), within(publication, claim));
      }
    }
  }

  dossier(document: ReadDocument, dossier: Dossier): void {
    const id = specimenIdOf(dossier);
    const before = [this.#held.dossierAsFiled?.(id), this.#held.dossierNow(id)];
    if (before.some((one) => one && same(withDeviceId(one), withDeviceId(dossier)))) return;
    const name = (by: Visible, of: string | undefined, path: Path) => this.#name(document, by, of, path);
    const recalled = this.#held.visibleNow?.(deviceIdOf(dossier));
    if (recalled === 'recalled' && typeof dossier.device === 'string' && !this.#incoming.has(dossier.device))
      name(dossier, dossier.device, ['device']);
    if (typeof dossier.device !== 'string') this.#device(document, dossier, dossier.device, ['device']);
    dossier.observations.forEach(({ cites = [] }, i) => {
      cites.forEach((of, j) => name(dossier, of, ['observations', i, 'cites', j]));
    });
    dossier.identifications.forEach((one, i) => {
      const by = within(dossier, one);
      one.cites?.forEach((of, j) => name(by, of, ['identifications', i, 'cites', j]));
      one.candidates.forEach(({ part, maker }, j) => {
        name(by, part, ['identifications', i, 'candidates', j, 'part']);
        name(by, maker, ['identifications', i, 'candidates', j, 'maker']);
      });
    });
    dossier.judgements?.forEach(({ part }, i) => name(dossier, part, ['judgements', i, 'part']));
  }

  catalogue(document: ReadDocument & { kind: 'catalogue' }): void {
    const { makers: _, ...lists } = document.catalogue;
    const changed = (collection: Collection, record: CatalogueRecord) =>
      !same(record, this.#held.record(collection, recordId(collection, record)));
    lists.devices.forEach((device, i) => {
      if (changed('devices', device)) this.#device(document, device, device, ['devices', i]);
    });
    lists.productLines.forEach((line, i) => {
      if (changed('productLines', line)) this.#name(document, line, line.maker, ['productLines', i, 'maker']);
    });
    lists.parts.forEach((part, i) => {
      if (!changed('parts', part)) return;
      this.#name(document, part, part.maker, ['parts', i, 'maker']);
      this.#name(document, part, part.relabels, ['parts', i, 'relabels']);
    });
    lists.publications.forEach((publication, i) => {
      if (!changed('publications', publication)) return;
      publication.claims.forEach((claim, j) => {
        const by = within(publication, claim);
        claim.supportedBy.forEach((of, k) => {
          this.#name(document, by, of, ['publications', i, 'claims', j, 'supportedBy', k]);
        });
        this.#hiddenSentence(document, claimIdOf(publication, claim), by, ['publications', i, 'claims', j]);
      });
    });
  }

  #device(document: ReadDocument, by: Visible, device: Device, path: Path): void {
    this.#name(document, by, device.maker, [...path, 'maker']);
    this.#name(document, by, device.productLine, [...path, 'productLine']);
    device.succeeds.forEach((of, i) => this.#name(document, by, of, [...path, 'succeeds', i]));
  }

  /** A sentence that is to be hidden, though things that readers go on seeing cite it. */
  #hiddenSentence(document: ReadDocument, id: string, by: Visible, path: Path): void {
    const citing = this.#held
      .specimensCiting(id)
      .filter((one) => isMorePublic(this.#incoming.get(one) ?? this.#seen(one) ?? DRAFT, by));
    if (citing.length === 0) return;
    const shown = citing.slice(0, 3).join(', ');
    this.#report(
      document,
      [...path, 'visibility'],
      `is hidden here, but readers see it cited in ${shown}${citing.length > 3 ? ' and others' : ''}`,
      `leave the citations out there first, or publish the sentence`,
    );
  }

  #name(document: ReadDocument, by: Visible, of: string | undefined, path: Path): void {
    if (of === undefined) return;
    for (const id of parseDecisionId(of) ? Object.values(parseDecisionId(of) ?? {}).slice(1) : [of]) {
      const seen = this.#visibleOf(id);
      if (!seen || !isMorePublic(by, seen)) continue;
      const until =
        seen.visibility === 'embargoed' ? `under embargo until ${seen.embargoUntil}` : 'not published';
      const what = `names "${id}", which is ${until}, while this is ${by.visibility === 'embargoed' ? `embargoed until ${by.embargoUntil}` : 'published'}`;
      const fix = `publish "${id}" with it, hide this as well, or leave the name out`;
      this.#report(document, path, what, fix);
      return;
    }
  }

  /** Who may see what an id names, once the files are in; undefined where that follows from what names it. */
  #visibleOf(id: string): Visible | undefined {
    const parsed = parseId(id);
    const holder = parsed?.form === 'thing' ? memberId(parsed.device, parsed.specimen) : id;
    const [incoming, seen] = [this.#incoming.get(holder), this.#seen(holder)];
    // A draft of something published leaves it standing.
    if (!incoming) return seen;
    return seen ? mostPublic([incoming, seen]) : incoming;
  }

  #seen(id: string): Visible | undefined {
    const now = this.#held.visibleNow?.(id);
    if (now === 'recalled') return DRAFT;
    if (now || !parseMemberId(id)) return now;
    return undefined;
  }
}

function recordsOf(
  document: ReadDocument & { kind: 'catalogue' },
): readonly (readonly [Collection, CatalogueRecord])[] {
  const { caseback: _, ...lists } = document.catalogue;
  return Object.entries(lists).flatMap(([collection, records]) =>
    (records as readonly CatalogueRecord[]).map((record) => [collection as Collection, record] as const),
  );
}

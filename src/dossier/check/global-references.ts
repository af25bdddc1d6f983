import { COLLECTIONS, type Collection, claimIdOf, recordId } from '../../model/catalogue.ts';
import { type Device, type Dossier, deviceIdOf, specimenIdOf } from '../../model/dossier.ts';
import type { Figure } from '../../model/figure.ts';
import { parseDecisionId, parseMemberId, parseThingId, specimenOfId, thingId } from '../../model/ids.ts';
import { isTerm } from '../../model/taxonomy.ts';
import { didYouMean } from '../../text/near.ts';
import { recordedId } from '../component-ids.ts';
import type { CatalogueDocument, DossierDocument, Path, ReadDocument } from '../document/document.ts';
import type { ArchiveRule, Held, Report } from './context.ts';
import { localIds } from './local-ids.ts';
import { KIND_WORDS } from './words.ts';

/** Every maker, line, part, device or other thing that a file names is in the files or in the archive. */
export const globalReferencesAreKnown: ArchiveRule = (documents, held, report) => {
  const known = knownIds(documents, held);
  for (const document of documents) {
    if (document.kind === 'dossier') checkDossier(document, known, report);
    else checkCatalogue(document, known, report);
  }
};

interface Known {
  readonly has: (kind: Collection, id: string) => boolean;
  readonly near: (kind: Collection, id: string) => string | undefined;
  readonly hasAnything: (id: string) => boolean;
  /** Ids of the components of one dossier that an id without board may mean; none where it is not ambiguous. */
  readonly choices: (id: string) => readonly string[];
  /** Names near one that may be of any kind. */
  readonly nearAnything: (id: string) => string | undefined;
}

function knownIds(documents: readonly ReadDocument[], held: Held): Known {
  const byKind = new Map<Collection, Set<string>>(COLLECTIONS.map((kind) => [kind, new Set()]));
  const anything = new Set<string>();
  const filed = new Map<string, Dossier>();
  for (const document of documents) {
    if (document.kind === 'catalogue') {
      for (const collection of COLLECTIONS) {
        for (const record of document.catalogue[collection])
          byKind.get(collection)?.add(recordId(collection, record));
      }
      for (const { id, claims } of document.catalogue.publications)
        for (const claim of claims) anything.add(claimIdOf({ id }, claim));
    } else {
      const { dossier } = document;
      if (typeof dossier.device !== 'string') byKind.get('devices')?.add(dossier.device.id);
      const specimen = specimenIdOf(dossier);
      filed.set(specimen, dossier);
      anything.add(specimen).add(thingId(specimen, 'teardown'));
      for (const { id } of localIds(dossier)) anything.add(thingId(specimen, id));
    }
  }
  return {
    has: (kind, id) => byKind.get(kind)?.has(id) || held.record(kind, id) !== undefined,
    near: (kind, id) => didYouMean(id, [...(byKind.get(kind) ?? []), ...held.ids(kind)]),
    nearAnything: (id) => didYouMean(id, [...anything, ...[...byKind.values()].flatMap((ids) => [...ids])]),
    choices(id) {
      const thing = parseThingId(id);
      if (!thing) return [];
      const specimen = specimenOfId(id);
      const { components = [] } = filed.get(specimen) ?? held.dossierNow(specimen) ?? {};
      const recorded = recordedId(components, thing.local);
      return typeof recorded === 'string' ? [] : recorded.choices.map((local) => thingId(specimen, local));
    },
    hasAnything: (id) =>
      anything.has(id) || [...byKind.values()].some((ids) => ids.has(id)) || held.hasId(id),
  };
}

function need(document: ReadDocument, known: Known, report: Report) {
  return (kind: Collection, id: string | undefined, path: Path) => {
    if (id === undefined || known.has(kind, id)) return;
    const fix = () =>
      known.near(kind, id) ??
      `describe the ${KIND_WORDS[kind]} in a ${kind === 'devices' ? 'dossier or catalogue' : 'catalogue'} first`;
    report(document, path, `no ${KIND_WORDS[kind]} "${id}" in these files or the archive`, fix);
  };
}

function checkDossier(document: DossierDocument, known: Known, report: Report): void {
  const needs = need(document, known, report);
  const { dossier } = document;
  const { device } = dossier;
  if (typeof device === 'string') needs('devices', deviceIdOf(dossier), ['device']);
  else checkDevice(device, ['device'], needs);
  dossier.observations.forEach(({ cites = [] }, i) => {
    cites.forEach((id, j) => cited(document, id, ['observations', i, 'cites', j], known, report));
  });
  dossier.identifications.forEach(({ candidates, cites = [] }, i) => {
    cites.forEach((id, j) => cited(document, id, ['identifications', i, 'cites', j], known, report));
    candidates.forEach(({ part, maker }, j) => {
      needs('parts', part, ['identifications', i, 'candidates', j, 'part']);
      needs('makers', maker, ['identifications', i, 'candidates', j, 'maker']);
    });
  });
  dossier.judgements?.forEach(({ part }, i) => needs('parts', part, ['judgements', i, 'part']));
}

function checkDevice(device: Device, path: Path, needs: ReturnType<typeof need>): void {
  needs('makers', device.maker, [...path, 'maker']);
  needs('productLines', device.productLine, [...path, 'productLine']);
  device.succeeds.forEach((id, i) => needs('devices', id, [...path, 'succeeds', i]));
}

function cited(document: ReadDocument, id: string, path: Path, known: Known, report: Report): void {
  if (known.has('sources', id) || (parseMemberId(id) && known.hasAnything(id))) return;
  const fix = () => known.nearAnything(id) ?? 'name a source, or a sentence as publication/claim';
  report(document, path, `no source or published sentence "${id}" in these files or the archive`, fix);
}

/** What the figure of a sentence is about. */
function checkFigure(figure: Figure, path: Path, needs: ReturnType<typeof need>): void {
  if ('compare' in figure) {
    figure.devices.forEach((id, i) => needs('devices', id, [...path, 'devices', i]));
    return;
  }
  const [name, subject] =
    'share' in figure
      ? (['share', figure.share] as const)
      : 'count' in figure
        ? (['count', figure.count] as const)
        : (['trend', figure.trend] as const);
  if ('pattern' in subject) needs('patterns', subject.pattern, [...path, name, 'pattern']);
  if ('decision' in subject) needs('patterns', subject.decision, [...path, name, 'decision']);
  if ('maker' in subject) needs('makers', subject.maker, [...path, name, 'maker']);
  if ('part' in subject) needs('parts', subject.part, [...path, name, 'part']);
  needs('makers', figure.where.maker, [...path, 'where', 'maker']);
  needs('productLines', figure.where.productLine, [...path, 'where', 'productLine']);
}

function checkCatalogue(document: CatalogueDocument, known: Known, report: Report): void {
  const needs = need(document, known, report);
  const { productLines, devices, parts, publications } = document.catalogue;
  productLines.forEach(({ maker }, i) => needs('makers', maker, ['productLines', i, 'maker']));
  devices.forEach((device, i) => checkDevice(device, ['devices', i], needs));
  parts.forEach(({ maker, relabels }, i) => {
    needs('makers', maker, ['parts', i, 'maker']);
    needs('parts', relabels, ['parts', i, 'relabels']);
  });
  publications.forEach(({ claims }, i) => {
    claims.forEach(({ supportedBy, figures = [] }, j) => {
      figures.forEach((figure, k) => {
        checkFigure(figure, ['publications', i, 'claims', j, 'figures', k], needs);
      });
      supportedBy.forEach((id, k) => {
        const decision = parseDecisionId(id);
        if (decision) {
          needs('devices', decision.device, ['publications', i, 'claims', j, 'supportedBy', k]);
          needs('patterns', decision.pattern, ['publications', i, 'claims', j, 'supportedBy', k]);
          return;
        }
        if (isTerm(id) || known.hasAnything(id)) return;
        const choices = known.choices(id);
        if (choices.length > 0) {
          const what = `"${id}" may be ${choices.join(' or ')}`;
          report(document, ['publications', i, 'claims', j, 'supportedBy', k], what, 'write one of them');
          return;
        }
        const fix = () =>
          known.nearAnything(id) ??
          'ids look like "tarn-sennit-3", "tarn-sennit-3/a/U3" or "quistle/QWR4T10"';
        report(
          document,
          ['publications', i, 'claims', j, 'supportedBy', k],
          `nothing in these files or the archive is called "${id}"`,
          fix,
        );
      });
    });
  });
}

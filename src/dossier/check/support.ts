import { type Claim, claimIdOf, type Publication } from '../../model/catalogue.ts';
import { dateRange } from '../../model/dates.ts';
import { type Device, type Dossier, deviceIdOf, specimenIdOf } from '../../model/dossier.ts';
import type { Figure } from '../../model/figure.ts';
import { parseId, recordOfId, specimenOfId, thingId } from '../../model/ids.ts';
import { fallenIn } from '../../model/standing.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import { circleFrom } from './circle.ts';
import type { ArchiveRule, Held } from './context.ts';

/**
 * No sentence supports its own evidence: not through other sentences, nor through an observation or identification that
 * cites it. A sentence about an entire unit, device or decision is supported by all that was seen of it, and one that
 * counts devices by all that was seen of each.
 */
export const supportHasNoCircle: ArchiveRule = (documents, held, report) => {
  const support = new SupportLookup(documents, held);
  const check = (document: ReadDocument, id: string, path: Path) => {
    const circle = circleFrom(id, (at) => support.under(at));
    if (!circle) return;
    const what = `it would support its own evidence: ${circle.join(' is supported by ')}`;
    report(document, path, what, 'name what was seen on the bench instead');
  };
  for (const document of documents) {
    if (document.kind === 'catalogue') {
      document.catalogue.publications.forEach((publication, i) =>
        publication.claims.forEach(({ id }, j) =>
          check(document, claimIdOf(publication, { id }), ['publications', i, 'claims', j, 'supportedBy']),
        ),
      );
      continue;
    }
    const specimen = specimenIdOf(document.dossier);
    document.dossier.observations.forEach(({ id, cites }, i) => {
      if (cites) check(document, thingId(specimen, id), ['observations', i, 'cites']);
    });
    document.dossier.identifications.forEach(({ component, cites }, i) => {
      if (cites) check(document, thingId(specimen, component), ['identifications', i, 'cites']);
    });
  }
};

/** What directly supports an id, files before what the archive holds. */
class SupportLookup {
  readonly #held: Held;
  readonly #publications = new Map<string, Publication>();
  readonly #dossiers = new Map<string, Dossier>();
  readonly #devices = new Map<string, Device>();
  /** Specimens in which something cites a sentence; few, and no circle passes another. */
  readonly #citing: ReadonlySet<string>;

  constructor(documents: readonly ReadDocument[], held: Held) {
    this.#held = held;
    for (const document of documents) {
      if (document.kind === 'catalogue') {
        for (const publication of document.catalogue.publications)
          this.#publications.set(publication.id, publication);
        for (const device of document.catalogue.devices) this.#devices.set(device.id, device);
        continue;
      }
      const { dossier } = document;
      this.#dossiers.set(specimenIdOf(dossier), dossier);
      if (typeof dossier.device !== 'string') this.#devices.set(dossier.device.id, dossier.device);
    }
    const filed = [...this.#dossiers].filter(([, dossier]) => citingIn(dossier).length > 0);
    this.#citing = new Set([...filed.map(([id]) => id), ...citingInArchive(held)]);
  }

  under(id: string): readonly string[] {
    const parsed = parseId(id);
    switch (parsed?.form) {
      case 'record':
        return this.#citingOfDevice(id);
      case 'decision':
        return this.#citingOfDevice(parsed.device);
      case 'thing':
        return this.#underInside(specimenOfId(id), parsed.local);
      case 'member': {
        const claim = this.#claim(parsed.record, parsed.member);
        return claim ? [...claim.supportedBy, ...this.#countedBy(claim)] : this.#citingOf(id);
      }
      case undefined:
        return [];
      default:
        return parsed satisfies never;
    }
  }

  #claim(publication: string, claim: string): Claim | undefined {
    const found = this.#publications.get(publication) ?? this.#held.record('publications', publication);
    return found?.claims.find(({ id }) => id === claim);
  }

  /** Devices with something citing that the figures of a sentence are over. */
  #countedBy({ figures = [] }: Claim): readonly string[] {
    if (figures.length === 0) return [];
    const devices = new Set([...this.#citing].map(recordOfId));
    return [...devices].filter((id) => {
      const device = this.#devices.get(id) ?? this.#held.record('devices', id);
      return device !== undefined && figures.some((figure) => isOver(figure, device));
    });
  }

  #dossier(specimen: string): Dossier | undefined {
    return this.#dossiers.get(specimen) ?? this.#held.dossierNow(specimen);
  }

  /**
   * Under an observation what it cites; under a component its identification and what of it cites something; under a
   * board the latter. What was withdrawn, corrected or replaced supports nothing.
   */
  #underInside(specimen: string, local: string): readonly string[] {
    if (!this.#citing.has(specimen)) return [];
    const { observations = [], identifications = [] } = this.#dossier(specimen) ?? {};
    const fallen = fallenIn(observations);
    const standing = observations.filter(({ id }) => !fallen.has(id));
    const observation = standing.find(({ id }) => id === local);
    if (observation) return observation.cites ?? [];
    const citing = standing.filter(({ about, cites }) => cites && about.includes(local)).map(({ id }) => id);
    const { basis = [], cites = [] } =
      identifications.findLast(({ component, state }) => component === local && state !== 'withdrawn') ?? {};
    return [...[...basis, ...citing].map((id) => thingId(specimen, id)), ...cites];
  }

  /** Everything in a specimen that cites something. */
  #citingOf(specimen: string): readonly string[] {
    const dossier = this.#citing.has(specimen) ? this.#dossier(specimen) : undefined;
    return dossier ? citingIn(dossier).map((local) => thingId(specimen, local)) : [];
  }

  #citingOfDevice(device: string): readonly string[] {
    const filed = [...this.#dossiers].flatMap(([id, dossier]) =>
      deviceIdOf(dossier) === device ? [id] : [],
    );
    const specimens = new Set([...filed, ...this.#held.specimensOf(device)]);
    return [...specimens].flatMap((id) => this.#citingOf(id));
  }
}

/** Local ids of what in a dossier cites something. */
function citingIn({ observations, identifications }: Dossier): readonly string[] {
  return [
    ...observations.flatMap(({ id, cites }) => (cites ? [id] : [])),
    ...identifications.flatMap(({ component, cites }) => (cites ? [component] : [])),
  ];
}

function* citingInArchive(held: Held): Generator<string> {
  for (const publication of held.ids('publications'))
    for (const { id } of held.record('publications', publication)?.claims ?? [])
      yield* held.specimensCiting(claimIdOf({ id: publication }, { id }));
}

/** Whether a device is among those that a figure is over. */
function isOver(figure: Figure, { id, bodySite, maker, productLine, released }: Device): boolean {
  if ('compare' in figure) return figure.devices.includes(id);
  const { where } = figure;
  const { first, last } = dateRange(released);
  return (
    (where.bodySite ?? bodySite) === bodySite &&
    (where.maker ?? maker) === maker &&
    (where.productLine ?? productLine) === productLine &&
    (where.from === undefined || last >= dateRange(where.from).first) &&
    (where.to === undefined || first <= dateRange(where.to).last)
  );
}

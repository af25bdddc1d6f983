import type { Claim, Piece } from '../../model/catalogue.ts';
import { readDecisionId } from '../../model/decision.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../../model/dossier.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import { circleFrom } from './circle.ts';
import type { ArchiveRule, Held } from './context.ts';

/**
 * No sentence supports what it rests on: not through other sentences, nor through an observation or identification
 * that cites it. A sentence about a whole unit, device or decision rests on all that was seen of it.
 */
export const supportHasNoCircle: ArchiveRule = (documents, held, report) => {
  const support = new SupportLookup(documents, held);
  const check = (document: ReadDocument, id: string, path: Path) => {
    const circle = circleFrom(id, (at) => support.under(at));
    if (!circle) return;
    const what = `it would support what it rests on: ${circle.join(' rests on ')}`;
    report(document, path, what, 'name what was seen on the bench instead');
  };
  for (const document of documents) {
    if (document.kind === 'catalogue') {
      document.catalogue.pieces.forEach((piece, i) =>
        piece.claims.forEach(({ id }, j) =>
          check(document, `${piece.id}/${id}`, ['pieces', i, 'claims', j, 'restsOn']),
        ),
      );
      continue;
    }
    const specimen = specimenIdOf(document.dossier);
    document.dossier.observations.forEach(({ id, cites }, i) => {
      if (cites) check(document, `${specimen}/${id}`, ['observations', i, 'cites']);
    });
    document.dossier.identifications.forEach(({ component, cites }, i) => {
      if (cites) check(document, `${specimen}/${component}`, ['identifications', i, 'cites']);
    });
  }
};

/** What stands directly under an id, files before what the archive holds. */
class SupportLookup {
  readonly #held: Held;
  readonly #pieces = new Map<string, Piece>();
  readonly #dossiers = new Map<string, Dossier>();

  constructor(documents: readonly ReadDocument[], held: Held) {
    this.#held = held;
    for (const document of documents) {
      if (document.kind === 'dossier') this.#dossiers.set(specimenIdOf(document.dossier), document.dossier);
      else for (const piece of document.catalogue.pieces) this.#pieces.set(piece.id, piece);
    }
  }

  under(id: string): readonly string[] {
    const decision = readDecisionId(id);
    if (decision) return this.#citingIn(decision.device);
    const steps = id.split('/');
    if (steps.length === 1) return this.#citingIn(id);
    if (steps.length === 3) return this.#underInside(`${steps[0]}/${steps[1]}`, steps[2]);
    const claim = this.#claim(steps[0], steps[1]);
    return claim ? claim.restsOn : this.#citing(id);
  }

  #claim(piece: string, claim: string): Claim | undefined {
    const found = this.#pieces.get(piece) ?? this.#held.record('pieces', piece);
    return found?.claims.find(({ id }) => id === claim);
  }

  #dossier(specimen: string): Dossier | undefined {
    return this.#dossiers.get(specimen) ?? this.#held.dossierNow(specimen);
  }

  #underInside(specimen: string, local: string): readonly string[] {
    const dossier = this.#dossier(specimen);
    const observation = dossier?.observations.find(({ id }) => id === local);
    if (observation) return observation.cites ?? [];
    const identifications = dossier?.identifications.filter(({ component }) => component === local) ?? [];
    return identifications.flatMap(({ basis, cites = [] }) => [
      ...basis.map((id) => `${specimen}/${id}`),
      ...cites,
    ]);
  }

  /** Everything in a specimen that cites something. */
  #citing(specimen: string): readonly string[] {
    const dossier = this.#dossier(specimen);
    if (!dossier) return [];
    return [
      ...dossier.observations.flatMap(({ id, cites }) => (cites ? [`${specimen}/${id}`] : [])),
      ...dossier.identifications.flatMap(({ component, cites }) =>
        cites ? [`${specimen}/${component}`] : [],
      ),
    ];
  }

  #citingIn(device: string): readonly string[] {
    const filed = [...this.#dossiers].flatMap(([id, dossier]) =>
      deviceIdOf(dossier) === device ? [id] : [],
    );
    const specimens = new Set([...filed, ...this.#held.specimensOf(device)]);
    return [...specimens].flatMap((id) => this.#citing(id));
  }
}

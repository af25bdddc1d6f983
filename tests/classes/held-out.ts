import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { type Catalogue, partIdOf } from '../../src/model/catalogue.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { mostSpecific } from '../../src/model/taxonomy.ts';
import { CERTAIN, isFitted } from '../../src/state/labels.ts';
import { dossierOf } from '../../src/state/merge.ts';
import { type Blank, isChip, type Outcome, oddsOf, outcomeOf } from './blanked-chips.ts';

// Chips of an archive whose truth is known, each blanked in turn and told by what all other devices teach.

/** Documents of dossiers and a catalogue, as after reading. */
export function documentsOf(catalogue: Catalogue, dossiers: readonly Dossier[]): ReadDocument[] {
  const place = { file: 'held out', locate: () => ({ line: 1, column: 1 }) };
  return [
    { ...place, kind: 'catalogue', catalogue },
    ...dossiers.map((dossier) => ({ ...place, kind: 'dossier' as const, dossier })),
  ];
}

/** Every chip that is certain, its whole device left out of what was learnt. */
export async function heldOut(
  documents: readonly ReadDocument[],
  blank: Blank = {},
): Promise<readonly Outcome[]> {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments([...documents], { actor: 'A', reason: 'held out' });
  const view = archive.state('desk');
  const categories = new Map(view.parts().map((part) => [partIdOf(part), part.categories]));
  const outcomes: Outcome[] = [];
  for (const { id: device } of view.devices()) {
    const own = view.specimensOf(device);
    const unnamed = view.unnamed.relearn(
      own.map(({ id }) => [id, undefined] as const),
      view.shared.names,
    );
    for (const row of own) {
      const specimen = view.specimen(row.id);
      const dossier = dossierOf(row);
      for (const component of specimen?.counted ?? []) {
        const weights = specimen?.named.get(component.id) ?? new Map<string, number>();
        const terms = mostSpecific([...weights.keys()].filter((term) => (weights.get(term) ?? 0) >= CERTAIN));
        if (!isFitted(component) || !isChip(terms)) continue;
        const chip = { id: `${row.id}/${component.id}`, dossier, component: component.id, terms };
        outcomes.push(
          outcomeOf(
            chip,
            oddsOf(chip, unnamed, (part) => categories.get(part), blank),
          ),
        );
      }
    }
  }
  return outcomes;
}

/** Stated against observed: the first name of each chip, by tenths. */
export function tenths(outcomes: readonly Outcome[]) {
  return Array.from({ length: 10 }, (_, at) => {
    const of = outcomes.flatMap(({ stated: [first] }) =>
      first && Math.min(9, Math.floor(first.probability * 10)) === at ? [first] : [],
    );
    return {
      chips: of.length,
      stated: of.reduce((sum, { probability }) => sum + probability, 0) / of.length,
      right: of.filter(({ isRight }) => isRight).length,
    };
  });
}

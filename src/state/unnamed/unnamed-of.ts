import type { Board } from '../../classes/board.ts';
import { type ChipOdds, type ClassModel, chipOddsOf } from '../../classes/class-odds.ts';
import { looksOf } from '../../classes/looks.ts';
import { Neighbourhood } from '../../classes/neighbour-clues.ts';
import { isChipFunction } from '../../model/chip-function.ts';
import type { Candidate, Component, Identification } from '../../model/dossier.ts';
import { PACKING } from '../../model/taxonomy.ts';
import { type CategoriesOf, isCounted, isUnnamed, type LabelWeights, labelWeights } from '../labels.ts';
import { type KindSpread, spreadCandidates, type UnnamedKinds } from './unnamed-kinds.ts';

type Named = Board & { readonly identified: ReadonlyMap<string, Identification> };

/** Odds, and what they were calculated by. */
interface ToldOdds {
  readonly spread: KindSpread;
  readonly model: ClassModel;
  readonly odds: ChipOdds | undefined;
}

/**
 * What the unnamed components of a specimen may be. First by class letters and package; then chips by all that hangs on them, where
 * their neighbours count as they were before: so nothing depends on an order, and no chip confirms itself through another.
 */
export class UnnamedOf {
  readonly spreads = new Map<string, readonly Candidate[]>();
  readonly labels: ReadonlyMap<string, LabelWeights>;
  readonly learnt = new Set<KindSpread>();
  readonly #board: Named;
  readonly #unnamed: UnnamedKinds;
  readonly #first: ReadonlyMap<string, LabelWeights>;
  readonly #odds = new Map<string, ToldOdds>();
  #around: Neighbourhood | undefined;

  constructor(board: Named, categoriesOf: CategoriesOf, unnamed: UnnamedKinds) {
    this.#board = board;
    this.#unnamed = unnamed;
    const { components, named, identified } = board;
    const open = [...named].flatMap(([id, weights]) =>
      isCounted(weights) && isUnnamed(weights) ? (components.get(id) ?? []) : [],
    );
    if (open.length === 0) {
      this.#first = named;
      this.labels = named;
      return;
    }
    const weightsWith = (kinds: (component: Component) => KindSpread['kinds']) => {
      const labels = new Map(named);
      for (const component of open) {
        const candidates = identified.get(component.id)?.candidates ?? [];
        const more = spreadCandidates({ kinds: kinds(component) }, candidates);
        this.spreads.set(component.id, more);
        labels.set(
          component.id,
          labelWeights(component, { candidates: [...candidates, ...more] }, categoriesOf),
        );
      }
      return labels;
    };
    this.#first = weightsWith((component) => {
      const spread = this.#spreadOf(component);
      this.learnt.add(spread);
      return spread.kinds;
    });
    this.labels = weightsWith((component) => {
      const odds = this.oddsOf(component);
      if (odds?.isTold) this.learnt.add(unnamed.classes.token);
      return odds
        ? odds.classes.map(({ term, probability }) => ({ category: term, probability }))
        : this.#spreadOf(component).kinds;
    });
  }

  /**
   * What a component may be by all that hangs on it; undefined for what its letters or looks say is no chip.
   * @param unnamed the table of the state that asks. A specimen stays opened while tables change of which its unnamed components
   * show nothing, and odds by an earlier table would tell of what was in the archive then, and who had asked.
   */
  oddsOf(component: Component, unnamed = this.#unnamed): ChipOdds | undefined {
    const { id } = component;
    const spread = this.#spreadOf(component, unnamed);
    const { model } = unnamed.classes;
    const told = this.#odds.get(id);
    if (told?.spread === spread && told.model === model) return told.odds;
    const odds = this.#chipOdds(component, spread, model);
    this.#odds.set(id, { spread, model, odds });
    return odds;
  }

  #chipOdds(component: Component, { kinds }: KindSpread, model: ClassModel): ChipOdds | undefined {
    const { appears } = component;
    const isChip =
      appears === undefined ? kinds.length > 0 && isChipFunction(kinds[0].category) : PACKING.has(appears);
    if (!isChip) return undefined;
    this.#around ??= new Neighbourhood(this.#board, this.#first);
    return chipOddsOf(this.#board, this.#around, component, kinds, model);
  }

  #spreadOf(component: Component, unnamed = this.#unnamed): KindSpread {
    return unnamed.spreadOf({ ...looksOf(this.#board, component), id: component.id });
  }
}

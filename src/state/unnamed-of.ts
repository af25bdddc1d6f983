import type { Board } from '../classes/board.ts';
import { type ChipOdds, chipOddsOf } from '../classes/class-odds.ts';
import { looksOf } from '../classes/looks.ts';
import { Neighbourhood } from '../classes/neighbour-clues.ts';
import { isChipFunction } from '../model/chip-function.ts';
import type { Candidate, Component, Identification } from '../model/dossier.ts';
import { PACKING } from '../model/taxonomy.ts';
import { type CategoriesOf, isCounted, isUnnamed, type LabelWeights, labelWeights } from './labels.ts';
import { type KindSpread, spreadCandidates, type UnnamedKinds } from './unnamed-kinds.ts';

type Named = Board & { readonly identified: ReadonlyMap<string, Identification> };

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
  readonly #odds = new Map<string, ChipOdds | undefined>();
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

  /** What a component may be by all that hangs on it; undefined for what its letters or looks say is no chip. */
  oddsOf(component: Component): ChipOdds | undefined {
    const { id } = component;
    if (!this.#odds.has(id)) this.#odds.set(id, this.#chipOdds(component));
    return this.#odds.get(id);
  }

  #chipOdds(component: Component): ChipOdds | undefined {
    const { kinds } = this.#spreadOf(component);
    const { appears } = component;
    const isChip =
      appears === undefined ? kinds.length > 0 && isChipFunction(kinds[0].category) : PACKING.has(appears);
    if (!isChip) return undefined;
    this.#around ??= new Neighbourhood(this.#board, this.#first);
    return chipOddsOf(this.#board, this.#around, component, kinds, this.#unnamed.classes.model);
  }

  #spreadOf(component: Component): KindSpread {
    return this.#unnamed.spreadOf({ ...looksOf(this.#board, component), id: component.id });
  }
}

import { byName, type ChipOdds } from '../../src/classes/class-odds.ts';
import { CLASSES, rowOf } from '../../src/classes/class-table.ts';
import { isChipFunction } from '../../src/model/chip-function.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { componentMeant, pinOf } from '../../src/model/ids.ts';
import { isUnder } from '../../src/model/taxonomy.ts';
import type { CategoriesOf } from '../../src/state/labels.ts';
import { openSpecimen } from '../../src/state/specimen.ts';
import type { UnnamedKinds } from '../../src/state/unnamed/unnamed-kinds.ts';
import {
  REFERENCE_BOARDS,
  type ReferenceName,
  referenceBoard,
  referenceCatalogue,
  referenceDossier,
  termsOf,
} from '../reference-boards.ts';

// Chips with their identity blanked, one at a time: no marking, no package, no value, no name of a pin, nothing that anybody said or
// saw of it alone. What is left is the letter U, what hangs on it, and size and number of terminals where they are kept.

/** A chip of a dossier and what it really is. */
export interface Chip {
  readonly id: string;
  readonly dossier: Dossier;
  readonly component: string;
  readonly terms: readonly string[];
}

export interface Blank {
  /** Hide the number of terminals and the size, too. @default false */
  readonly size?: boolean;
}

/** The dossier as the bench would have it, had nobody made out what the chip is. */
export function blanked({ dossier, component: id }: Chip, { size = false }: Blank = {}): Dossier {
  const alone = new Set(
    dossier.observations.flatMap(({ id: own, about }) =>
      about.length === 1 && about[0] === id ? [own] : [],
    ),
  );
  return {
    ...dossier,
    identifications: dossier.identifications.filter(({ component }) => component !== id),
    observations: dossier.observations.filter((one) => !alone.has(one.id)),
    components: dossier.components.map((one) => {
      if (one.id !== id) return one;
      const { marking: _m, package: _p, pinout: _n, value: _v, pins, body, ...rest } = one;
      return { ...rest, appears: 'IntegratedCircuit', ...(size ? {} : { pins, body }) };
    }),
    nets: dossier.nets?.map((net) => ({
      ...net,
      pins: net.pins.map((pin) => {
        const { component, pin: label } = pinOf(pin);
        return component === id && label !== undefined && !/^[A-Z]{0,2}\d+$/u.test(label) ? component : pin;
      }),
    })),
  };
}

/** What the archive says of a blanked chip. @param unnamed what was learnt, without its device */
export function oddsOf(
  chip: Chip,
  unnamed: UnnamedKinds,
  categoriesOf: CategoriesOf,
  blank?: Blank,
): ChipOdds {
  const odds = openSpecimen(blanked(chip, blank), categoriesOf, unnamed).oddsOf(chip.component, unnamed);
  if (!odds) throw new Error(`${chip.id} is taken for no chip`);
  return odds;
}

/**
 * Names that an engineer would call right: those of the classes of the table that one of the chip's functions is or is under. What
 * tells one kind from another under a name (microcontroller or sensor hub, gate or level shifter, operational or transimpedance
 * amplifier, flash or other memory) cannot be seen from outside. A name that is right of other parts alone is wrong, a wider term
 * ("regulator" of a step-up converter) is no class of the table and never an answer. A module of bare lamps and photodiodes is an
 * optical sensor.
 */
export function rightNames(terms: readonly string[]): ReadonlySet<string> {
  const names = terms.flatMap((term) => rowOf(term)?.is ?? []);
  return new Set(names);
}

/** Whether a component is one of those that are blanked: a packaged chip, a row of transistors, an optical module. */
export function isChip(terms: readonly string[]): boolean {
  return terms.some((term) => isChipFunction(term) || isUnder(term, 'TransistorArray') || term === 'Module');
}

/** How a chip was named. */
export interface Outcome {
  readonly chip: Chip;
  /** Place of the first right name, from 0; -1 where there is none. */
  readonly rank: number;
  /** Probability of all right names together. */
  readonly right: number;
  /** Probability of each name that was given, and whether it is right. */
  readonly stated: readonly {
    readonly is: string;
    readonly probability: number;
    readonly isRight: boolean;
  }[];
}

export function outcomeOf(chip: Chip, { classes }: ChipOdds): Outcome {
  const right = rightNames(chip.terms);
  const stated = byName(classes).map(({ is, probability }) => ({ is, probability, isRight: right.has(is) }));
  return {
    chip,
    rank: stated.findIndex(({ isRight }) => isRight),
    right: stated.reduce((sum, one) => (one.isRight ? sum + one.probability : sum), 0),
    stated,
  };
}

/** Chips named right at once, and among the first three. */
export function counted(outcomes: readonly Outcome[]): {
  chips: number;
  first: number;
  three: number;
  logLoss: number;
} {
  const losses = outcomes.map(({ right }) => -Math.log(Math.max(right, 1e-3)));
  return {
    chips: outcomes.length,
    first: outcomes.filter(({ rank }) => rank === 0).length,
    three: outcomes.filter(({ rank }) => rank >= 0 && rank < 3).length,
    logLoss: losses.reduce((sum, one) => sum + one, 0) / outcomes.length,
  };
}

const parts = new Map(
  referenceCatalogue().parts.map((part) => [`${part.maker}/${part.number}`, part.categories]),
);
export const referenceCategories: CategoriesOf = (part) => parts.get(part);

/** A reference device with every pin that is on no net as a net of its own, as a bench that followed every pin has it. */
export function tracedDossier(name: ReferenceName): Dossier {
  const dossier = referenceDossier(name);
  const { components, nets } = referenceBoard(name);
  const lone = new Set(nets.flatMap(({ id, kind }) => (kind === 'unconnected' ? [id] : [])));
  const open = components.flatMap(({ board, designator, pins }) => {
    const meant = componentMeant(dossier.components, `${board}:${designator}`);
    return pins.flatMap(({ pin, net }) => (meant && lone.has(net) ? [`${meant.id}.${pin}`] : []));
  });
  return {
    ...dossier,
    nets: [
      ...(dossier.nets ?? []),
      ...open.map((pin, at) => ({
        id: `open-${at}`,
        kind: 'signal' as const,
        pins: [pin],
        complete: true,
        basis: [],
      })),
    ],
  };
}

/** The chips of the three reference devices. */
export function referenceChips(): readonly (Chip & { readonly board: ReferenceName })[] {
  return REFERENCE_BOARDS.flatMap((board) => {
    const dossier = tracedDossier(board);
    return referenceBoard(board).components.flatMap((written) => {
      const terms = termsOf(written);
      const meant = componentMeant(dossier.components, `${written.board}:${written.designator}`);
      return isChip(terms) && meant
        ? [{ id: `${board}/${meant.id}`, board, dossier, component: meant.id, terms }]
        : [];
    });
  });
}

export const CLASS_COUNT = CLASSES.length;

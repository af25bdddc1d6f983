import type { ChipOdds } from '../../src/classes/class-odds.ts';
import { pinoutClassOf } from '../../src/classes/class-pinouts.ts';
import { COUNTED_BOARDS } from '../../src/classes/lessons.ts';
import { type KindOdds, kindsOf } from '../../src/identification/kinds.ts';
import { isChipFunction } from '../../src/model/chip-function.ts';
import type { Component, Dossier } from '../../src/model/dossier.ts';
import { componentMeant } from '../../src/model/ids.ts';
import { isUnder } from '../../src/model/taxonomy.ts';
import { Names } from '../../src/state/names.ts';
import { openSpecimen } from '../../src/state/specimen.ts';
import { UnnamedKinds } from '../../src/state/unnamed/unnamed-kinds.ts';
import {
  REFERENCE_BOARDS,
  type ReferenceName,
  referenceBoard,
  referenceDossier,
  termsOf,
} from '../reference-boards.ts';

// The chips of the three reference devices with their identity hidden: no marking, no name of a pin, and no chip beside them
// named. What is left is class letters, package, the number of terminals, and nets.

/** A hidden chip, what it really is, and the kinds that it may be without and with its nets. */
export interface HiddenChip {
  readonly id: string;
  readonly terms: readonly string[];
  readonly without: readonly KindOdds[];
  readonly withNets: readonly KindOdds[];
}

/** A reference device whose chips are seen as unmarked chips, every pin that is on no net as a net of its own. */
function hidden(name: ReferenceName): {
  readonly dossier: Dossier;
  readonly truth: ReadonlyMap<string, readonly string[]>;
} {
  const dossier = referenceDossier(name);
  const { components, nets } = referenceBoard(name);
  const truth = new Map<string, readonly string[]>();
  const appears = new Map<string, string>();
  const lone = new Set(nets.flatMap(({ id, kind }) => (kind === 'unconnected' ? [id] : [])));
  const unconnected: { component: string; pin: string }[] = [];
  for (const written of components) {
    const reference = `${written.board}:${written.designator}`;
    const { id } = componentMeant(dossier.components, reference) as Component;
    const terms = termsOf(written);
    const isChip = terms.some(isChipFunction);
    if (isChip) truth.set(id, terms);
    appears.set(id, isChip ? 'IntegratedCircuit' : terms[0]);
    for (const { pin, net } of written.pins) if (lone.has(net)) unconnected.push({ component: id, pin });
  }
  return {
    truth,
    dossier: {
      ...dossier,
      identifications: [],
      components: dossier.components.map(({ pinout: _, ...one }) => ({
        ...one,
        appears: appears.get(one.id),
      })),
      nets: [
        ...(dossier.nets ?? []),
        ...unconnected.map(({ component, pin }, at) => ({
          id: `open-${at}`,
          kind: 'signal' as const,
          pins: [`${component}.${pin}`],
          complete: true,
          basis: [],
        })),
      ],
    },
  };
}

/** Every hidden chip of the reference devices; nothing was learnt from any archive, nor from its own board. */
export function hiddenChips(): readonly HiddenChip[] {
  return REFERENCE_BOARDS.flatMap((name) => {
    const { dossier, truth } = hidden(name);
    const others = [...COUNTED_BOARDS].flatMap(([board, lessons]) => (board === name ? [] : [lessons]));
    const unnamed = UnnamedKinds.learn([], new Names(), undefined, others);
    const open = (one: Dossier) => openSpecimen(one, () => undefined, unnamed);
    const withNets = open(dossier);
    const without = open({ ...dossier, nets: [], connections: [] });
    const kindsIn = (specimen: typeof withNets, id: string) =>
      kindsOf(specimen.oddsOf(id, unnamed) as ChipOdds);
    return [...truth].map(
      ([id, terms]): HiddenChip => ({
        id: `${name}/${id}`,
        terms,
        without: kindsIn(without, id),
        withNets: kindsIn(withNets, id),
      }),
    );
  });
}

/** Whether a kind is one of those that a chip is: the same, one of its kinds, or one with the same pins. */
export function isRight({ terms }: HiddenChip, { term }: KindOdds): boolean {
  return terms.some((one) => isUnder(one, term) || pinoutClassOf(one) === pinoutClassOf(term));
}

/** How well kinds name the chips. */
export interface Score {
  readonly chips: number;
  /** Chips whose likeliest kind is right; and where a right one is among the three likeliest. */
  readonly first: number;
  readonly firstThree: number;
  /** Mean log loss of the probability of all right kinds together, nats; below one in a thousand counts as that. */
  readonly logLoss: number;
}

export function scoreOf(
  chips: readonly HiddenChip[],
  kindsOf: (chip: HiddenChip) => readonly KindOdds[],
): Score {
  const ranks = chips.map((chip) => kindsOf(chip).findIndex((kind) => isRight(chip, kind)));
  const losses = chips.map((chip) => {
    const p = kindsOf(chip).reduce((sum, kind) => sum + (isRight(chip, kind) ? kind.probability : 0), 0);
    return -Math.log(Math.max(p, 1e-3));
  });
  return {
    chips: chips.length,
    first: ranks.filter((rank) => rank === 0).length,
    firstThree: ranks.filter((rank) => rank >= 0 && rank < 3).length,
    logLoss: losses.reduce((sum, loss) => sum + loss, 0) / chips.length,
  };
}

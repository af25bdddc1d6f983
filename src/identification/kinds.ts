import type { ChipOdds, ClassOdds } from '../classes/class-odds.ts';
import { CLUES, type Clue, type ClueBus, type Deed } from '../classes/class-table.ts';
import { classFitOf } from '../classes/pinout-fit.ts';
import type { EvidenceKind } from './evidence.ts';
import { type WeighedEvidence, weightInDecibans } from './posterior.ts';

/** A kind that a component may be, whatever part it is. */
export interface KindOdds {
  readonly term: string;
  readonly probability: number;
  /** Probability by class letters and package alone. */
  readonly prior: number;
  /** Why, against any component, each with its weight. */
  readonly evidence: readonly WeighedEvidence[];
}

/** A weight that is worth a word: 0.4 decibans. */
const NOTABLE = 0.1;
/** No more clues are named, those that weigh most. */
const CLUES_NAMED = 4;

/** The kinds that a chip may be, with the reasons in words; what their probabilities leave to 1 is none of these. */
export function kindsOf(odds: ChipOdds): readonly KindOdds[] {
  return odds.classes.map((one) => ({
    term: one.term,
    prior: one.prior,
    probability: one.probability,
    // Words are made only for whoever reads them.
    get evidence() {
      return [pinsOf(one, odds), sizeOf(one), neighboursOf(one)].flatMap((piece) => piece ?? []);
    },
  }));
}

function evidence(kind: EvidenceKind, description: string, log: number): WeighedEvidence {
  return { kind, description, decibans: weightInDecibans(log) };
}

function pinsOf({ term, pins }: ClassOdds, { nets }: ChipOdds): WeighedEvidence | undefined {
  if (pins === 0 || !nets) return undefined;
  const fit = classFitOf(nets, term);
  return fit
    ? evidence('pinout', fit.best.says(), pins)
    : evidence(
        'pin-count',
        `no usual arrangement of such a part has ${nets.terminals} pins in this package`,
        pins,
      );
}

function sizeOf({ size }: ClassOdds): WeighedEvidence | undefined {
  return Math.abs(size) < NOTABLE ? undefined : evidence('body-size', 'size and number of pins', size);
}

function neighboursOf({ near }: ClassOdds): WeighedEvidence | undefined {
  const told = near
    .map((weight, at) => ({ weight, clue: CLUES[at] }))
    .filter(({ weight }) => Math.abs(weight) >= NOTABLE)
    .sort((a, b) => Math.abs(b.weight) - Math.abs(a.weight));
  if (told.length === 0) return undefined;
  const said = told.slice(0, CLUES_NAMED);
  const words = (isFor: boolean) =>
    said.filter(({ weight }) => weight > 0 === isFor).map(({ clue }) => clueInWords(clue));
  const parts = [
    ...(words(true).length > 0 ? [`for it: ${words(true).join(', ')}`] : []),
    ...(words(false).length > 0 ? [`against it, there or missing: ${words(false).join(', ')}`] : []),
  ];
  const whole = near.reduce((sum, weight) => sum + weight, 0);
  return evidence('neighbours', parts.join('; '), whole);
}

const BUS_NAMES: Readonly<Record<ClueBus, string>> = {
  i2c: 'I2C',
  spi: 'SPI',
  uart: 'a serial line',
  usb: 'USB',
  audio: 'a sound line',
  debug: 'debug lines',
};

const DEEDS: Readonly<Record<Deed, string>> = {
  leads: 'a component that it alone leads',
  feeds: 'a rail that it alone feeds',
  rails: 'two rails',
  bridges: 'two pairs of I2C lines',
};

/** A clue in words, such as "a crystal". */
export function clueInWords({ kind, of }: Clue): string {
  switch (kind) {
    case 'line':
      return of.startsWith('other ') ? `an${of}` : `${/^[aeiou]/u.test(of) ? 'an' : 'a'} ${of}`;
    case 'supply':
      return `the supply of the ${of}`;
    case 'bus':
      return BUS_NAMES[of];
    default:
      return DEEDS[of];
  }
}

import { pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import type { LabelWeights } from '../state/labels.ts';
import { type Identified, membersOf, type NetMember, type PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { type Bits, either, placeAlone } from '../statistics/bits.ts';
import { functionOf } from './pin-function.ts';
import { ROLE_TERMS, type Role, type RoleTerm, rolesOf } from './roles.ts';
import type { Member } from './wiring.ts';

// What doubtful components may be, as far as nets are concerned: alternatives that play the same part on the same pins are one.

/** What a component may be: its rival candidates, and last "none of them". */
export interface MayBe {
  /** Probability of each candidate; the rest to 1 is "none of them". */
  readonly probabilities: readonly number[];
  /** Terms that are true of it under each candidate, and under none of them. */
  readonly terms: readonly ReadonlySet<string>[];
  /** Part it is under each candidate. */
  readonly parts: readonly (string | undefined)[];
}

/** A pin of a component on a net, as one alternative has it. */
export interface Landing extends Member {
  readonly net: Net;
}

/** What a component is to its nets under one alternative. */
export interface Played {
  readonly role: Role;
  /** As nets write them: the same pins in the same order under every alternative. */
  readonly landings: readonly Landing[];
}

/** A component and what it may be. */
export interface Thing {
  readonly id: string;
  readonly mayBe: MayBe | undefined;
  /** Probability of each alternative, the last of which is "none of them"; one that is certain has a single one. */
  readonly masses: readonly number[];
  /** By alternative; the same object for alternatives that play the same part on the same pins. */
  readonly played: readonly Played[];
  /** What is played under alternatives that are possible, each once. */
  readonly possible: readonly Played[];
}

/** Alternatives of a thing that nothing in question tells apart, as a bit set, with their probability. */
export interface Class {
  readonly bits: Bits;
  readonly mass: number;
}

/**
 * All components of a specimen with what they may be to its nets.
 * @param mayBe by local id; others are certain
 * @param likeliest roles of the likeliest kinds, which are those of what is certain
 */
export function thingsOf(
  specimen: OpenedSpecimen,
  mayBe: ReadonlyMap<string, MayBe>,
  partOf: PartOf,
  likeliest: ReadonlyMap<string, Role> = rolesOf(specimen),
): readonly Thing[] {
  const nets = new Map<string, Net[]>();
  const pins = new Map<string, string[]>();
  for (const net of specimen.nets) {
    for (const written of net.pins) {
      const { component } = pinOf(written);
      const own = pins.get(component);
      if (own) {
        own.push(written);
        nets.get(component)?.push(net);
      } else {
        pins.set(component, [written]);
        nets.set(component, [net]);
      }
    }
  }
  return specimen.fitted.map((component): Thing => {
    const { id } = component;
    const on = nets.get(id) ?? [];
    const written = { pins: pins.get(id) ?? [] };
    const pinsAs = (identified: Identified, may: Role['may']) =>
      on.length === 0
        ? []
        : membersOf({ components: specimen.components, identified }, written, partOf).map((pin, at) =>
            landingOf(pin, on[at], may),
          );
    const alternatives = mayBe.get(id);
    if (!alternatives || alternatives.probabilities.length === 0) {
      const role = likeliest.get(id) as Role;
      const landings = pinsAs(specimen.identified, role.may).map((pin) => ({ ...pin, role }));
      const played = [{ role, landings }];
      return { id, mayBe: undefined, masses: [1], played, possible: played };
    }
    const { masses, parts } = openPartsOf(alternatives);
    const known = new Map<string, Played>();
    const played = parts.map(({ role: own, may, text }, at) => {
      const pins = pinsAs(identifiedAs(id, alternatives.parts[at]), may);
      const key =
        text + pins.map((pin) => JSON.stringify([pin.number, pin.name, pin.output, pin.function])).join('');
      let one = known.get(key);
      if (!one) {
        const role = { ...own, id, board: component.board };
        one = { role, landings: pins.map((pin) => ({ ...pin, role })) };
        known.set(key, one);
      }
      return one;
    });
    const possible = [...new Set(played.filter((_, at) => masses[at] > 0))];
    return { id, mayBe: alternatives, masses, played, possible };
  });
}

/** What follows from alternatives alone, whatever component they are of. */
interface OpenParts {
  readonly masses: readonly number[];
  /** By alternative. */
  readonly parts: readonly Part[];
  /** Classes of a component without pins on nets, by the key of what tells them apart. */
  readonly classes: Map<string, readonly Class[]>;
}

/** Many components have the same alternatives. */
const openParts = new WeakMap<MayBe, OpenParts>();

function openPartsOf(mayBe: MayBe): OpenParts {
  let open = openParts.get(mayBe);
  if (!open) {
    const { probabilities, terms } = mayBe;
    const rest = Math.max(0, 1 - probabilities.reduce((sum, p) => sum + p, 0));
    const masses = [...probabilities, rest < LEAST ? 0 : rest];
    open = { masses, parts: terms.map(partAs), classes: new Map() };
    openParts.set(mayBe, open);
  }
  return open;
}

/** What is left to 1 by rounding alone. */
const LEAST = 1e-9;

/** A component identified as a part for sure. */
function identifiedAs(id: string, part: string | undefined): Identified {
  return new Map(part === undefined ? [] : [[id, { candidates: [{ part, probability: 1 }] }]]);
}

function landingOf(pin: NetMember, net: Net, may: Role['may']): Omit<Landing, 'role'> {
  const { number, name, output } = pin;
  const means = net.kind === 'ground' ? 'ground' : functionOf(pin, may);
  return { net, number, name, output, function: means };
}

/** What a component of some terms is to nets, whichever component that is. */
interface Part {
  /** One object for all sets of terms that nothing tells apart which asks of a role, but for what pins mean. */
  readonly role: Omit<Role, 'id' | 'board'>;
  /** What its pins are for may hang on terms that nothing else asks for. */
  readonly may: Role['may'];
  /** The same for the same role. */
  readonly text: string;
}

/** Parts by terms: the same few sets recur, and no archive has more of them than its parts have categories. */
const parts = new Map<string, Part>();
const partsOf = new WeakMap<ReadonlySet<string>, Part>();
const rolesByText = new Map<string, Part['role']>();

function partAs(terms: ReadonlySet<string>): Part {
  let part = partsOf.get(terms);
  if (!part) {
    const key = [...terms].join(' ');
    part = parts.get(key) ?? partOfTerms(terms);
    parts.set(key, part);
    partsOf.set(terms, part);
  }
  return part;
}

function partOfTerms(terms: ReadonlySet<string>): Part {
  const alone = { fitted: [{ id: '', board: undefined }], labels: new Map([['', certainly(terms)]]) };
  const { id, board, ...own } = rolesOf(alone).get('') as Role;
  const { is, may, ...rest } = own;
  const text = JSON.stringify([rest, ROLE_TERMS.filter(is)]);
  const role = rolesByText.get(text) ?? own;
  rolesByText.set(text, role);
  return { role, may, text };
}

/** Weights of terms that are true. */
function certainly(terms: ReadonlySet<string>): LabelWeights {
  return new Map([...terms].map((term) => [term, 1]));
}

/** What tells alternatives of a component apart in some respect. */
export interface Says {
  /** All that is asked besides of what an alternative plays: the same for components of which the same is asked, but for their pins on nets. */
  readonly key: string;
  readonly text: (played: Played) => string;
}

/** Alternatives of a thing as something tells them apart; fewer than two where nothing is open. */
export function classesSaid(thing: Thing, { key, text }: Says): readonly Class[] {
  const { mayBe, possible } = thing;
  if (!mayBe || possible[0].landings.length > 0) return classesOf(thing, text);
  const { classes } = openPartsOf(mayBe);
  let known = classes.get(key);
  if (!known) {
    known = classesOf(thing, text);
    classes.set(key, known);
  }
  return known;
}

/** Alternatives of a thing by a text that says all that matters of them; fewer than two where nothing is open. */
export function classesOf({ masses, played }: Thing, says: (played: Played) => string): readonly Class[] {
  if (played.length < 2) return [];
  const classes = new Map<string, { bits: Bits; mass: number }>();
  // Many alternatives play the same part.
  const texts = new Map<Played, string>();
  played.forEach((one, at) => {
    if (masses[at] <= 0) return;
    let key = texts.get(one);
    if (key === undefined) {
      key = says(one);
      texts.set(one, key);
    }
    const bits = placeAlone(at, played.length);
    const known = classes.get(key);
    if (known) {
      known.bits = either(known.bits, bits);
      known.mass += masses[at];
    } else classes.set(key, { bits, mass: masses[at] });
  });
  return [...classes.values()];
}

/** Those of the terms that are true of it. */
export function termsPlayed({ role }: Played, terms: readonly RoleTerm[]): string {
  return terms.filter(role.is).join(' ');
}

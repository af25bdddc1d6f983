import type { Component } from '../model/dossier.ts';
import { pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import type { LabelWeights } from '../state/labels.ts';
import { type Identified, membersOf, type NetMember, type PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { type Bits, either, placeAlone } from '../statistics/bits.ts';
import { functionOf } from './pin-function.ts';
import { type Role, type RoleTerm, rolesOf } from './roles.ts';
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
  /** By alternative. */
  readonly played: readonly Played[];
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
    const landingsAs = (members: readonly NetMember[], role: Role) =>
      members.map((pin, at) => landingOf(pin, on[at], role));
    const alternatives = mayBe.get(id);
    if (!alternatives || alternatives.probabilities.length === 0) {
      const role = likeliest.get(id) as Role;
      const played = [{ role, landings: landingsAs(membersOf(specimen, written, partOf), role) }];
      return { id, mayBe: undefined, masses: [1], played };
    }
    const { probabilities, terms, parts } = alternatives;
    const rest = Math.max(0, 1 - probabilities.reduce((sum, p) => sum + p, 0));
    const membersAs = new Map<string | undefined, readonly NetMember[]>();
    for (const part of parts) {
      if (membersAs.has(part)) continue;
      const { components } = specimen;
      membersAs.set(part, membersOf({ components, identified: identifiedAs(id, part) }, written, partOf));
    }
    return {
      id,
      mayBe: alternatives,
      masses: [...probabilities, rest < LEAST ? 0 : rest],
      played: terms.map((under, at) => {
        const role = roleAs(component, under);
        return { role, landings: landingsAs(membersAs.get(parts[at]) ?? [], role) };
      }),
    };
  });
}

/** What is left to 1 by rounding alone. */
const LEAST = 1e-9;

/** A component identified as a part for sure. */
function identifiedAs(id: string, part: string | undefined): Identified {
  return new Map(part === undefined ? [] : [[id, { candidates: [{ part, probability: 1 }] }]]);
}

function landingOf(pin: NetMember, net: Net, role: Role): Landing {
  const { number, name, output } = pin;
  const means = net.kind === 'ground' ? 'ground' : functionOf(pin, role.may);
  return { role, net, number, name, output, function: means };
}

/** Roles by terms: the same few sets recur, and no archive has more of them than its parts have categories. */
const roles = new Map<string, Omit<Role, 'id' | 'board'>>();
const keys = new WeakMap<ReadonlySet<string>, string>();

function roleAs({ id, board }: Component, terms: ReadonlySet<string>): Role {
  let key = keys.get(terms);
  if (key === undefined) {
    key = [...terms].join(' ');
    keys.set(terms, key);
  }
  let role = roles.get(key);
  if (!role) {
    role = rolesOf({ fitted: [{ id, board }], labels: new Map([[id, certainly(terms)]]) }).get(id) as Role;
    roles.set(key, role);
  }
  return { ...role, id, board };
}

/** Weights of terms that are true. */
function certainly(terms: ReadonlySet<string>): LabelWeights {
  return new Map([...terms].map((term) => [term, 1]));
}

/** Alternatives of a thing by a text that says all that matters of them; fewer than two where nothing is open. */
export function classesOf({ masses, played }: Thing, says: (played: Played) => string): readonly Class[] {
  if (played.length < 2) return [];
  const classes = new Map<string, { bits: Bits; mass: number }>();
  played.forEach((one, at) => {
    if (masses[at] <= 0) return;
    const key = says(one);
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

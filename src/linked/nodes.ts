import type { PartialDate } from '../model/dates.ts';
import type { Body } from '../model/dossier.ts';
import type { Pin } from '../model/net.ts';
import type { Quantity } from '../model/quantity.ts';
import { isTerm } from '../model/taxonomy.ts';
import type { Visible } from '../model/visibility.ts';
import { writtenUnit } from '../model/written-unit.ts';
import { type Resolved, resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { agentIri, kindIri, recordIri } from './places.ts';
import { CLASSES, type OwnClass, type OwnClassName, type PropertyName } from './vocabulary.ts';

// What documents are made of: objects whose keys the context knows.

/** A thing in a document. Members that are undefined are left out when it is written. */
export type LinkedNode = {
  readonly id?: string | undefined;
  readonly type?: string | readonly string[];
} & { readonly [P in PropertyName]?: unknown };

/** Makes things, and leads to others: to those alone that the state has. */
export class Linking {
  readonly #state: State;

  constructor(state: State) {
    this.#state = state;
  }

  /** The address of a record or of a term; undefined for what the state does not have. */
  to(id: string | undefined): string | undefined {
    if (id === undefined) return undefined;
    if (isTerm(id)) return kindIri(id);
    const found = resolve(this.#state, id);
    return found && recordIri(found.id);
  }

  toAll(ids: readonly string[] | undefined): readonly string[] | undefined {
    return some((ids ?? []).flatMap((id) => this.to(id) ?? []));
  }

  /** What an id names, as far as the state has it. */
  find(id: string): Resolved | undefined {
    return resolve(this.#state, id);
  }

  /** Who may see a thing, which is the desk's own business. */
  marks({ visibility, embargoUntil }: Visible): LinkedNode {
    return this.#state.audience === 'desk' ? { visibility, embargoUntil } : {};
  }
}

/** The class of a thing, of ours and of the published vocabularies. */
export function typed(name: OwnClassName, ...more: readonly string[]): { readonly type: readonly string[] } {
  const { under = [] }: OwnClass = CLASSES[name];
  return { type: [name, ...under, ...more] };
}

/** A list; undefined for an empty one, which is left out. */
export function some<T>(list: readonly T[] | undefined): readonly T[] | undefined {
  return list !== undefined && list.length > 0 ? list : undefined;
}

/** Fails to compile where a field of a record was forgotten. @param _rest of a record, without all that is written */
export function nothingLeft(_rest: Readonly<Record<string, never>>): void {
  // The compiler has checked it.
}

/** A date as a literal of XML Schema at its precision: xsd:gYear, xsd:gYearMonth or xsd:date. */
export function dated(date: PartialDate | undefined): object | undefined {
  if (date === undefined) return undefined;
  const type = { 4: 'xsd:gYear', 7: 'xsd:gYearMonth' }[date.length] ?? 'xsd:date';
  return { '@value': date, '@type': type };
}

/**
 * An amount as schema.org has it, since devices and parts are things of schema.org: value, the UCUM code with the prefix that
 * schema.org asks for where a code is not one of UN/CEFACT, the unit as people write it, and uncertainty as the least and the most.
 */
export function quantity(
  amount: Quantity | undefined,
  type = 'schema:QuantitativeValue',
): LinkedNode | undefined {
  if (amount === undefined) return undefined;
  const { value, unit, plusMinus, ...rest } = amount;
  nothingLeft(rest);
  return {
    type,
    value,
    ...(plusMinus !== undefined && {
      minValue: exact(value - plusMinus),
      maxValue: exact(value + plusMinus),
    }),
    unitCode: `UCUM:${unit}`,
    unitText: writtenUnit(unit) || undefined,
  };
}

/** Fifteen digits keep all that a double can promise and drop the binary rounding error of a sum. */
function exact(sum: number): number {
  return Number(sum.toPrecision(15));
}

/** Somebody whom a record names. */
export function agent(name: string | undefined): LinkedNode | undefined {
  return name === undefined ? undefined : { id: agentIri(name), type: 'prov:Agent', name };
}

export function body(size: Body | undefined): LinkedNode {
  if (size === undefined) return {};
  const { length, width, height, ...rest } = size;
  nothingLeft(rest);
  return { bodyLengthMillimetres: length, bodyWidthMillimetres: width, bodyHeightMillimetres: height };
}

/** Pins in their order. @param partOf address of a part of what has them */
export function pins(
  pinout: readonly Pin[] | undefined,
  partOf: (part: string) => string,
): readonly LinkedNode[] | undefined {
  return some(
    pinout?.map(({ number, name, direction, function: pinFunction, output, ...rest }, i) => {
      nothingLeft(rest);
      const id = partOf(`pin-${i + 1}`);
      return { id, type: 'Pin', pinNumber: number, pinName: name, direction, pinFunction, output };
    }),
  );
}

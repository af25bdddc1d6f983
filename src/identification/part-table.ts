import { type Part, partIdOf } from '../model/catalogue.ts';
import { lineage } from '../model/taxonomy.ts';
import { packageKey, plainPackage } from './habits.ts';

/** What of a part evidence can depend on. */
const FACETS = {
  category: ({ categories }: Part) => categories[0],
  categories: ({ categories }: Part) => categories.join(' '),
  maker: ({ maker }: Part) => maker,
  makerOfKind: ({ maker, categories }: Part) => `${categories[0]} ${maker}`,
  package: ({ package: body }: Part) => (body === undefined ? '' : packageKey(body)),
  pins: ({ pins }: Part) => String(pins ?? ''),
  packagePins: ({ package: body, pins }: Part) =>
    `${body === undefined ? '' : packageKey(body)} ${pins ?? ''}`,
  body: sizeKey,
  introduced: ({ introduced }: Part) => introduced ?? '',
  // Parts without a pinout have that of their classes.
  pinout: ({ pinout, pins, categories }: Part) =>
    pinout ? JSON.stringify([pins ?? 0, pinout, categories]) : categories.join(' '),
} as const satisfies Readonly<Record<string, (part: Part) => string>>;
export type FacetName = keyof typeof FACETS;

/** The facet of a body; '' where the catalogue does not have it. */
export function sizeKey({ body }: Part): string {
  return body ? `${body.length} ${body.width}` : '';
}

/** Parts sorted by one facet: its value for each part as a number, and one part that has each value. */
export interface Facet {
  readonly of: Int32Array;
  readonly examples: readonly Part[];
}

/** What makes up the profile of a part: facets that many parts share, all of them together. */
export const PROFILE_FACETS = ['category', 'categories', 'package', 'packagePins', 'pinout'] as const;

/** Parts sorted by profile, and for each profile the value of each of its facets. */
export interface Profile extends Facet {
  readonly facets: Readonly<Record<(typeof PROFILE_FACETS)[number], Int32Array>>;
}

/** Mean and standard deviation of the natural logarithm of a length in mm: of the longer side, then the shorter. */
export type BodySpread = readonly [LogLength, LogLength];
interface LogLength {
  readonly mean: number;
  readonly deviation: number;
}

/**
 * The catalogue in columns. Thousands of parts share few packages, makers and categories, so evidence is weighed
 * once for each value of its facet and handed to the parts by number.
 */
export class PartTable {
  readonly parts: readonly Part[];
  readonly #numbers: ReadonlyMap<string, number>;
  readonly profile: Profile;
  readonly #tallies = new Map<string, ReadonlyMap<string, ReadonlyMap<string, number>>>();
  readonly #facets: { readonly [F in FacetName]: Facet };
  /** Taxonomy terms of each value of the facet "categories", super-terms included, each once. */
  readonly terms: readonly (readonly string[])[];

  constructor(parts: readonly Part[]) {
    this.parts = parts;
    this.#numbers = new Map(parts.map((part, number) => [partIdOf(part), number]));
    const facets = Object.entries(FACETS).map(([name, keyOf]) => [name, facetOf(parts, keyOf)] as const);
    this.#facets = Object.fromEntries(facets) as { readonly [F in FacetName]: Facet };
    this.profile = this.#profiles();
    this.terms = this.facet('categories').examples.map(({ categories }) => [
      ...new Set(categories.flatMap(lineage)),
    ]);
  }

  #profiles(): Profile {
    const numbers = new Map(this.parts.map((part, number) => [part, number]));
    const whole = facetOf(this.parts, (part) =>
      PROFILE_FACETS.map((name) => this.facet(name).of[numbers.get(part) as number]).join(' '),
    );
    const valuesOf = (name: FacetName) =>
      Int32Array.from(whole.examples, (part) => this.facet(name).of[numbers.get(part) as number]);
    const facets = Object.fromEntries(PROFILE_FACETS.map((name) => [name, valuesOf(name)]));
    return { ...whole, facets: facets as Profile['facets'] };
  }

  facet(name: FacetName): Facet {
    return this.#facets[name];
  }

  /** The value of a facet that a part has, as a text. */
  keyOf(name: FacetName, part: Part): string {
    return FACETS[name](part);
  }

  /** Packages of the catalogue, as tables know them. */
  get packages(): Iterable<string> {
    return (
      this.#tally('package', () => '', FACETS.package)
        .get('')
        ?.keys() ?? []
    );
  }

  /** How many parts of a category each maker has. */
  makersOf(category: string): ReadonlyMap<string, number> {
    return this.#tally('makers', FACETS.category, FACETS.maker).get(category) ?? NONE;
  }

  /** How many parts in packages of a name, as plain text, have how many terminals. */
  terminalsOf(plainName: string): ReadonlyMap<string, number> {
    const nameOf = ({ package: body, pins }: Part) =>
      body === undefined || pins === undefined ? undefined : plainPackage(body);
    return this.#tally('packagePins', nameOf, FACETS.pins).get(plainName) ?? NONE;
  }

  #tally(
    name: string,
    given: (part: Part) => string | undefined,
    seen: (part: Part) => string,
  ): ReadonlyMap<string, ReadonlyMap<string, number>> {
    const known = this.#tallies.get(name);
    if (known) return known;
    const tally = new Map<string, Map<string, number>>();
    for (const part of this.parts) {
      const key = given(part);
      if (key === undefined) continue;
      const counts = tally.get(key) ?? new Map<string, number>();
      counts.set(seen(part), (counts.get(seen(part)) ?? 0) + 1);
      tally.set(key, counts);
    }
    this.#tallies.set(name, tally);
    return tally;
  }

  /** Place of a part in {@link parts}, or undefined. */
  numberOf(id: string): number | undefined {
    return this.#numbers.get(id);
  }

  part(id: string): Part | undefined {
    const number = this.#numbers.get(id);
    return number === undefined ? undefined : this.parts[number];
  }
}

const NONE: ReadonlyMap<string, number> = new Map();

function facetOf(parts: readonly Part[], keyOf: (part: Part) => string): Facet {
  const numbers = new Map<string, number>();
  const examples: Part[] = [];
  const of = Int32Array.from(parts, (part) => {
    const key = keyOf(part);
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, examples.length);
    return examples.push(part) - 1;
  });
  return { of, examples };
}

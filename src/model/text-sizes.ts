// How long the texts of records may be, in UTF-16 units. Generous: nobody who writes about a device reaches them; they keep a
// list from being filled with one name, and a message from quoting a book.

/** Fields that hold a name or a few words, wherever they stand. */
const FEW_WORDS: readonly string[] = [
  'id',
  'name',
  'label',
  'title',
  'maker',
  'productLine',
  'number',
  'package',
  'value',
  'unit',
  'marking',
  'markings',
  'revision',
  'serial',
  'tool',
  'place',
  'by',
  'credit',
  'licence',
  'file',
  'output',
  'method',
  'about',
  'between',
  'leadsTo',
  'of',
  'pins',
];
const short: ReadonlySet<unknown> = new Set(FEW_WORDS);

export const TEXT_SIZES = {
  /** A name, an id, a marking: a few words. */
  few: 500,
  /** The name of a field, where files choose it. */
  key: 500,
  /** The text of a pattern. */
  pattern: 20_000,
  /** Anything else: sentences, remarks, reasons. */
  many: 20_000,
  /** Who makes a change. */
  actor: 200,
  /** Why a change is made. */
  reason: 2_000,
} as const;

/** How long a text of a record may be, by the field that holds it (or holds the list that it stands in). */
export function longestText(field: PropertyKey | undefined): number {
  return short.has(field) ? TEXT_SIZES.few : TEXT_SIZES.many;
}

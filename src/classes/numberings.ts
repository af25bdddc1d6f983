import { ALTERNATIVE_SHARES, ALTERNATIVES, type Alternative } from './class-pinouts.ts';

/** One way in which the labels that a reader gave may stand for those of the maker. */
export interface Numbering {
  readonly kind: Alternative;
  /** Probability before anything was compared; those of one package sum to 1. */
  readonly share: number;
  /** The maker's label for each of the reader's. Labels that are not places, such as names, stand for themselves. */
  readonly to: ReadonlyMap<string, string>;
}

/** By what the pins were seen: numbered by hand or by a file, or through the board. */
export type SeenBy = keyof typeof ALTERNATIVE_SHARES;

const known = new Map<string, readonly Numbering[]>();

/**
 * The numberings that make sense for a package: as given; turned by half (two rows) or by quarters (four equal sides);
 * mirrored, as seen from the other side; counted the wrong way round from the right pin 1. A package whose shape tells where
 * pin 1 is (two and one, three and two) is not turned. Several that come to the same are one.
 * @param labels of the pins: 1 to n, or rows and columns such as B3, each after the package drawing; an exposed pad is left out
 */
export function numberingsOf(
  labels: readonly string[],
  packageName: string | undefined,
  seenBy: SeenBy,
): readonly Numbering[] {
  const key = `${seenBy} ${packageName ?? ''} ${labels.join(' ')}`;
  let numberings = known.get(key);
  if (!numberings) {
    // Only so many different packages come up; a long-lived process keeps no more than that.
    if (known.size > 2_000) known.clear();
    numberings = made(labels, packageName, seenBy);
    known.set(key, numberings);
  }
  return numberings;
}

function made(
  labels: readonly string[],
  packageName: string | undefined,
  seenBy: SeenBy,
): readonly Numbering[] {
  const isCounted = labels.every((label) => /^\d+$/u.test(label));
  const ways = isCounted ? countedWays(labels.length, packageName) : gridWays(labels);
  const shares = ALTERNATIVE_SHARES[seenBy];
  const present = ALTERNATIVES.filter((kind) => ways.some((way) => way.kind === kind));
  const whole = present.reduce((sum, kind) => sum + shares[kind], 0);
  const byMap = new Map<string, { kind: Alternative; share: number; to: ReadonlyMap<string, string> }>();
  for (const { kind, to } of ways) {
    const alike = ways.filter((way) => way.kind === kind).length;
    const share = shares[kind] / whole / alike;
    const targets = to.join(' ');
    const same = byMap.get(targets);
    if (same) same.share += share;
    else byMap.set(targets, { kind, share, to: new Map(labels.map((label, at) => [label, to[at]])) });
  }
  return [...byMap.values()];
}

interface Way {
  readonly kind: Alternative;
  readonly to: readonly string[];
}

/** Pins on the sides of a package, counted from pin 1; undefined where only the way of counting can differ. */
function sidesOf(
  count: number,
  packageName = '',
): { readonly first: number; readonly turns: readonly number[] } {
  const plain = packageName.toUpperCase().replace(/[\s_-]/gu, '');
  if (count === 2) return { first: 1, turns: [1] };
  if (count === 3) return { first: 2, turns: [] };
  if (count === 5 && !/DFN|SON|WLCSP|BGA/u.test(plain)) return { first: 3, turns: [] };
  const isSquare = /QFN|QFP|LCC|LGA/u.test(plain) || (plain === '' && count >= 16);
  if (isSquare && count % 4 === 0)
    return { first: count / 4, turns: [count / 4, count / 2, (3 * count) / 4] };
  return count % 2 === 0 ? { first: count / 2, turns: [count / 2] } : { first: count, turns: [] };
}

function countedWays(pins: number, packageName: string | undefined): readonly Way[] {
  // The last of an odd number is an exposed pad, which stays where it is.
  const count = pins > 8 && pins % 2 === 1 ? pins - 1 : pins;
  const { first, turns } = sidesOf(count, packageName);
  const way = (kind: Alternative, to: (at: number) => number): Way => ({
    kind,
    to: Array.from({ length: pins }, (_, at) =>
      String(at < count ? (((to(at) % count) + count) % count) + 1 : at + 1),
    ),
  });
  return [
    way('as-is', (at) => at),
    ...turns.map((turn) => way('turned', (at) => at + turn)),
    ...[0, ...turns].map((turn) => way('mirrored', (at) => first - 1 - at + turn)),
    ...(count > 5 || count === 4 ? [way('reversed', (at) => -at)] : []),
  ];
}

/** Rows of a grid are lettered without I, O, Q, S, X and Z (JEDEC JESD95, from memory). */
const ROWS = 'ABCDEFGHJKLMNPRTUVWY';

/** Turned and mirrored grids; labels that are no places of one stay as they are. */
function gridWays(labels: readonly string[]): readonly Way[] {
  const places = labels.map((label) => {
    const [, row = '', column = ''] = /^([A-Z])(\d+)$/u.exec(label) ?? [];
    return ROWS.includes(row) && column !== ''
      ? { row: ROWS.indexOf(row), column: Number(column) - 1 }
      : undefined;
  });
  const rows = 1 + Math.max(-1, ...places.map((place) => place?.row ?? -1));
  const columns = 1 + Math.max(-1, ...places.map((place) => place?.column ?? -1));
  const way = (kind: Alternative, to: (row: number, column: number) => readonly [number, number]): Way => ({
    kind,
    to: labels.map((label, at) => {
      const place = places[at];
      if (!place) return label;
      const [row, column] = to(place.row, place.column);
      return `${ROWS[row]}${column + 1}`;
    }),
  });
  const [down, right] = [rows - 1, columns - 1];
  return [
    way('as-is', (row, column) => [row, column]),
    ...(rows === 0
      ? []
      : [
          way('turned', (row, column) => [down - row, right - column]),
          way('mirrored', (row, column) => [row, right - column]),
          way('mirrored', (row, column) => [down - row, column]),
        ]),
    ...(rows === 0 || rows !== columns
      ? []
      : [
          way('turned', (row, column) => [column, down - row]),
          way('turned', (row, column) => [right - column, row]),
          way('mirrored', (row, column) => [column, row]),
          way('mirrored', (row, column) => [right - column, down - row]),
        ]),
  ];
}

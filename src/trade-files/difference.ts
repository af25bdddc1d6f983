import { designatorOf } from '../model/designator.ts';
import type { Dossier } from '../model/dossier.ts';
import { componentId, pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import { pinsMeant } from '../model/pinout.ts';
import type { MergedBoard } from './merge.ts';
import { meaningfulLabel, type NetProposal, proposeNets } from './net-proposals.ts';
import { type ComponentLookup, componentLookup } from './pins.ts';

// What the netlist of a file says against what a dossier already records of the same boards: connections traced at the bench and
// nets. Nothing is merged here.

export const DIFFERENCE_KINDS = [
  'agree',
  'only-archive',
  'only-file',
  'contradiction',
  'cannot-be-told',
] as const;
export type DifferenceKind = (typeof DIFFERENCE_KINDS)[number];

/** One thing on which file and archive agree or do not. */
export interface Difference {
  readonly kind: DifferenceKind;
  /** In a sentence, by ids of the dossier and labels of the file. */
  readonly what: string;
  /** Of a contradiction: where the files say it, by the first component that it is about. */
  readonly file?: string;
  readonly line?: number;
}

/** Series components that a traced connection may run through and still agree: bead, resistor, capacitor and one more. */
const MAX_SERIES = 3;
/** Of other media nets say nothing. */
const ELECTRICAL: ReadonlySet<string> = new Set(['trace', 'flex', 'wire', 'contact', 'rf-feed']);

/** The nets of files, by board and pin. */
export class FileNets {
  readonly #boards: ReadonlyMap<string, MergedBoard>;
  readonly #netOf = new Map<string, string>();
  readonly #pinsOf = new Map<string, string[]>();
  readonly #onNet = new Map<string, string[]>();
  readonly #kinds = new Map<string, NetProposal['kind']>();
  readonly #places = new Map<string, Pick<Difference, 'file' | 'line'>>();

  constructor(boards: readonly MergedBoard[]) {
    this.#boards = new Map(boards.map((board) => [board.id, board]));
    for (const board of boards) {
      for (const [key, { kind }] of proposeNets(board)) this.#kinds.set(netKey(board.id, key), kind);
      for (const { designator, pins, files, line } of board.components) {
        const component = componentId(board.id, designator);
        this.#places.set(component, { file: files[0], line });
        this.#pinsOf.set(component, []);
        for (const { number, name, net } of pins) {
          const pin = number ?? name;
          if (pin === undefined) continue;
          this.#pinsOf.get(component)?.push(pin);
          if (net === undefined) continue;
          const key = netKey(board.id, net);
          this.#netOf.set(`${component}.${pin}`, key);
          const on = this.#onNet.get(key);
          if (on) on.push(component);
          else this.#onNet.set(key, [component]);
        }
      }
    }
  }

  /** Whether the files know the pins of a component. */
  knows(component: string): boolean {
    return (this.#pinsOf.get(component)?.length ?? 0) > 0;
  }

  /** Where the files name a component first. */
  place(component: string): Pick<Difference, 'file' | 'line'> {
    return this.#places.get(component) ?? {};
  }

  net(component: string, pin: string): string | undefined {
    return this.#netOf.get(`${component}.${pin}`);
  }

  /** Nets of a component, each once. */
  nets(component: string): ReadonlySet<string> {
    return new Set((this.#pinsOf.get(component) ?? []).flatMap((pin) => this.net(component, pin) ?? []));
  }

  /** Label of a net as messages show it. */
  shown(net: string): string {
    const [, board, key] = SPLIT.exec(net) as RegExpExecArray;
    const found = this.#boards.get(board)?.nets.find((one) => one.key === key);
    return JSON.stringify((found && meaningfulLabel(found)) ?? key);
  }

  /**
   * Components in series by which one component reaches another, from line to line or from supply to supply and never over ground;
   * empty where they share a net.
   * @returns undefined where they do not meet within {@link MAX_SERIES}
   */
  path(from: string, to: string): readonly string[] | undefined {
    const goal = this.#lines(to);
    let frontier = [...this.#lines(from)].map((net) => ({ net, through: [] as readonly string[] }));
    const seen = new Set(frontier.map(({ net }) => net));
    for (let step = 0; step <= MAX_SERIES; step++) {
      const met = frontier.find(({ net }) => goal.has(net));
      if (met) return met.through;
      frontier = frontier.flatMap(({ net, through }) =>
        (this.#onNet.get(net) ?? []).flatMap((component) => {
          if (component === from || component === to || (this.#pinsOf.get(component)?.length ?? 0) !== 2)
            return [];
          return [...this.#lines(component)].flatMap((next) => {
            // From a line to a supply there is a pull-up or a filter, and no way on.
            if (seen.has(next) || this.#kinds.get(next) !== this.#kinds.get(net)) return [];
            seen.add(next);
            return [{ net: next, through: [...through, component] }];
          });
        }),
      );
    }
    return undefined;
  }

  /** Nets of a component that are no ground: those say that two are joined. */
  #lines(component: string): ReadonlySet<string> {
    return new Set([...this.nets(component)].filter((net) => this.#kinds.get(net) !== 'ground'));
  }
}

const SPLIT = /^([^ ]*) (.*)$/su;

function netKey(board: string, net: string): string {
  return `${board} ${net}`;
}

/**
 * What a dossier records of the boards of some files, against their netlists: traced connections, then nets, then what only
 * the files have. Without nets in the files there is nothing to compare.
 */
export function differencesOf(dossier: Dossier, boards: readonly MergedBoard[]): readonly Difference[] {
  const netted = boards.filter(({ nets }) => nets.length > 0);
  if (netted.length === 0) return [];
  const nets = new FileNets(netted);
  const lookup = componentLookup(dossier.components);
  const onBoards = new Set(netted.map(({ id }) => id));
  return [
    ...connectionDifferences(dossier, lookup, nets, onBoards),
    ...netDifferences(dossier, lookup, nets, onBoards),
    ...onlyInFiles(dossier, lookup, netted),
  ];
}

/** `main:U3` for a component of a dossier that lies on a board of the files. */
function onBoard(
  lookup: ComponentLookup,
  reference: string,
  boards: ReadonlySet<string>,
): string | undefined {
  const component = lookup(reference);
  if (!component?.board || !boards.has(component.board)) return undefined;
  return componentId(component.board, designatorOf(component.id));
}

function connectionDifferences(
  dossier: Dossier,
  lookup: ComponentLookup,
  nets: FileNets,
  boards: ReadonlySet<string>,
): readonly Difference[] {
  return dossier.connections.flatMap(({ between, medium }): readonly Difference[] => {
    const [a, b] = between.map((end) => onBoard(lookup, end, boards));
    const said = `${between[0]} and ${between[1]}, joined by ${medium} in the archive`;
    if (a === undefined || b === undefined) return [];
    if (!ELECTRICAL.has(medium)) return [];
    if (!nets.knows(a) || !nets.knows(b)) {
      const missing = nets.knows(a) ? between[1] : between[0];
      return [{ kind: 'only-archive', what: `${said}: the files do not know ${missing}` }];
    }
    const path = nets.path(a, b);
    if (path && path.length === 0) return [{ kind: 'agree', what: `${said}, share a net` }];
    if (path)
      return [{ kind: 'agree', what: `${said}, meet through ${path.map(designatorOf).join(' and ')}` }];
    if (recordOfBoard(a) !== recordOfBoard(b))
      return [
        { kind: 'cannot-be-told', what: `${said}, lie on two boards, whose nets the files do not join` },
      ];
    return [
      {
        kind: 'contradiction',
        what: `${said}, share no net in the files, nor does a series component join them`,
        ...nets.place(a),
      },
    ];
  });
}

function recordOfBoard(component: string): string {
  return component.slice(0, -designatorOf(component).length);
}

function netDifferences(
  dossier: Dossier,
  lookup: ComponentLookup,
  nets: FileNets,
  boards: ReadonlySet<string>,
): readonly Difference[] {
  return (dossier.nets ?? []).flatMap((net): readonly Difference[] => {
    const met = new Map<string, string>();
    const strangers: string[] = [];
    let known = 0;
    let first: string | undefined;
    for (const { written, component, pins } of membersOf(net, lookup)) {
      const place = onBoard(lookup, component, boards);
      if (place === undefined || !nets.knows(place)) {
        strangers.push(written);
        continue;
      }
      known++;
      first ??= place;
      // A component whose pin is not known agrees with any of its nets.
      if (pins.length === 0) continue;
      for (const pin of pins) met.set(nets.net(place, pin) ?? `${place}.${pin}`, written);
    }
    if (known === 0) return [];
    const keys = [...met.keys()];
    if (keys.length > 1) {
      const [one, two] = keys;
      const where = (key: string) => (SPLIT.test(key) ? `on ${nets.shown(key)}` : 'on no net');
      return [
        {
          kind: 'contradiction',
          what: `net "${net.id}" of the archive joins ${met.get(one)} and ${met.get(two)}, which lie ${where(one)} and ${where(two)} in the files`,
          ...(first === undefined ? {} : nets.place(first)),
        },
      ];
    }
    const found: Difference[] =
      keys.length === 1 && SPLIT.test(keys[0])
        ? [{ kind: 'agree', what: `net "${net.id}" of the archive is ${nets.shown(keys[0])} of the files` }]
        : [];
    if (strangers.length > 0) {
      found.push({
        kind: 'only-archive',
        what: `net "${net.id}" of the archive also joins ${strangers.slice(0, 5).join(', ')}${strangers.length > 5 ? ' …' : ''}, which the files do not know`,
      });
    }
    return found;
  });
}

/** Members of a net of the archive, each with the numbers of the pins that it means. */
export function membersOf(
  net: Net,
  lookup: ComponentLookup,
): readonly { readonly written: string; readonly component: string; readonly pins: readonly string[] }[] {
  return net.pins.map((written) => {
    const { component, pin } = pinOf(written);
    if (pin === undefined) return { written, component, pins: [] };
    const meant = pinsMeant(lookup(component)?.pinout, pin);
    return {
      written,
      component,
      pins: meant.length > 0 ? meant.map(({ number, name }) => number ?? name ?? pin) : [pin],
    };
  });
}

function onlyInFiles(
  dossier: Dossier,
  lookup: ComponentLookup,
  boards: readonly MergedBoard[],
): readonly Difference[] {
  return boards.flatMap(({ id, components, nets }): readonly Difference[] => {
    const recorded = new Set(
      dossier.components.flatMap((one) => (one.board === id ? designatorOf(one.id) : [])),
    );
    const strangers = components.filter(({ designator }) => !recorded.has(designator));
    const pinned = new Set(
      (dossier.nets ?? []).flatMap((net) =>
        membersOf(net, lookup).flatMap(({ component, pins }) => {
          const found = lookup(component);
          return found?.board === id ? pins.map((pin) => `${designatorOf(found.id)}.${pin}`) : [];
        }),
      ),
    );
    const netted = new Set(
      components.flatMap(({ designator, pins }) =>
        pins.flatMap(({ number, name, net }) =>
          net !== undefined && pinned.has(`${designator}.${number ?? name}`) ? net : [],
        ),
      ),
    );
    const fresh = nets.filter(({ key }) => !netted.has(key)).length;
    return [
      ...(strangers.length > 0 && recorded.size > 0
        ? [
            {
              kind: 'only-file' as const,
              what: `${strangers.length} of ${components.length} components of board "${id}" are in the files alone: ${strangers
                .slice(0, 5)
                .map(({ designator }) => designator)
                .join(', ')}${strangers.length > 5 ? ' …' : ''}`,
            },
          ]
        : []),
      ...(fresh > 0
        ? [
            {
              kind: 'only-file' as const,
              what: `${fresh} of ${nets.length} nets of board "${id}" are in the files alone`,
            },
          ]
        : []),
    ];
  });
}

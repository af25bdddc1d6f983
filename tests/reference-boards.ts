import { readFileSync } from 'node:fs';
import { withUniqueIds } from '../src/dossier/component-ids.ts';
import type { ReadDocument } from '../src/dossier/document/document.ts';
import { type Catalogue, COLLECTIONS, catalogueSchema } from '../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../src/model/dossier.ts';
import type { Change } from '../src/model/entry.ts';
import { TERMS } from '../src/model/taxonomy.ts';

// The three reference boards as dossiers. Sources and licences stand in the files and in the README beside them; makers
// and part numbers are left out there, and the ones here are invented.

export const REFERENCE_BOARDS = ['optical-pulse-unit', 'wrist-band', 'wrist-three-boards'] as const;
export type ReferenceName = (typeof REFERENCE_BOARDS)[number];

/** A reference board as its file has it; what the fields mean is in the README beside the files. */
export interface ReferenceBoard {
  readonly source: { readonly repository: string; readonly commit: string; readonly licence: string };
  readonly boards: readonly {
    readonly id: string;
    readonly kind: string;
    readonly outline: readonly (readonly [number, number])[];
    readonly holes: readonly (readonly (readonly [number, number])[])[];
  }[];
  readonly components: readonly {
    readonly board: string;
    readonly designator: string;
    readonly side: 'top' | 'bottom';
    readonly at: readonly [number, number];
    readonly rotation: number;
    readonly body: readonly [number, number];
    readonly package: string;
    readonly terms: readonly string[];
    readonly chip: string | null;
    readonly value: string | null;
    readonly fitted: boolean;
    readonly pins: readonly { readonly pin: string; readonly name: string | null; readonly net: string }[];
  }[];
  readonly nets: readonly {
    readonly id: string;
    readonly kind: 'ground' | 'power' | 'signal' | 'unconnected';
    readonly bus: string | null;
    readonly voltage: number | null;
    readonly label: string | null;
  }[];
  readonly mates: readonly {
    readonly between: readonly [string, string];
    readonly lines: number;
    readonly medium: string;
    readonly pins: readonly (readonly [string, string])[];
  }[];
  readonly truths: readonly {
    readonly statement: string;
    /** null: cannot be told. */
    readonly holds: boolean | null;
    readonly sure: number;
    readonly witness: unknown;
    readonly because: string;
    readonly readers: 'agree' | 'differ';
  }[];
}

/** Designators that a dossier does not take are written with `_` for the sign that it does not: `UNK3V3@6`. */
export function referenceBoard(name: ReferenceName): ReferenceBoard {
  const board: ReferenceBoard = JSON.parse(
    readFileSync(new URL(`./reference/boards/${name}.json`, import.meta.url), 'utf8'),
  );
  const components = board.components.map((one) => ({
    ...one,
    designator: one.designator.replaceAll('@', '_'),
  }));
  return { ...board, components };
}

/** Plain words of the files for what the taxonomy has a term for by now. */
const TERM_OF: Readonly<Record<string, string>> = {
  fuse: 'Fuse',
  'mounting hole': 'MountingHole',
  'push-button on-off controller': 'PushButtonController',
  'solder jumper': 'SolderBridge',
  'transistor array': 'TransistorArray',
  'voltage reference': 'VoltageReference',
};

/** Terms of the taxonomy for what a component of a file is; `Component` where none fits. */
export function termsOf({ terms, package: body }: ReferenceBoard['components'][number]): readonly string[] {
  if (body === 'test pad') return ['TestPad'];
  const known = terms.map((term) => TERM_OF[term] ?? term).filter((term) => TERMS.includes(term));
  return known.length > 0 ? known : ['Component'];
}

const MAKER = 'reference-devices';
const CHIPS = 'ref';
/** Id of the device that a reference board becomes. */
export const referenceDeviceId = (name: ReferenceName) => `reference-${name}`;
/** Id of the part that a `chip` of the files becomes. */
export const referencePartId = (chip: string) => `${CHIPS}/${chip}`;

/** Catalogue of all parts on the reference boards: each `chip` is one, with its pins where the files name them. */
export function referenceCatalogue(): Catalogue {
  const chips = new Map<string, ReferenceBoard['components'][number]>();
  for (const name of REFERENCE_BOARDS) {
    for (const component of referenceBoard(name).components)
      if (component.chip !== null && !chips.has(component.chip)) chips.set(component.chip, component);
  }
  return catalogueSchema.parse({
    caseback: 'catalogue/1',
    makers: [
      { id: MAKER, name: 'Makers of the reference devices', makes: ['devices'] },
      { id: CHIPS, name: 'Makers of parts of the reference devices', makes: ['parts'] },
    ],
    parts: [...chips].map(([number, component]) => ({
      number,
      maker: CHIPS,
      categories: termsOf(component),
      package: component.package || undefined,
      pins: component.pins.length || undefined,
      pinout: pinoutOf(component),
    })),
  });
}

function pinoutOf({ pins }: ReferenceBoard['components'][number]) {
  if (pins.length === 0) return undefined;
  return pins.map(({ pin, name }) => ({ number: pin, ...(name === null ? {} : { name }) }));
}

/** A reference board as a dossier, as if every board of it were inventoried and every net traced. */
export function referenceDossier(name: ReferenceName): Dossier {
  const { source, boards, components, nets, mates } = referenceBoard(name);
  const joined = new Map<string, string[]>();
  for (const { board, designator, pins } of components) {
    for (const { pin, net } of pins) {
      const all = joined.get(net);
      if (all) all.push(`${board}:${designator}.${pin}`);
      else joined.set(net, [`${board}:${designator}.${pin}`]);
    }
  }
  const written = dossierSchema.parse({
    caseback: 'dossier/1',
    device: {
      id: referenceDeviceId(name),
      name: `Reference ${name}`,
      maker: MAKER,
      released: '2020',
      bodySite: 'wrist',
      note: `${source.repository} at ${source.commit}, ${source.licence}`,
    },
    specimen: { id: 'a' },
    teardown: { on: '2026-01', by: 'design files', recordedFrom: 'design-files' },
    boards: boards.map(({ id, kind, outline, holes }) => ({
      id,
      kind,
      outline: {
        points: outline,
        ...(holes.length > 0 ? { holes: holes.map((points) => ({ points })) } : {}),
      },
      fullyInventoried: true,
      fullyTraced: true,
    })),
    components: components.map((one) => ({
      id: one.designator,
      printed: true,
      board: one.board,
      side: one.side,
      at: { x: one.at[0], y: one.at[1] },
      // The files count as seen from the top, a dossier as seen from the component's own side.
      rotation: one.side === 'bottom' ? (360 - one.rotation) % 360 : one.rotation,
      body: { length: one.body[0], width: one.body[1] },
      package: one.package || undefined,
      pins: one.pins.length || undefined,
      pinout: pinoutOf(one),
      value: one.value ?? undefined,
      fitted: one.fitted ? undefined : false,
      appears: one.chip === null ? termsOf(one)[0] : undefined,
    })),
    connections: mates.map(({ between, lines, medium, pins }) => ({ between, lines, medium, pins })),
    nets: nets
      .filter(({ kind }) => kind !== 'unconnected')
      .map(({ id, kind, bus, voltage, label }) => ({
        id,
        kind,
        pins: joined.get(id) ?? [],
        complete: true,
        ...(label === null ? {} : { label }),
        ...(bus === null ? {} : { bus }),
        ...(voltage === null ? {} : { voltage: `${voltage} V` }),
      })),
    identifications: components.flatMap(({ board, designator, chip }) =>
      chip === null
        ? []
        : [
            {
              component: `${board}:${designator}`,
              candidates: [{ part: referencePartId(chip), probability: 1 }],
              state: 'settled',
            },
          ],
    ),
  });
  return withUniqueIds(written);
}

/** Catalogue and dossiers as documents to import, as they are after reading. */
export function referenceDocuments(names: readonly ReferenceName[] = REFERENCE_BOARDS): ReadDocument[] {
  const locate = () => ({ line: 1, column: 1 });
  return [
    { kind: 'catalogue', file: 'reference catalogue', locate, catalogue: referenceCatalogue() },
    ...names.map((name) => ({
      kind: 'dossier' as const,
      file: name,
      locate,
      dossier: referenceDossier(name),
    })),
  ];
}

/** The same as changes of a journal. */
export function referenceChanges(names: readonly ReferenceName[] = REFERENCE_BOARDS): Change[] {
  const by = { actor: 'test', reason: 'reference boards' };
  const catalogue = referenceCatalogue();
  return [
    ...COLLECTIONS.flatMap((collection) =>
      catalogue[collection].map(
        (record) => ({ ...by, kind: 'record-put', payload: { collection, record } }) as const,
      ),
    ),
    ...names.map((name) => ({ ...by, kind: 'dossier-put', payload: referenceDossier(name) }) as const),
  ];
}

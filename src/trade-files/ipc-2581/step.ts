import type { Outline, Ring } from '../../model/board.ts';
import { extentOf, type Point } from '../../model/outline.ts';
import {
  type DesignBoard,
  type DesignComponent,
  type DesignNet,
  type DesignPin,
  type Findings,
  quoted,
  type Side,
  tidy,
  tidyAngle,
} from '../board-design.ts';
import { mapOutline, point } from '../outline.ts';
import { valueAndFitted } from '../table/cells.ts';
import { PolygonReader } from './polygons.ts';
import { attribute, childOf, childrenOf, type Element } from './xml.ts';

/** Classes of nets as the standard has them. */
const NET_KINDS: Readonly<Record<string, NonNullable<DesignNet['kind']>>> = {
  GROUND: 'ground',
  POWER: 'power',
  SIGNAL: 'signal',
  CLK: 'signal',
};

interface Package {
  readonly name: string;
  /** Box around its outline. */
  readonly body?: {
    readonly centre: Point;
    readonly length: number;
    readonly width: number;
    readonly height?: number;
  };
  readonly pins: readonly { readonly number: string; readonly name?: string; readonly at?: Point }[];
}

/** Reads one step of an IPC-2581 file: a board with outline, packages, components and nets. */
export class StepReader {
  readonly #step: Element;
  readonly #layers: ReadonlyMap<string, string | undefined>;
  readonly #unit: number;
  readonly #findings: Findings;
  readonly #polygons: PolygonReader;

  constructor(
    step: Element,
    layers: ReadonlyMap<string, string | undefined>,
    unit: number,
    findings: Findings,
  ) {
    this.#step = step;
    this.#layers = layers;
    this.#unit = unit;
    this.#findings = findings;
    this.#polygons = new PolygonReader(unit, findings);
  }

  board(layers: number): DesignBoard {
    const name = attribute(this.#step, 'name');
    const outline = this.#outline();
    const packages = new Map(
      childrenOf(this.#step, 'Package').map((one) => [attribute(one, 'name') ?? '', this.#package(one)]),
    );
    const { nets, byPin } = this.#nets();
    const designators = new Map<string, number>();
    const components: DesignComponent[] = [];
    for (const element of childrenOf(this.#step, 'Component')) {
      const component = this.#component(element, packages, byPin);
      if (!component) continue;
      const before = designators.get(component.designator);
      if (before !== undefined)
        this.#findings.problem(
          element.line,
          `${component.designator} is also in line ${before}`,
          'export it again',
          'refDes',
        );
      designators.set(component.designator, element.line);
      components.push(component);
    }
    this.#tellStrangers(byPin, designators);
    return movedToOutline({
      ...(name ? { name } : {}),
      ...(outline ? { outline } : {}),
      components,
      nets,
      ...(layers > 0 ? { layers } : {}),
    });
  }

  #outline(): Outline | undefined {
    const profile = childOf(this.#step, 'Profile');
    const polygon = childOf(profile, 'Polygon');
    const ring = polygon && this.#polygons.ring(polygon);
    if (!ring) {
      this.#findings.caution(
        this.#step.line,
        'has no closed profile',
        'measure the board, or give its outline by hand',
      );
      return undefined;
    }
    const holes = childrenOf(profile, 'Cutout').flatMap((cutout) => {
      const points = this.#polygons.ring(cutout);
      return points ? [{ points }] : [];
    });
    return { points: ring, ...(holes.length > 0 ? { holes } : {}) };
  }

  #package(element: Element): Package {
    const polygon = childOf(childOf(element, 'Outline'), 'Polygon');
    const ring = polygon && this.#polygons.ring(polygon);
    const pins = childrenOf(element, 'Pin').flatMap((pin) => {
      const number = attribute(pin, 'number');
      if (number === undefined || attribute(pin, 'electricalType')?.toUpperCase() === 'MECHANICAL') return [];
      const name = attribute(pin, 'name');
      const at = this.#place(childOf(pin, 'Location')) ?? this.#place(pin);
      return [{ number, ...(name && name !== number ? { name } : {}), ...(at ? { at } : {}) }];
    });
    const height = this.#length(element, 'height');
    return { name: attribute(element, 'name') ?? '', ...(ring ? this.#body(ring, height) : {}), pins };
  }

  #body(ring: Ring, height: number | undefined): Pick<Package, 'body'> {
    const { left, bottom, length, width } = extentOf({ points: ring });
    if (length <= 0 || width <= 0) return {};
    return {
      body: {
        centre: [left + length / 2, bottom + width / 2],
        length: tidy(length),
        width: tidy(width),
        ...(height !== undefined && height > 0 ? { height } : {}),
      },
    };
  }

  #component(
    element: Element,
    packages: ReadonlyMap<string, Package>,
    byPin: ReadonlyMap<string, ReadonlyMap<string, string>>,
  ): DesignComponent | undefined {
    const designator = attribute(element, 'refDes');
    if (designator === undefined) {
      this.#findings.problem(element.line, 'a component has no refDes', 'export it again', 'refDes');
      return undefined;
    }
    const packageRef = attribute(element, 'packageRef');
    const kind = packageRef === undefined ? undefined : packages.get(packageRef);
    const frame = this.#frame(element);
    const side = this.#side(element, frame.mirrored);
    const body = kind?.body;
    const at = frame.at && (body ? frame.toBoard(body.centre) : frame.at);
    const { value, fitted } = valueAndFitted(this.#valueOf(element) ?? '');
    const part = attribute(element, 'part');
    const height = body?.height ?? this.#length(element, 'height');
    return {
      designator,
      ...(side ? { side } : {}),
      ...(at ? { at, atIs: body ? ('body centre' as const) : ('origin' as const) } : {}),
      rotation: tidyAngle(frame.mirrored ? 180 - frame.rotation : frame.rotation),
      ...(body
        ? {
            body: {
              length: body.length,
              width: body.width,
              ...(height !== undefined && height > 0 ? { height } : {}),
            },
          }
        : {}),
      ...(packageRef ? { footprint: packageRef } : {}),
      ...(value === undefined ? {} : { value }),
      ...(fitted === undefined ? {} : { fitted }),
      ...(part ? { description: part } : {}),
      pins: this.#pins(kind, frame, byPin.get(designator)),
      line: element.line,
    };
  }

  /** Pins of the package, and those that only a net names. */
  #pins(
    kind: Package | undefined,
    frame: Frame,
    onNets: ReadonlyMap<string, string> | undefined,
  ): readonly DesignPin[] {
    const named = new Set<string>();
    const pins = (kind?.pins ?? []).map(({ number, name, at }): DesignPin => {
      const key = onNets?.has(number) ? number : name !== undefined && onNets?.has(name) ? name : number;
      named.add(key);
      const net = onNets?.get(key);
      return {
        number,
        ...(name === undefined ? {} : { name }),
        ...(at && frame.at ? { at: frame.toBoard(at) } : {}),
        ...(net === undefined ? {} : { net }),
      };
    });
    const further = [...(onNets ?? [])].flatMap(([number, net]) =>
      named.has(number) ? [] : [{ number, net }],
    );
    return [...pins, ...further];
  }

  #valueOf(element: Element): string | undefined {
    const said = childrenOf(element, 'NonstandardAttribute').find(
      (one) => attribute(one, 'name')?.toUpperCase() === 'VALUE',
    );
    return attribute(said, 'value');
  }

  #side(element: Element, mirrored: boolean): Side | undefined {
    const layer = attribute(element, 'layerRef');
    const side = layer === undefined ? undefined : this.#layers.get(layer);
    if (side === 'TOP') return 'top';
    if (side === 'BOTTOM') return 'bottom';
    return layer === undefined ? undefined : mirrored ? 'bottom' : undefined;
  }

  #frame(element: Element): Frame {
    const at = this.#place(childOf(element, 'Location'));
    const xform = childOf(element, 'Xform');
    const rotation = this.#number(xform, 'rotation') ?? 0;
    const mirrored = attribute(xform, 'mirror')?.toLowerCase() === 'true';
    const [cos, sin] = [Math.cos((rotation * Math.PI) / 180), Math.sin((rotation * Math.PI) / 180)];
    return {
      at,
      rotation,
      mirrored,
      toBoard: ([x, y]) => {
        const turned: Point = [x * cos - y * sin, x * sin + y * cos];
        // Turned first, then turned over with its x: so the consortium's published test cases have it, pad by pad.
        return point((at?.[0] ?? 0) + (mirrored ? -turned[0] : turned[0]), (at?.[1] ?? 0) + turned[1]);
      },
    };
  }

  #nets(): { readonly nets: readonly DesignNet[]; readonly byPin: ReadonlyMap<string, Map<string, string>> } {
    const nets = new Map<string, DesignNet>();
    const byPin = new Map<string, Map<string, string>>();
    const join = (name: string, ref: Element) => {
      const [designator, pin] = [attribute(ref, 'componentRef'), attribute(ref, 'pin')];
      if (designator === undefined || pin === undefined) return;
      const pins = byPin.get(designator) ?? new Map<string, string>();
      byPin.set(designator, pins);
      const before = pins.get(pin);
      if (before !== undefined && before !== name) {
        this.#findings.problem(
          ref.line,
          `${designator}.${pin} lies on ${quoted(before)} and on ${quoted(name)}`,
          'look at the design and export again',
        );
      }
      pins.set(pin, name);
    };
    for (const element of childrenOf(this.#step, 'LogicalNet')) {
      const name = attribute(element, 'name');
      if (name === undefined || isNoNet(name)) continue;
      const kind = NET_KINDS[attribute(element, 'netClass')?.toUpperCase() ?? ''];
      nets.set(name, { key: name, label: name, ...(kind ? { kind } : {}) });
      for (const ref of childrenOf(element, 'PinRef')) join(name, ref);
    }
    if (nets.size === 0) {
      for (const layer of childrenOf(this.#step, 'LayerFeature')) {
        for (const set of childrenOf(layer, 'Set')) {
          const name = attribute(set, 'net');
          if (name === undefined || isNoNet(name)) continue;
          for (const pad of childrenOf(set, 'Pad'))
            for (const ref of childrenOf(pad, 'PinRef')) {
              nets.set(name, { key: name, label: name });
              join(name, ref);
            }
        }
      }
      if (nets.size > 0) this.#findings.understood.push('nets are read from the pads of its layers');
      else this.#findings.caution(this.#step.line, 'names no nets', 'export it in full or for test');
    }
    return { nets: [...nets.values()], byPin };
  }

  #tellStrangers(
    byPin: ReadonlyMap<string, ReadonlyMap<string, string>>,
    known: ReadonlyMap<string, number>,
  ): void {
    const strangers = [...byPin.keys()].filter((designator) => !known.has(designator));
    if (strangers.length === 0) return;
    this.#findings.caution(
      this.#step.line,
      `nets name ${strangers.length} ${strangers.length === 1 ? 'component' : 'components'} that the file does not place: ${strangers.slice(0, 5).join(', ')}${strangers.length > 5 ? ' …' : ''}`,
      'look whether they are on the board',
    );
  }

  #place(element: Element | undefined): Point | undefined {
    const [x, y] = [this.#length(element, 'x'), this.#length(element, 'y')];
    return x === undefined || y === undefined ? undefined : [x, y];
  }

  #length(element: Element | undefined, name: string): number | undefined {
    const value = this.#number(element, name);
    return value === undefined ? undefined : tidy(value * this.#unit);
  }

  #number(element: Element | undefined, name: string): number | undefined {
    const written = attribute(element, name);
    if (written === undefined) return undefined;
    const value = Number(written);
    if (Number.isFinite(value)) return value;
    this.#findings.problem(element?.line, `${quoted(written)} is not a number`, 'export it again', name);
    return undefined;
  }
}

/** Where a component lies. */
interface Frame {
  readonly at: Point | undefined;
  readonly rotation: number;
  readonly mirrored: boolean;
  toBoard(local: Point): Point;
}

function isNoNet(name: string): boolean {
  return /^(?:no[-_ ]?net|n\/c|unused)$/iu.test(name);
}

/** The board with the box of its outline starting at (0, 0). */
function movedToOutline(board: DesignBoard): DesignBoard {
  if (!board.outline) return board;
  const { left, bottom } = extentOf(board.outline);
  const to = ([x, y]: Point): Point => point(x - left, y - bottom);
  return {
    ...board,
    outline: mapOutline(board.outline, to),
    components: board.components.map((one) => ({
      ...one,
      ...(one.at ? { at: to(one.at) } : {}),
      pins: one.pins.map((pin) => (pin.at ? { ...pin, at: to(pin.at) } : pin)),
    })),
  };
}

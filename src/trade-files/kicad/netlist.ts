import {
  type DesignComponent,
  type DesignNet,
  type DesignPin,
  Findings,
  quoted,
  type TradeFile,
} from '../board-design.ts';
import { valueAndFitted } from '../table/cells.ts';
import { areNumbered, directionOf, pinName, plainText } from './pin-names.ts';
import { fieldIn, isYes } from './read.ts';
import { childOf, type Form, firstValue, readForm } from './s-expression.ts';

// KiCad netlists (`.net`), S-expressions `(export (version "E") (components …) (libparts …) (nets …))`, after "Intermediate netlist
// structure" in the manual of KiCad's schematic editor, whose XML has the same names; versions D and E. A netlist knows no places and no
// sides, but all pins of a symbol with their names.

const SKIPPED: ReadonlySet<string> = new Set([
  'design',
  'libraries',
  'sheetpath',
  'units',
  'footprints',
  'docs',
]);

interface LibraryPin {
  readonly name: string | undefined;
  readonly type: string | undefined;
}

interface Node {
  readonly designator: string;
  readonly number: string;
  readonly written: string;
  readonly type: string | undefined;
  readonly net: DesignNet | undefined;
  readonly line: number;
}

/** Reads a KiCad netlist. */
export function readKicadNetlist(text: string, file: string, findings = new Findings(file)): TradeFile {
  const form = readForm(text, SKIPPED, findings);
  if (!form) return findings.result('kicad-netlist', []);
  findings.understood.push(`netlist version ${firstValue(form, 'version') ?? 'unknown'}`);
  const symbols = symbolsOf(form);
  const nets: DesignNet[] = [];
  const nodes = (childOf(form, 'nets')?.children ?? []).flatMap((net) => nodesOf(net, nets));
  const isNumbered = areNumbered(nodes);
  const byComponent = Map.groupBy(nodes, ({ designator }) => designator);
  const components = componentsOf(form, findings, (comp, designator) => {
    const library = childOf(comp, 'libsource');
    const symbol = symbols.get(symbolKey(library));
    return pinsOf(designator, byComponent.get(designator) ?? [], symbol, isNumbered, findings);
  });
  const known = new Set(components.map(({ designator }) => designator));
  for (const { designator, number, line, net } of nodes)
    if (!known.has(designator) && !isLeftAside(designator))
      findings.problem(
        line,
        `net ${quoted(net?.label ?? '')} joins ${designator}.${number}, but no component ${designator} is listed`,
        'export the netlist again',
      );
  if (components.length === 0)
    findings.problem(form.line, 'lists no components', 'export the netlist of the whole schematic');
  return findings.result('kicad-netlist', [{ components, nets }]);
}

/** Supply symbols and flags are no components. */
function isLeftAside(designator: string): boolean {
  return designator.startsWith('#') || designator.endsWith('?');
}

function componentsOf(
  form: Form,
  findings: Findings,
  pinsFor: (comp: Form, designator: string) => readonly DesignPin[],
): readonly DesignComponent[] {
  const found = new Map<string, ReturnType<typeof componentOf>>();
  const unnumbered: string[] = [];
  for (const comp of childOf(form, 'components')?.children ?? []) {
    if (comp.name !== 'comp') continue;
    const designator = firstValue(comp, 'ref')?.trim() ?? '';
    if (designator === '') {
      findings.problem(comp.line, 'a component has no "ref"', 'give its designator', 'ref');
      continue;
    }
    if (designator.startsWith('#')) continue;
    if (designator.endsWith('?')) {
      unnumbered.push(designator);
      continue;
    }
    const before = found.get(designator);
    if (before)
      findings.problem(
        comp.line,
        `${designator} is also in line ${before.line}`,
        'number the schematic and export it again',
      );
    else found.set(designator, componentOf(comp, designator, pinsFor(comp, designator)));
  }
  if (unnumbered.length > 0)
    findings.caution(
      undefined,
      `${unnumbered.length} ${unnumbered.length === 1 ? 'component has' : 'components have'} no number yet (${[...new Set(unnumbered)].slice(0, 5).join(', ')}) and ${unnumbered.length === 1 ? 'is' : 'are'} left out`,
      'number the schematic and export it again',
    );
  return [...found.values()].filter(({ onBoard }) => onBoard).map(({ onBoard: _, ...one }) => one);
}

function componentOf(
  comp: Form,
  designator: string,
  pins: readonly DesignPin[],
): DesignComponent & { readonly onBoard: boolean } {
  const said = textsOf(comp);
  const written = firstValue(comp, 'value')?.trim() ?? '';
  const { value, fitted } = valueAndFitted(written === '~' ? '' : written);
  const footprint = firstValue(comp, 'footprint')?.replace(/^.*:/u, '');
  const description =
    firstValue(comp, 'description') ?? firstValue(childOf(comp, 'libsource') ?? comp, 'description');
  const [partNumber, maker] = [fieldIn(said, 'partNumber'), fieldIn(said, 'maker')];
  const isEmpty = fitted === false || isYes(said.get('dnp')) || isYes(said.get('donotpopulate'));
  return {
    designator,
    ...(footprint ? { footprint } : {}),
    ...(value === undefined ? {} : { value }),
    ...(partNumber ? { partNumber } : {}),
    ...(maker ? { maker } : {}),
    ...(description?.trim() ? { description: description.trim() } : {}),
    ...(isEmpty ? { fitted: false } : {}),
    pins,
    line: comp.line,
    onBoard: !isYes(said.get('excludefromboard')),
  };
}

/** Fields and properties of a component by name, lower-case letters and digits alone; a property without a value holds: `yes`. */
function textsOf(comp: Form): ReadonlyMap<string, string> {
  const said = new Map<string, string>();
  const say = (name: string | undefined, text: string | undefined) => {
    const key = name?.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '') ?? '';
    const tidied = text?.trim();
    if (key !== '' && tidied && !said.has(key)) said.set(key, tidied);
  };
  for (const field of childOf(comp, 'fields')?.children ?? [])
    say(firstValue(field, 'name'), field.values[0]);
  for (const property of comp.children)
    if (property.name === 'property')
      say(firstValue(property, 'name'), childOf(property, 'value') ? firstValue(property, 'value') : 'yes');
  return said;
}

function symbolKey(of: Form | undefined): string {
  return of ? JSON.stringify([firstValue(of, 'lib') ?? '', firstValue(of, 'part') ?? '']) : '';
}

/** Pins of each symbol of the libraries by number. */
function symbolsOf(form: Form): ReadonlyMap<string, ReadonlyMap<string, LibraryPin>> {
  const symbols = new Map<string, ReadonlyMap<string, LibraryPin>>();
  for (const part of childOf(form, 'libparts')?.children ?? []) {
    const pins = new Map<string, LibraryPin>();
    for (const pin of childOf(part, 'pins')?.children ?? []) {
      const number = firstValue(pin, 'num')?.trim();
      if (number) pins.set(number, { name: firstValue(pin, 'name'), type: firstValue(pin, 'type') });
    }
    if (pins.size > 0) symbols.set(symbolKey(part), pins);
  }
  return symbols;
}

/** Pins that a net names; the net is kept unless it is KiCad's own for a pin that is joined to nothing. */
function nodesOf(form: Form, nets: DesignNet[]): readonly Node[] {
  if (form.name !== 'net') return [];
  const name = firstValue(form, 'name')?.trim() ?? '';
  const members = form.children.filter((child) => child.name === 'node');
  const isNone =
    members.length === 0 ||
    name.startsWith('unconnected-(') ||
    (members.length === 1 && (firstValue(members[0], 'pintype') ?? '').endsWith('no_connect'));
  const key = name === '' ? `#${firstValue(form, 'code') ?? form.line}` : name;
  const net: DesignNet | undefined = isNone
    ? undefined
    : { key, ...(name === '' ? {} : { label: plainText(name) }) };
  if (net) nets.push(net);
  return members.map((node) => ({
    designator: firstValue(node, 'ref')?.trim() ?? '',
    number: firstValue(node, 'pin')?.trim() ?? '',
    written: firstValue(node, 'pinfunction') ?? '',
    type: firstValue(node, 'pintype'),
    net,
    line: node.line,
  }));
}

/** Pins of a component: those that nets name, then those of its symbol that none does. */
function pinsOf(
  designator: string,
  nodes: readonly Node[],
  symbol: ReadonlyMap<string, LibraryPin> | undefined,
  isNumbered: boolean,
  findings: Findings,
): readonly DesignPin[] {
  const joined = new Map<string, Node>();
  for (const node of nodes) {
    const before = joined.get(node.number);
    if (before?.net && node.net && before.net.key !== node.net.key)
      findings.problem(
        node.line,
        `${designator}.${node.number} lies on ${quoted(before.net.key)}, in line ${before.line}, and on ${quoted(node.net.key)}`,
        'look at the schematic and export it again',
      );
    if (!before?.net) joined.set(node.number, node);
  }
  const numbers = new Set([...joined.keys(), ...(symbol?.keys() ?? [])]);
  return [...numbers].map((number): DesignPin => {
    const [node, drawn] = [joined.get(number), symbol?.get(number)];
    const name =
      drawn?.name === undefined
        ? pinName(number, node?.written ?? '', isNumbered)
        : pinName(number, drawn.name, false);
    const direction = directionOf(drawn?.type ?? node?.type);
    return {
      number,
      ...(name === undefined ? {} : { name }),
      ...(direction ? { direction } : {}),
      ...(node?.net ? { net: node.net.key } : {}),
    };
  });
}

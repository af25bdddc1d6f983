import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { isSeq, parse, parseDocument, type YAMLMap } from 'yaml';
import type { Component, Dossier } from '../../../src/model/dossier.ts';
import { type DrawnPin, PINS, pinsOf } from './pins.ts';
import { Floor } from './places.ts';
import { type Drawn, type Made, wire } from './wiring.ts';

// What pinouts.yaml and the sheets write into the files of parts and dossiers. In a dossier it stands between two marks, and is
// taken out before it is written anew; the rest of the file is written by hand and stays.

const BEGIN = '  # Written from tests/seed/nets';
const END = '  # End of what is written from tests/seed/nets';

/** A sheet: what an X-ray and a probe added to a dossier. */
interface Sheet {
  readonly specimen: string;
  /** Packages of small and of large passives. */
  readonly sizes: [string, string];
  /** Observations that show a net which names none. */
  readonly basis: string[];
  /** Lines of YAML that go into the lists of these names as they are. */
  readonly steps?: string;
  readonly components?: string;
  readonly connections?: string;
  readonly observations?: string;
  readonly identifications?: string;
  /** One net a line, see wiring.ts. */
  readonly nets: string;
}

const folder = fileURLToPath(new URL('sheets/', import.meta.url));

/** All sheets, by the specimen's file. */
export const SHEETS: ReadonlyMap<string, Sheet> = new Map(
  readdirSync(folder).map((name) => {
    const sheet: Sheet = parse(readFileSync(folder + name, 'utf8'));
    return [`dossiers/${name}`, sheet];
  }),
);

/**
 * Texts of the files of seed-data with pins, parts and nets written in.
 * @param texts by path inside seed-data; files without part or sheet of ours come back as they are
 */
export function written(texts: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const pins = new Map<string, readonly DrawnPin[]>();
  const result = new Map<string, string>();
  for (const [name, text] of texts) if (name.startsWith('parts/')) result.set(name, withPins(text, pins));
  for (const [name, text] of texts) {
    const sheet = SHEETS.get(name);
    if (!name.startsWith('parts/')) result.set(name, sheet ? withNets(text, sheet, pins) : text);
  }
  return result;
}

/** A file of parts with the pins that pinouts.yaml names; kept in `pins` by part. */
function withPins(text: string, pins: Map<string, readonly DrawnPin[]>): string {
  const bare = text.replace(/^ {4}pinout:\n(?: {6}.*\n)+/gmu, '');
  const list = parseDocument(bare).get('parts');
  if (!isSeq(list)) throw new Error('a file of parts has no list "parts"');
  const edits: { at: number; text: string }[] = [];
  for (const item of list.items) {
    const map = item as YAMLMap;
    const id = `${map.get('maker')}/${map.get('number')}`;
    if (!PINS[id]) continue;
    const count = Number(map.get('pins') ?? 2);
    const drawn = pinsOf(id, String(map.get('package')), count);
    pins.set(id, drawn);
    const lines = drawn.map((pin) => {
      const fields = Object.entries(pin).map(([key, value]) => `${key}: ${quoted(value)}`);
      return `      - { ${fields.join(', ')} }\n`;
    });
    // Behind the last value of the part, at the end of its line.
    const end = Math.max(
      ...map.items.map(({ value }) => (value as { range: [number, number, number] }).range[1]),
    );
    const newline = bare.indexOf('\n', end - 1);
    edits.push({ at: newline + 1, text: `    pinout:\n${lines.join('')}` });
  }
  return edits
    .sort((a, b) => b.at - a.at)
    .reduce((done, edit) => done.slice(0, edit.at) + edit.text + done.slice(edit.at), bare);
}

/** A dossier's text with what its sheet adds. */
function withNets(text: string, sheet: Sheet, pins: ReadonlyMap<string, readonly DrawnPin[]>): string {
  let done = withoutMarked(text).replace(/^nets:\n(?: .*\n)*\n/mu, '');
  if (sheet.steps) done = into(done, 'steps', sheet.steps, 4);
  if (sheet.components) done = into(done, 'components', sheet.components, 2);
  const document = parseDocument(done);
  const dossier = document.toJS() as Dossier;
  const floor = new Floor(
    new Map(dossier.boards.map(({ id, outline }) => [id, outline])),
    single(dossier.components),
  );
  const { nets, made } = wire(sheet.nets, {
    specimen: sheet.specimen,
    components: single(dossier.components),
    pinsOf: (component) => pinoutOf(dossier, component, pins),
    floor,
    sizes: sheet.sizes,
    basis: sheet.basis,
  });
  done = into(
    withoutMarked(done, 'components'),
    'components',
    (sheet.components ?? '') + made.map(lineOf).join(''),
    2,
  );
  if (sheet.connections) done = into(done, 'connections', sheet.connections, 2);
  if (sheet.observations) done = into(done, 'observations', sheet.observations, 2);
  if (sheet.identifications) done = into(done, 'identifications', sheet.identifications, 2);
  return done.replace(/^observations:$/mu, `nets:\n${nets.map(netText).join('')}\nobservations:`);
}

function pinoutOf(
  { identifications }: Dossier,
  { id, pinout }: Component,
  pins: ReadonlyMap<string, readonly DrawnPin[]>,
): readonly DrawnPin[] {
  if (pinout)
    return pinout.map(
      (pin) => ({ ...pin, number: String(pin.number ?? ''), name: pin.name ?? '' }) as DrawnPin,
    );
  const part = identifications.find(({ component }) => component === id)?.candidates[0].part;
  return pins.get(part ?? '') ?? [];
}

/** Components one by one, where a line stands for several. */
function single(components: readonly Component[]): Component[] {
  return components.flatMap((one) => {
    const [, letters, from, to] = /^([A-Z]+)(\d+)\.\.[A-Z]+(\d+)$/u.exec(one.id) ?? [];
    if (!letters) return [one];
    const { pitch = { x: 0, y: 0 } } = one as { pitch?: { x: number; y: number } };
    return Array.from({ length: Number(to) - Number(from) + 1 }, (_, i) => {
      const at = one.at && { x: one.at.x + i * pitch.x, y: one.at.y + i * pitch.y };
      return { ...one, id: `${letters}${Number(from) + i}`, ...(at && { at }) };
    });
  });
}

/** The text without what stands between our marks, in one list or in all. */
function withoutMarked(text: string, list?: string): string {
  const marked = new RegExp(`\\n(?: *\\n)?( *)${BEGIN.trim()}\\n[\\s\\S]*?\\n *${END.trim()}(?=\\n)`, 'gu');
  if (!list) return text.replace(marked, '');
  const start = text.indexOf(`\n${list}:`);
  const rest = text.slice(start).replace(new RegExp(marked.source, 'u'), '');
  return text.slice(0, start) + rest;
}

/** Adds lines at the end of a list, between our marks. */
function into(text: string, list: string, lines: string, indent: number): string {
  const document = parseDocument(text);
  const path = list === 'steps' ? ['teardown', 'steps'] : [list];
  const node = document.getIn(path, true);
  if (!isSeq(node)) throw new Error(`no list ${list}`);
  const last = node.items.at(-1) as { range: [number, number, number] };
  // The end of the last item's text, without the comments and empty lines behind it.
  const before = text
    .slice(0, last.range[1])
    .replace(/(\n *#.*|\n *)+$/u, '')
    .replace(/\s+$/u, '');
  const space = ' '.repeat(indent);
  const body = lines
    .trimEnd()
    .split('\n')
    .map((line) => (line === '' ? '' : space + line))
    .join('\n');
  const [begin, end] = [BEGIN, END].map((mark) => space + mark.trim());
  return `${before}\n${begin}\n${body}\n${end}${text.slice(before.length)}`;
}

function lineOf(one: Made): string {
  const fields = [
    `id: ${one.id}`,
    `board: ${one.board}`,
    `side: ${one.side}`,
    `at: { x: ${one.x}, y: ${one.y} }`,
    one.rotation === 90 && one.package && 'rotation: 90',
    one.package && `body: { length: ${one.length}, width: ${one.width} }`,
    one.package && `package: "${one.package}"`,
    `pins: ${one.pins}`,
    one.value && `value: ${one.value}`,
    !one.fitted && 'fitted: false',
    `appears: ${one.appears}`,
    one.subsystem && `subsystem: ${one.subsystem}`,
  ];
  return `- { ${fields.filter(Boolean).join(', ')} }\n`;
}

function netText(net: Drawn): string {
  const lines = [
    `  - id: ${net.id}`,
    net.label && `    label: ${quoted(net.label)}`,
    `    kind: ${net.kind}`,
    net.voltage && `    voltage: ${net.voltage}`,
    net.bus && `    bus: ${net.bus}`,
    net.medium && `    medium: ${net.medium}`,
    ...pinLines(net.pins),
    net.complete && '    complete: true',
    net.basis.length > 0 && `    basis: [${net.basis.join(', ')}]`,
  ];
  return lines
    .filter(Boolean)
    .map((line) => `${line}\n`)
    .join('');
}

/** The list of pins, folded before column 120. */
function pinLines(pins: readonly string[]): string[] {
  const whole = `    pins: [${pins.map(quoted).join(', ')}]`;
  if (whole.length <= 120) return [whole];
  const lines: string[] = [];
  for (const pin of pins.map(quoted)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + pin.length < 116) lines[lines.length - 1] = `${last} ${pin},`;
    else lines.push(`      ${pin},`);
  }
  return ['    pins: [', ...lines, '    ]'];
}

function quoted(text: string): string {
  const special = /^\d+$|[:#{}[\],&*!|>'"%@`]|^[-+?]|^(?:true|false|null|yes|no|on|off)$/iu.test(text);
  return special ? JSON.stringify(text) : text;
}

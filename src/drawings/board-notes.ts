import type { Component } from '../model/dossier.ts';
import { areaOf, extentOf } from '../model/outline.ts';
import { isFitted } from '../state/labels.ts';
import { fixed } from '../text/rounding.ts';
import type { Panel } from './arrange.ts';
import {
  type BoardSide,
  componentsOn,
  type DrawnSide,
  doubtOf,
  hasFirstPinMark,
  nameOfNet,
  nameOfSubsystem,
  placesOfNet,
  sideOf,
} from './board-side.ts';
import { designatorList } from './designator-list.ts';
import type { Hatches } from './hatches.ts';
import type { LegendEntry } from './legend.ts';
import type { Doubt } from './shapes.ts';

/** How sure it is what a component is, in words. */
export const DOUBTS: readonly (readonly [Doubt, string])[] = [
  ['certain', 'certain what it is (0.95 or more)'],
  ['likely', 'likely what it is (0.5 or more)'],
  ['unknown', 'not known what it is'],
];

/** What legend, lists and text alternative of a sheet of boards say: all three from the same sides. */
export class BoardNotes {
  readonly #drawn: { readonly view: BoardSide; readonly caption: string; readonly drawn: DrawnSide }[] = [];

  add(view: BoardSide, caption: string, drawn: DrawnSide): void {
    this.#drawn.push({ view, caption, drawn });
  }

  /** Only what the sheet shows. */
  legend(panels: readonly Panel[], { byName }: Hatches): readonly LegendEntry[] {
    const views = panels.map(({ view }) => view);
    const bodies = views.flatMap((view) => view.placed.map((component) => ({ view, component })));
    const fitted = bodies.filter(({ component }) => isFitted(component));
    const counts = new Map<string, number>();
    for (const { view, component } of fitted) {
      const name =
        component.subsystem === undefined ? undefined : nameOfSubsystem(view.specimen, component.subsystem);
      counts.set(name ?? '', (counts.get(name ?? '') ?? 0) + 1);
    }
    const entries: LegendEntry[] = [...byName].map(([name, hatch]) => ({
      swatch: { kind: 'box', hatch },
      text: `${name} (${counts.get(name) ?? 0})`,
    }));
    const none = counts.get('');
    if (none !== undefined)
      entries.push({ swatch: { kind: 'box', fill: 'body' }, text: `no subsystem recorded (${none})` });
    const withBody = fitted.filter(({ component }) => component.body);
    for (const [doubt, text] of DOUBTS) {
      if (withBody.some(({ view, component }) => doubtOf(view.specimen, component) === doubt))
        entries.push({ swatch: { kind: 'box', doubt }, text });
    }
    if (bodies.some(({ component }) => !isFitted(component) && component.body))
      entries.push({ swatch: { kind: 'box', ink: 'pale', isStruck: true }, text: 'place left empty' });
    if (bodies.some(({ component }) => !component.body))
      entries.push({ swatch: { kind: 'cross' }, text: 'place known, size not' });
    if (bodies.some(({ view, component }) => hasFirstPinMark(view, component)))
      entries.push({ swatch: { kind: 'dot' }, text: 'pin 1 as IPC-7351 turns parts' });
    if (fitted.some(({ view, component }) => view.lit.components.has(component.id)))
      entries.push({ swatch: { kind: 'box', ink: 'picked-0', pen: 0.55 }, text: 'picked' });
    const nets = new Map(
      views.flatMap((view) =>
        view.lit.nets.map(
          (net, i) => [`${view.specimen.id} ${view.board.id} ${net.id}`, { view, net, i }] as const,
        ),
      ),
    );
    for (const { view, net, i } of nets.values())
      entries.push({
        swatch: { kind: 'net', ink: `picked-${1 + (i % 5)}` },
        text: `net ${nameOfNet(net)} (${placesOfNet(view, net).length})`,
      });
    const isAcross = [...nets.values()].some(({ view, net }) =>
      placesOfNet(view, net).some((one) => sideOf(one, view.board) !== view.side),
    );
    if (isAcross)
      entries.push({ swatch: { kind: 'ring', ink: 'picked-1' }, text: 'of the net, on the other side' });
    return entries;
  }

  /** What is not drawn, and what must be said of what is. */
  sentences(panels: readonly Panel[], { without }: Hatches): readonly string[] {
    const several = new Set(panels.map(({ view }) => `${view.specimen.id} ${view.board.id}`)).size > 1;
    const seen = new Set<string>();
    const sentences: string[] = [];
    for (const {
      view: { specimen, board },
    } of panels) {
      const key = `${specimen.id} ${board.id}`;
      if (seen.has(key)) continue;
      seen.add(key);
      const of = several ? `${specimen.id}, ${board.name ?? board.id}: ` : '';
      const say = (what: string, ids: readonly Component[]) => {
        if (ids.length > 0) sentences.push(`${of}${what}: ${designatorList(ids.map(({ id }) => id))}.`);
      };
      const all = componentsOn(specimen, board);
      if (!board.outline) sentences.push(`${of}${several ? 'the' : 'The'} outline was not measured.`);
      say(
        'Not drawn, no place recorded',
        all.filter(({ at }) => !at),
      );
      say(
        'Not drawn, side not recorded',
        all.filter((one) => one.at && !sideOf(one, board)),
      );
      say(
        'Size not recorded',
        all.filter((one) => one.at && sideOf(one, board) && !one.body),
      );
    }
    for (const { caption, drawn } of this.#drawn) {
      const of = this.#drawn.length > 1 ? `${caption}: ` : '';
      if (drawn.unlabelled.length > 0)
        sentences.push(`${of}No room for the designators of ${designatorList(drawn.unlabelled)}.`);
      if (drawn.unlabelledNets.length > 0)
        sentences.push(`${of}No room for the names of nets ${drawn.unlabelledNets.join(', ')}.`);
    }
    if (panels.some(({ view }) => view.lit.nets.length > 0))
      sentences.push(
        'Nets are drawn as the shortest tree between the middles of their components; that is not their copper.',
      );
    if (without.length > 0) sentences.push(`Subsystems without a hatch of their own: ${without.join(', ')}.`);
    return sentences;
  }

  /** The same for who cannot see it: size, how many components of each subsystem, what is picked. */
  inWords(panels: readonly Panel[]): readonly string[] {
    return panels.map(({ view, caption }) => {
      const { board, placed, lit, specimen } = view;
      const size = board.outline
        ? `${millimetres(extentOf(board.outline).length)} by ${millimetres(extentOf(board.outline).width)}, ${fixed(areaOf(board.outline))} mm²`
        : 'size not measured';
      const fitted = placed.filter(isFitted);
      const groups = new Map<string, string[]>();
      for (const { id, subsystem } of fitted) {
        const name = subsystem === undefined ? 'no subsystem' : nameOfSubsystem(specimen, subsystem);
        groups.set(name, [...(groups.get(name) ?? []), id]);
      }
      const listed = [...groups].map(([name, ids]) => `${name}: ${designatorList(ids, 12)}`);
      const picked = fitted.filter(({ id }) => lit.components.has(id)).map(({ id }) => id);
      const nets = lit.nets.map(
        (net) =>
          `${nameOfNet(net)} joins ${designatorList(
            placesOfNet(view, net).map(({ id }) => id),
            24,
          )}`,
      );
      return [
        `${caption}: ${size}; ${fitted.length === 1 ? '1 component' : `${fitted.length} components`} drawn${listed.length > 0 ? `: ${listed.join('; ')}` : ''}.`,
        ...(picked.length > 0 ? [`Picked: ${designatorList(picked)}.`] : []),
        ...(nets.length > 0 ? [`Nets: ${nets.join('; ')}.`] : []),
      ].join(' ');
    });
  }
}

const millimetres = (length: number) => `${Number(fixed(length, 2))} mm`;

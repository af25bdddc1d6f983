import { comparedOf } from '../../compare/representative.ts';
import { recordOfId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { derivedNets } from '../../nets/nets.ts';
import { resolved } from '../../state/resolve.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { MOST_LIT, sheetWidth } from '../boards.ts';
import { creditsOf } from '../credits.ts';
import { MARGIN, Page } from '../page.ts';
import type { Drawing, Ink } from '../shapes.ts';
import { svgOf } from '../svg.ts';
import { type Blocks, blocksOf } from './blocks.ts';
import { notesOf } from './diagram-notes.ts';
import { drawDiagram, type Picked } from './diagram-view.ts';
import { type GraphOptions, graphOf, UNITS } from './graph.ts';
import { laidOut } from './layout.ts';

/** Most boxes and lines that one diagram has. */
const MOST_BLOCKS = 300;
const MOST_WIRES = 900;

export interface DiagramQuestion {
  /** Whether resistors, capacitors and the like are boxes, too; else they are counted. */
  readonly passives?: boolean | null;
  /** Ids of components, nets and subsystems to pick out; a passive that is picked is drawn. */
  readonly lit?: readonly string[] | null;
  /** Width wanted for the sheet, mm, 170 when left out; a diagram that does not fit makes it wider. */
  readonly width?: number | null;
}

/** Ways to lay a diagram out, in the order of preference. */
const WAYS: readonly GraphOptions[] = [
  { direction: 'RIGHT', inletsFirst: true },
  { direction: 'DOWN', inletsFirst: true },
  { direction: 'RIGHT', inletsFirst: false },
  { direction: 'DOWN', inletsFirst: false },
];
/** Height that fits a page beside legend and credits, for a millimetre of width. */
const TALLEST = 1.25;

/**
 * The block diagram of a specimen: components in their subsystems and boards, and what joins them.
 * @param id of a specimen, of a device (then of the specimen that stands for it), or of a board, which is then drawn alone
 * @throws CasebackError NOT_FOUND when nothing visible has the id, or one of those to pick out; BAD_INPUT for something to pick out
 * that is not of this specimen, for a width out of range, and where there is no component to draw; OUT_OF_BUDGET for a
 * diagram that is too large, or takes too long; UNAVAILABLE when too many wait
 */
export async function blockDiagram(
  state: State,
  id: string,
  { passives, lit, width }: DiagramQuestion = {},
): Promise<Drawing> {
  const found = resolved(state, id, ['Specimen', 'Device', 'Board']);
  const board = found.kind === 'Board' ? found.thing : undefined;
  const specimen = found.kind === 'Board' ? found.opened : comparedOf(state, found.id).specimen;
  const wanted = sheetWidth(width);
  const picked = pickedIn(state, specimen, lit ?? []);
  const derived = derivedNets(specimen, (part) => state.part(part));
  const isPassive = (local: string) => derived.wiring.roles.get(local)?.is('Passive') === true;
  const isShown = (local: string) => picked.has(local) || (passives === true && isPassive(local));
  const shown = blocksOf(state, specimen, derived, isShown, board?.id);
  bound(id, shown, passives === true);

  const graphs = WAYS.map((way) => graphOf(shown, way));
  const room = (wanted - 2 * MARGIN) * UNITS;
  const { placed, at } = await laidOut({ graphs, width: room, height: room * TALLEST });
  const [across, down] = [placed.width ?? 0, placed.height ?? 0].map((length) => length / UNITS);

  const page = new Page(Math.max(wanted, Math.ceil(across + 2 * MARGIN)));
  const device = state.device(recordOfId(specimen.id));
  const words = {
    title: `${device?.name ?? specimen.id}${board ? `, ${board.name ?? board.id}` : ''}`,
    subtitle: `block diagram of specimen ${specimen.id}`,
  };
  page.heading(words);
  const corner = [MARGIN + (page.inner - across) / 2, page.y] as const;
  page.shapes.push(...drawDiagram(shown, placed, corner, WAYS[at].direction, picked));
  page.y += down + 3;
  const { legend, inWords, ...notes } = notesOf(specimen, shown, picked);
  const isWider = page.width > wanted;
  const boards = new Set(shown.blocks.flatMap((block) => block.board ?? []));
  const apart = board === undefined && boards.size > 1 ? ' Its boards fit better one at a time.' : '';
  const sentences = isWider
    ? [
        `It does not fit ${wanted} mm: the sheet is ${page.width} mm wide, and printed smaller its letters fall under 6 points.${apart}`,
        ...notes.sentences,
      ]
    : notes.sentences;
  const credits = creditsOf(state, [specimen]);
  page.end(legend, sentences, credits);
  const sheet = page.sheet(
    `${words.title}: ${words.subtitle}`,
    [`${words.title}, ${words.subtitle}.`, ...inWords, ...sentences, ...credits].join(' '),
  );
  const { title, description } = sheet;
  return { title, description, svg: svgOf(sheet) };
}

function bound(id: string, { blocks, wires: { wires } }: Blocks, hasPassives: boolean): void {
  if (blocks.length === 0)
    throw new CasebackError(
      'BAD_INPUT',
      `${id} has no component to draw; it has nothing but passives, or nothing`,
    );
  if (blocks.length <= MOST_BLOCKS && wires.length <= MOST_WIRES) return;
  throw new CasebackError(
    'OUT_OF_BUDGET',
    `A block diagram of ${id} has ${blocks.length} boxes and ${wires.length} lines; at most ${MOST_BLOCKS} and ${MOST_WIRES} are drawn.${hasPassives ? ' Leave passives out.' : ''}`,
  );
}

/** Reads what is to be picked out: components all in one colour, each net in its own. */
function pickedIn(state: State, specimen: OpenedSpecimen, ids: readonly string[]): Picked {
  if (ids.length > MOST_LIT)
    throw new CasebackError('BAD_INPUT', `lit names ${ids.length} things; name at most ${MOST_LIT}`);
  const picked = new Map<string, Ink>();
  let nets = 0;
  for (const id of new Set(ids)) {
    const found = resolved(state, id, ['Component', 'Net', 'Subsystem']);
    if (found.opened.id !== specimen.id)
      throw new CasebackError(
        'BAD_INPUT',
        `lit: ${id} is not in ${specimen.id}; name what is in that specimen`,
      );
    if (found.kind === 'Net') picked.set(found.thing.id, `picked-${1 + (nets++ % 5)}`);
    else if (found.kind === 'Component') picked.set(found.thing.id, 'picked-0');
    else
      for (const { id: local, subsystem } of specimen.dossier.components)
        if (subsystem === found.thing.id) picked.set(local, 'picked-0');
  }
  return picked;
}

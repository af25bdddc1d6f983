import type { SIDES } from '../model/board.ts';
import { sameValue } from '../model/component-value.ts';
import { compareDesignators, designatorOf, parseDesignator } from '../model/designator.ts';
import type { Component, Dossier } from '../model/dossier.ts';
import { componentId } from '../model/ids.ts';
import { byHints, importReason, saysNoMoreThanDesignator } from '../model/import-proposal.ts';
import { areaOf } from '../model/outline.ts';
import { isUnder } from '../model/taxonomy.ts';
import { fixed } from '../text/rounding.ts';
import { tidyAngle } from './board-design.ts';
import { type ClassProposal, PART_ODDS, proposeClass } from './class-proposals.ts';
import { draftNets } from './draft-nets.ts';
import { type MergedBoard, type MergedComponent, slugOf } from './merge.ts';
import { joinedPins, pinoutOf } from './pins.ts';
import type { BoardReport, Conflict, Gathered, Missing, Proposal } from './report.ts';

// A dossier with what files bring: what it lacks is added, what it says stays, and where the files say otherwise both are told.

/** Parts of the catalogue that a number in a list may mean. */
export interface KnownParts {
  /** Ids of parts of that number, of that maker first; spelling of case and punctuation aside. */
  find(
    number: string,
    maker: string | undefined,
  ): { readonly parts: readonly string[]; readonly byMaker: boolean };
}

export interface Draft {
  readonly dossier: Dossier;
  readonly boards: readonly BoardReport[];
  readonly proposals: readonly Proposal[];
  readonly missing: readonly Missing[];
  readonly conflicts: readonly Conflict[];
}

/** What is drafted, besides files and dossier. */
export interface Drafting {
  readonly boards: readonly MergedBoard[];
  /** Kind of boards that are new. */
  readonly boardKind: Dossier['boards'][number]['kind'];
  /** Whether the files list everything that a net joins. */
  readonly complete: boolean;
  readonly parts: KnownParts;
  /** Components of the specimen that have an identification already, by designator with board. */
  isIdentified(board: string, designator: string): boolean;
}

/** Points of two outlines' areas by which they may differ and still be one, per cent. */
const SAME_AREA = 1;
/** Two places as far apart as this are told, mm. */
const SAME_PLACE = 0.5;

/**
 * Adds what files say to a dossier in its written form (designators as printed). Nothing that the dossier says is changed.
 */
export function draftInto(dossier: Dossier, drafting: Drafting): Draft {
  const gathered: Gathered = { proposals: [], missing: [], conflicts: [] };
  let now = dossier;
  const boards: BoardReport[] = [];
  for (const board of drafting.boards) {
    const isNew = !now.boards.some(({ id }) => id === board.id);
    now = withBoard(now, board, drafting, gathered);
    const components = new BoardDraft(now, board, drafting, gathered);
    now = components.dossier();
    const nets = draftNets(now, board, drafting.complete, gathered);
    now = nets.dossier;
    tellMissing(now, board, components.unnamed, drafting, gathered);
    boards.push({
      board: board.id,
      isNew,
      components: {
        inFiles: board.components.length,
        added: components.added,
        completed: components.completed,
      },
      nets: { inFiles: board.nets.length, added: nets.added, completed: nets.completed },
    });
  }
  return { dossier: now, boards, ...gathered };
}

function withBoard(dossier: Dossier, merged: MergedBoard, drafting: Drafting, gathered: Gathered): Dossier {
  const before = dossier.boards.find(({ id }) => id === merged.id);
  const { outline, layers } = merged;
  if (!before) {
    const sides = new Set(merged.components.flatMap(({ side }) => side ?? []));
    const used = (['top', 'bottom'] as const satisfies readonly (typeof SIDES)[number][]).filter((side) =>
      sides.has(side),
    );
    gathered.proposals.push({
      kind: 'board',
      of: merged.id,
      proposed: `${drafting.boardKind}, components ${used.length === 1 ? `on the ${used[0]} side` : 'on both sides'}`,
      because: 'files do not say the kind of a board; set it with --board-kind',
    });
    const board = {
      id: merged.id,
      ...(merged.name && slugOf(merged.name) !== merged.id ? { name: merged.name } : {}),
      kind: drafting.boardKind,
      sides: used.length === 0 ? (['top', 'bottom'] as const).slice() : used,
      ...(outline ? { outline } : {}),
      ...(layers === undefined ? {} : { layers }),
    };
    return { ...dossier, boards: [...dossier.boards, board] };
  }
  if (before.outline && outline) {
    const [recorded, filed] = [areaOf(before.outline), areaOf(outline)];
    if (Math.abs(recorded - filed) > (SAME_AREA / 100) * recorded) {
      gathered.conflicts.push({
        of: merged.id,
        field: 'outline',
        archive: `${fixed(recorded, 1)} mm²`,
        files: `${fixed(filed, 1)} mm²`,
      });
    }
  }
  const completed = {
    ...before,
    ...(before.outline === undefined && outline ? { outline } : {}),
    ...(before.layers === undefined && layers !== undefined ? { layers } : {}),
  };
  return { ...dossier, boards: dossier.boards.map((one) => (one === before ? completed : one)) };
}

/** Components of one board, added to a dossier. */
class BoardDraft {
  added = 0;
  completed = 0;
  readonly #dossier: Dossier;
  readonly #board: MergedBoard;
  readonly #drafting: Drafting;
  readonly #gathered: Gathered;
  readonly #identifications: Dossier['identifications'] = [];
  /** Chips of which the files say no more than that. */
  readonly #unnamed: MergedComponent[] = [];

  constructor(dossier: Dossier, board: MergedBoard, drafting: Drafting, gathered: Gathered) {
    this.#dossier = dossier;
    this.#board = board;
    this.#drafting = drafting;
    this.#gathered = gathered;
  }

  get unnamed(): readonly MergedComponent[] {
    return this.#unnamed;
  }

  dossier(): Dossier {
    const before = new Map(
      this.#dossier.components.flatMap((one) =>
        one.board === this.#board.id || (one.board === undefined && this.#isOnlyOne(one))
          ? [[designatorOf(one.id), one] as const]
          : [],
      ),
    );
    const replaced = new Map<Component, Component>();
    const fresh: Component[] = [];
    for (const merged of this.#board.components) {
      if (!parseDesignator(merged.designator)) continue;
      const found = before.get(merged.designator);
      const drafted = this.#component(merged, found);
      if (!found) {
        this.added++;
        fresh.push(drafted);
      } else if (JSON.stringify(drafted) !== JSON.stringify(found)) {
        this.completed++;
        replaced.set(found, drafted);
      }
    }
    fresh.sort((a, b) => compareDesignators(a.id, b.id));
    return {
      ...this.#dossier,
      components: [...this.#dossier.components.map((one) => replaced.get(one) ?? one), ...fresh],
      identifications: [...this.#dossier.identifications, ...this.#identifications],
    };
  }

  /** A component of no board is meant where the dossier has no other of its designator. */
  #isOnlyOne({ id }: Component): boolean {
    return this.#dossier.components.filter((one) => designatorOf(one.id) === designatorOf(id)).length === 1;
  }

  #component(merged: MergedComponent, found: Component | undefined): Component {
    const id = componentId(this.#board.id, merged.designator);
    const proposal = proposeClass(merged);
    const said = this.#said(merged, proposal);
    const drafted: Component = found ?? { id: merged.designator, printed: false, board: this.#board.id };
    const complete: Component = { ...drafted, board: drafted.board ?? this.#board.id };
    const isSeen =
      found !== undefined &&
      (found.marking !== undefined ||
        found.appears !== undefined ||
        this.#drafting.isIdentified(this.#board.id, merged.designator));
    // A place needs its side, and both come from one source.
    const isElsewhere =
      (complete.side ?? said.side) === undefined || (found?.side ?? said.side) !== said.side;
    for (const [field, is] of Object.entries(said) as [keyof Component, never][]) {
      const before = complete[field];
      if (before !== undefined) this.#compare(id, field, before, is);
      else if ((field === 'at' || field === 'rotation') && isElsewhere) continue;
      else if (field === 'fitted' && isSeen) this.#compare(id, field, 'seen on the board', 'not fitted');
      else if (field !== 'appears' || !isSeen) Object.assign(complete, { [field]: is });
    }
    const joined = joinedPins(merged.pins);
    if (said.pins === undefined && found?.pins !== undefined && joined > found.pins)
      this.#compare(id, 'pins', found.pins, `at least ${joined}`);
    if (complete.fitted === false && found?.fitted === undefined) {
      const because =
        merged.fitted === false
          ? 'a file says so'
          : 'it is placed and the bill of materials does not list it';
      this.#propose('not-fitted', id, 'the place is empty', because);
    }
    if (complete.appears !== undefined && found?.appears === undefined && proposal)
      this.#propose('appearance', id, complete.appears, `${proposal.hints.join(', ')} agree`);
    if (complete.fitted !== false) this.#identify(merged, complete, proposal, id);
    return complete;
  }

  /** What the files say of a component, in the fields of a dossier. */
  #said(merged: MergedComponent, proposal: ClassProposal | undefined): Partial<Component> {
    const { at, atIs, rotation, side, pinCount } = merged;
    const pinout = pinoutOf(merged.pins);
    const fitted = this.#fitted(merged, proposal);
    const parts =
      merged.partNumber === undefined ? [] : this.#drafting.parts.find(merged.partNumber, merged.maker).parts;
    const listed =
      merged.partNumber !== undefined && parts.length === 0
        ? `listed as ${merged.partNumber}${merged.maker ? `, ${merged.maker}` : ''}`
        : undefined;
    const note = [listed, merged.description, merged.note]
      .filter((one) => one !== undefined && one !== '')
      .join('; ');
    return {
      ...(side ? { side } : {}),
      ...(at && atIs !== 'first pin' ? { at: { x: at[0], y: at[1] } } : {}),
      // A dossier counts as seen from the component's own side, the board turned over from left to right.
      ...(rotation === undefined
        ? {}
        : { rotation: side === 'bottom' ? tidyAngle(180 - rotation) : rotation }),
      ...(merged.body ? { body: merged.body } : {}),
      ...(merged.footprint ? { package: merged.footprint } : {}),
      ...(merged.value ? { value: merged.value } : {}),
      // What is not there has nothing printed on it, and the board's own words are none of a maker's.
      ...(merged.marking && fitted !== false ? { marking: merged.marking } : {}),
      ...(pinCount === undefined ? {} : { pins: pinCount }),
      ...(pinout.length > 0 ? { pinout: [...pinout] } : {}),
      ...(fitted === undefined ? {} : { fitted }),
      ...(note === '' ? {} : { note }),
      ...(proposal?.appears === undefined || fitted === false ? {} : { appears: proposal.appears }),
    };
  }

  /** What is placed and not on the list is not fitted, unless it is something of the board itself that no list names. */
  #fitted(merged: MergedComponent, proposal: ClassProposal | undefined): boolean | undefined {
    if (merged.fitted !== undefined) return merged.fitted ? undefined : false;
    if (!this.#board.hasList || !this.#board.hasPlaces || merged.listed === true) return undefined;
    const [likeliest] = proposal?.candidates ?? [];
    const isOfBoard =
      likeliest !== undefined &&
      (isUnder(likeliest.category, 'BoardFeature') || isUnder(likeliest.category, 'PrintedAntenna'));
    if (isOfBoard) return undefined;
    return false;
  }

  #compare(id: string, field: keyof Component, before: unknown, is: unknown): void {
    const told = (archive: string, files: string) =>
      this.#gathered.conflicts.push({ of: id, field, archive, files });
    switch (field) {
      case 'at': {
        const [a, b] = [before, is] as NonNullable<Component['at']>[];
        if (Math.hypot(a.x - b.x, a.y - b.y) > SAME_PLACE) told(`(${a.x}, ${a.y})`, `(${b.x}, ${b.y})`);
        return;
      }
      case 'value':
        if (sameValue(String(before), String(is)) !== true) told(String(before), String(is));
        return;
      case 'side':
      case 'fitted':
      case 'pins':
      case 'marking':
      case 'appears':
        if (String(before) !== String(is)) told(String(before), String(is));
        return;
      default:
      // Package names, remarks, measured bodies and pinouts are written in many ways; the archive's stay.
    }
  }

  #identify(
    merged: MergedComponent,
    component: Component,
    proposal: ClassProposal | undefined,
    id: string,
  ): void {
    if (this.#drafting.isIdentified(this.#board.id, merged.designator)) return;
    const found =
      merged.partNumber === undefined
        ? undefined
        : this.#drafting.parts.find(merged.partNumber, merged.maker);
    if (merged.partNumber !== undefined && found && found.parts.length > 0) {
      const odds = found.byMaker ? PART_ODDS.numberAndMaker : PART_ODDS.number;
      const probability = Math.floor((odds / found.parts.length) * 100) / 100;
      const candidates = found.parts.map((part) => ({ part, probability }));
      this.#set(id, candidates, `listed as ${merged.partNumber}`);
      for (const part of found.parts)
        this.#propose('part', id, `${part}, ${probability}`, `listed as ${merged.partNumber}`);
      return;
    }
    if (!proposal || component.appears !== undefined) return;
    if (saysNoMoreThanDesignator(proposal.candidates, proposal.hints)) {
      this.#unnamed.push(merged);
      return;
    }
    const because = byHints(proposal.hints);
    this.#set(
      id,
      proposal.candidates.map((one) => ({ ...one })),
      because,
    );
    this.#propose(
      'class',
      id,
      proposal.candidates.map(({ category, probability }) => `${category} ${probability}`).join(', '),
      because,
    );
  }

  #set(
    component: string,
    candidates: Dossier['identifications'][number]['candidates'],
    reason: string,
  ): void {
    this.#identifications.push({
      component,
      candidates,
      state: 'proposed',
      basis: [],
      reason: importReason(reason),
    });
  }

  #propose(kind: Proposal['kind'], of: string, proposed: string, because: string): void {
    this.#gathered.proposals.push({ kind, of, proposed, because });
  }
}

function tellMissing(
  dossier: Dossier,
  board: MergedBoard,
  unnamed: readonly MergedComponent[],
  { complete }: Drafting,
  { missing }: Gathered,
): void {
  const tell = (what: string, lacking: readonly MergedComponent[]) => {
    if (lacking.length > 0)
      missing.push({
        board: board.id,
        what,
        count: lacking.length,
        of: lacking.slice(0, 5).map(({ designator }) => designator),
      });
  };
  const { components } = board;
  const empty = new Set(
    dossier.components.flatMap((one) =>
      one.fitted === false && one.board === board.id ? [designatorOf(one.id)] : [],
    ),
  );
  const real = components.filter(({ designator }) => !empty.has(designator));
  const recorded = new Map(
    dossier.components.flatMap((one) =>
      one.board === board.id ? [[designatorOf(one.id), one] as const] : [],
    ),
  );
  const has = ({ designator }: MergedComponent) => recorded.get(designator);
  /** Whether the place on record is that of the files, and no other. */
  const isPlaced = (one: MergedComponent) => {
    const at = has(one)?.at;
    return at === undefined || (one.at !== undefined && at.x === one.at[0] && at.y === one.at[1]);
  };
  const hasPads = ({ pins }: MergedComponent) => pins.some(({ at }) => at !== undefined);
  if (!dossier.boards.find(({ id }) => id === board.id)?.outline)
    missing.push({ board: board.id, what: 'outline', count: 1, of: [] });
  const isListedAlone = ({ listed, files, at }: MergedComponent) =>
    board.hasPlaces && listed === true && at === undefined && files.length === 1;
  tell(
    'kind: by the files they are chips and no more; "caseback candidates" weighs what hangs on them',
    unnamed,
  );
  tell(
    'place',
    real.filter(
      (one) => one.at === undefined && has(one)?.at === undefined && !isListedAlone(one) && !hasPads(one),
    ),
  );
  tell(
    'place: the files have the places of pads alone, which are not taken for that of the component',
    real.filter((one) => one.at === undefined && has(one)?.at === undefined && hasPads(one)),
  );
  tell(
    'side',
    real.filter((one) => one.side === undefined && one.at !== undefined && has(one)?.side === undefined),
  );
  tell(
    'body',
    real.filter((one) => one.body === undefined && has(one)?.body === undefined),
  );
  tell(
    'middle of the body: the place is the origin of the footprint',
    real.filter((one) => one.atIs === 'origin' && isPlaced(one)),
  );
  tell(
    'middle of the body: the file does not say of what its places are',
    real.filter((one) => one.atIs === 'not said' && isPlaced(one)),
  );
  tell(
    'middle of the body: the place is that of the first pin, and is not taken',
    real.filter((one) => one.atIs === 'first pin' && has(one)?.at === undefined),
  );
  tell(
    'designator: letters, digits and _ $ + - after a capital letter; it is left out',
    components.filter(({ designator }) => !parseDesignator(designator)),
  );
  if (board.hasList) tell('place: on the bill of materials alone', components.filter(isListedAlone));
  else missing.push({ board: board.id, what: 'bill of materials', count: 1, of: [] });
  if (board.nets.length === 0 && !dossier.nets?.length)
    missing.push({ board: board.id, what: 'nets', count: 1, of: [] });
  else if (board.nets.length > 0 && !complete)
    missing.push({
      board: board.id,
      what: 'whether its nets are complete: whether this board is the one of the files; say --complete when it is',
      count: board.nets.length,
      of: [],
    });
}

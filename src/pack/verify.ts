import { correctionsIn } from '../evidence/corrections.ts';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';
import { type Compared, comparedWith, type Standing, type WithTables } from './compare.ts';
import { figureTable } from './figure-files.ts';
import { type FileFault, integrityOf } from './integrity.ts';
import { type FoundPack, isAsWritten } from './read-pack.ts';
import { type PackState, type Statement, statementOf } from './statement.ts';

/** A sentence or figure of a pack, as the archive has it now and had it then. */
export interface Verified extends Compared {
  /** Why it is no longer so: corrections, and entries for the desk. */
  readonly because: readonly string[];
  /** Whether it was so in the state that the pack names, as far as the audience sees it; null where that state cannot be told. */
  readonly stoodThen: Standing | null;
}

/** What became of a pack. */
export interface Verification {
  readonly publication: Statement['publication'] | null;
  readonly state: Statement['state'] | null;
  /** What is wrong with its files. */
  readonly faults: readonly FileFault[];
  /** Of a ZIP: whether it is, byte for byte, as Caseback writes it; null for a folder. */
  readonly isAsWritten: boolean | null;
  /** Sentences and figures, in the order of the pack. */
  readonly things: readonly Verified[];
  /** Sentences that the publication has now and the pack has not. */
  readonly added: readonly string[];
}

/** What a pack is held against. */
export interface Archives {
  /** The archive now. */
  readonly now: State;
  /** The archive in the state that the pack names; undefined where it cannot be told. */
  readonly before: State | undefined;
  /** More of why a sentence changed, for the desk. @param support ids of what supports it */
  reasons(support: readonly string[]): Promise<readonly string[]>;
}

/**
 * Holds a pack to its digests and to an archive.
 * @param archivesFor told what the pack says of its state
 * @throws the signal's reason
 */
export async function verified(
  pack: FoundPack,
  archivesFor: (state: Statement['state']) => Promise<Archives>,
  signal?: AbortSignal,
): Promise<Verification> {
  const { faults, statement } = integrityOf(pack.files);
  if (!statement) return { publication: null, state: null, faults, isAsWritten: null, things: [], added: [] };
  const { publication, state } = statement;
  const { now, before, reasons } = await archivesFor(state);
  const was: WithTables = {
    statement,
    table: (path) => {
      const content = pack.files.get(path);
      return content && Buffer.from(content).toString('utf8');
    },
  };
  const is = await withTables(now, publication.id, state, signal);
  const stood = before && (await withTables(before, publication.id, state, signal));
  const thenCompared = before && comparedWith(was, stood);
  const things: Verified[] = [];
  for (const [at, one] of comparedWith(was, is).entries()) {
    const support = statement.sentences.find(({ id }) => id === one.sentence)?.support ?? [];
    const because =
      one.standing === 'no-longer-so'
        ? [
            ...correctionsOf(now, one.sentence, state.instant),
            ...(await reasons(support.map(({ id }) => id))),
          ]
        : [];
    things.push({ ...one, because, stoodThen: thenCompared?.[at]?.standing ?? null });
  }
  const packed = new Set(statement.sentences.map(({ id }) => id));
  return {
    publication,
    state,
    faults,
    isAsWritten: pack.zip ? await isAsWritten({ ...pack, zip: pack.zip }, state.instant.slice(0, 10)) : null,
    things,
    added: (is?.statement.sentences ?? []).map(({ id }) => id).filter((id) => !packed.has(id)),
  };
}

/** Corrections after an instant that name a sentence, in words. */
function correctionsOf(view: State, sentence: string, since: string): readonly string[] {
  return correctionsIn(view)
    .filter(
      ({ on, publications }) =>
        on > since && publications.some(({ claims }) => claims.some(({ claim }) => claim === sentence)),
    )
    .map(({ id, on, summary, reason }) => `${id}, ${on.slice(0, 10)}: ${summary} ${reason}`);
}

/** What reads otherwise in one state than in an earlier one, of the sentences and figures that the earlier one has; with corrections since. */
export async function changesBetween(
  before: State,
  now: State,
  publication: string,
  state: PackState,
  signal?: AbortSignal,
): Promise<readonly (Compared & { readonly because: readonly string[] })[]> {
  const was = await withTables(before, publication, state, signal);
  if (!was) return [];
  return comparedWith(was, await withTables(now, publication, state, signal))
    .filter(({ standing }) => standing !== 'still-so')
    .map((one) => ({ ...one, because: correctionsOf(now, one.sentence, state.instant) }));
}

/** What a state says of a publication, with the tables of its figures; undefined where it sees no such publication. */
export async function withTables(
  view: State,
  publication: string,
  state: PackState,
  signal?: AbortSignal,
): Promise<WithTables | undefined> {
  try {
    const statement = await statementOf(view, publication, state, signal);
    const tables = new Map<string, string>();
    for (const { figures } of statement.sentences)
      for (const { table, figure } of figures) tables.set(table, await figureTable(view, figure, signal));
    return { statement, table: (path) => tables.get(path) };
  } catch (error) {
    if (error instanceof CasebackError && error.code === 'NOT_FOUND') return undefined;
    throw error;
  }
}

import type { Finding, HeldDossiers } from '../dossier/check/context.ts';
import { checkingDocuments } from '../dossier/check/rules.ts';
import { withPrintedIds, withUniqueIds } from '../dossier/component-ids.ts';
import { withDeviceId } from '../dossier/devices.ts';
import type { DossierDocument } from '../dossier/document/document.ts';
import { same } from '../dossier/document/same.ts';
import { limited } from '../dossier/limited.ts';
import { badFiles } from '../dossier/plan.ts';
import { recordProblems } from '../dossier/record-problems.ts';
import type { Steps } from '../dossier/steps.ts';
import type { BOARD_KINDS } from '../model/board.ts';
import { isPartialDate } from '../model/dates.ts';
import { type Dossier, dossierSchema } from '../model/dossier.ts';
import { SLUG } from '../model/identifiers.ts';
import { componentId, lastOfId, memberId, recordOfId } from '../model/ids.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import { differencesOf } from './difference.ts';
import { type Drafting, draftInto, type KnownParts } from './draft.ts';
import { type AssignedFile, type Merged, mergeFiles, slugOf } from './merge.ts';
import { componentLookup } from './pins.ts';
import type { TradeReport } from './report.ts';
import { boardCautions, twiceOnBoards } from './wrong-board.ts';

/** Trade files, and the specimen that they are of. */
export interface TradeImport {
  readonly files: readonly AssignedFile[];
  readonly device: string;
  /** Local id of the specimen. */
  readonly specimen: string;
  /** For a specimen that the archive does not have: when it was opened, and by whom. */
  readonly opened?: string;
  readonly openedBy?: string;
  /** Kind of boards that the dossier does not have yet. */
  readonly boardKind?: (typeof BOARD_KINDS)[number];
  /** Whether the files are known to be of this very board, so that its nets are complete. */
  readonly complete?: boolean;
  /** Whether to merge although traced connections or nets of the archive say otherwise; those stay as they are. */
  readonly despiteContradictions?: boolean;
}

export interface TradePlan {
  /** The dossier as it would be filed. */
  readonly document: DossierDocument;
  readonly report: TradeReport;
  /** Why it must not be written: contradictions that nobody allowed. */
  readonly refusal?: CasebackError;
}

/** Name under which problems of the drafted dossier are told. */
const DRAFT = 'drafted dossier';
/** Board of a device of which nothing says otherwise. */
const USUAL_BOARD = 'main';

/**
 * What trade files bring to the dossier of a specimen, without writing it; in steps.
 * @throws CasebackError BAD_FILE with every problem of every file; NOT_FOUND for a device that is not there; BAD_INPUT when it is
 * left open of which board a file is, or when a new specimen was opened
 */
export function* planningTradeImport(request: TradeImport, held: HeldDossiers): Steps<TradePlan> {
  const problems = request.files.flatMap(({ file }) => file.problems);
  if (problems.length > 0) throw badFiles(problems);
  const specimen = memberId(request.device, request.specimen);
  const filed = held.dossierAsFiled(specimen);
  const now = held.dossierNow(specimen) ?? filed;
  const before = filed ? withPrintedIds(withDeviceId(filed)) : newDossier(request, held);
  const merged = mergeFiles(request.files, boardOf(request, before));
  yield;
  const differences = now ? differencesOf(now, merged.boards) : [];
  yield;
  const drafting: Drafting = {
    boards: merged.boards,
    boardKind: request.boardKind ?? 'rigid',
    complete: request.complete ?? false,
    parts: knownParts(held),
    isIdentified: identifiedIn(now),
  };
  const draft = draftInto(before, drafting);
  yield;
  const document = checked(draft.dossier);
  yield;
  const changes = !filed || !same(withUniqueIds(before), document.dossier);
  const cautions = yield* newCautions(before, document, held);
  const report: TradeReport = {
    specimen,
    isNew: !filed,
    changes,
    files: fileReports(request.files, merged),
    boards: draft.boards,
    proposals: draft.proposals,
    missing: draft.missing,
    differences,
    conflicts: draft.conflicts,
    cautions: limited([
      ...request.files.flatMap(({ file }) => file.cautions),
      ...(now ? boardCautions(now, merged.boards) : []),
      ...twiceOnBoards(merged.boards),
      ...merged.cautions,
      ...cautions,
    ]),
  };
  const refusal = request.despiteContradictions ? undefined : refusalOf(report);
  return { document, report, ...(refusal ? { refusal } : {}) };
}

function newDossier({ device, specimen, opened, openedBy }: TradeImport, held: HeldDossiers): Dossier {
  if (!held.record('devices', device)) {
    const near = didYouMean(device, held.ids('devices'));
    throw new CasebackError('NOT_FOUND', `No device "${device}" is in the archive${near ? `; ${near}` : ''}`);
  }
  if (!SLUG.test(specimen))
    throw new CasebackError(
      'BAD_INPUT',
      `"${specimen}" is not a valid local id of a specimen; write for example "a"`,
    );
  if (opened === undefined || !isPartialDate(opened)) {
    const specimens = held.specimensOf(device).map(lastOfId);
    const others = specimens.length > 0 ? `, which has ${specimens.join(', ')}` : '';
    throw new CasebackError(
      'BAD_INPUT',
      `"${device}" has no specimen "${specimen}"${others}; for a new one say when it was opened, as 2026, 2026-04 or 2026-04-17`,
    );
  }
  return dossierSchema.parse({
    caseback: 'dossier/1',
    device,
    specimen: { id: specimen },
    // Until the bench has looked: files show neither the enclosure nor what lies off the boards.
    teardown: { on: opened, by: openedBy ?? 'unknown', recordedFrom: 'design-files' },
  });
}

/** Board of files that name none: the only one of the dossier, or the usual one of an empty one. */
function boardOf({ files }: TradeImport, { boards }: Dossier): string {
  for (const { board } of files) {
    if (board !== undefined && !SLUG.test(board))
      throw new CasebackError(
        'BAD_INPUT',
        `"${board}" is not a valid id of a board; write for example "${slugOf(board)}"`,
      );
  }
  if (boards.length < 2) return boards[0]?.id ?? USUAL_BOARD;
  const open = files.find(({ board, file }) => board === undefined && (file.boards?.length ?? 0) === 1);
  if (open) {
    throw new CasebackError(
      'BAD_INPUT',
      `The dossier has the boards ${boards.map(({ id }) => id).join(', ')}; say of which ${open.file.file} is: --board ${boards[0].id}, or --board ${boards[0].id}=FILE,${boards[1].id}=FILE for files of several`,
    );
  }
  return USUAL_BOARD;
}

/** The draft as a document, with every component under an id of its own. */
function checked(dossier: Dossier): DossierDocument {
  const read = dossierSchema.safeParse(dossier);
  if (!read.success) {
    const found = recordProblems(read.error.issues, dossier, dossierSchema, DRAFT);
    throw badFiles(found.map((problem) => ({ ...problem, file: DRAFT })));
  }
  return documentOf(withUniqueIds(read.data));
}

function documentOf(dossier: Dossier): DossierDocument {
  return { kind: 'dossier', file: DRAFT, locate: () => ({ line: 1, column: 1 }), dossier };
}

/** Cautions that the draft has and the dossier before had not. */
function* newCautions(
  before: Dossier,
  draft: DossierDocument,
  held: HeldDossiers,
): Steps<readonly Problem[]> {
  const cautions = function* (document: DossierDocument): Steps<readonly Finding[]> {
    const found = yield* checkingDocuments([document], held);
    return found.filter(({ severity }) => severity === 'caution');
  };
  const known = new Set((yield* cautions(documentOf(withUniqueIds(before)))).map(({ what }) => what));
  return (yield* cautions(draft)).flatMap(({ what, fix, path }) =>
    known.has(what) ? [] : [{ file: DRAFT, ...(path ? { path } : {}), what, ...(fix ? { fix } : {}) }],
  );
}

function identifiedIn(dossier: Dossier | undefined): Drafting['isIdentified'] {
  const identified = new Set(
    dossier?.identifications.flatMap(({ component, state }) => (state === 'withdrawn' ? [] : [component])),
  );
  const lookup = componentLookup(dossier?.components ?? []);
  return (board, designator) => {
    const found = lookup(componentId(board, designator));
    return found !== undefined && identified.has(found.id);
  };
}

/** Parts of the catalogue by number. */
function knownParts(held: HeldDossiers): KnownParts {
  const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  let byNumber: Map<string, string[]> | undefined;
  return {
    find(number, maker) {
      byNumber ??= Map.groupBy(held.ids('parts'), (id) => plain(lastOfId(id)));
      const parts = byNumber.get(plain(number)) ?? [];
      const wanted = maker === undefined ? undefined : plain(maker);
      const ofMaker = parts.filter((id) => {
        const record = held.record('makers', recordOfId(id));
        return (
          wanted !== undefined && (plain(recordOfId(id)) === wanted || plain(record?.name ?? '') === wanted)
        );
      });
      return ofMaker.length > 0 ? { parts: ofMaker, byMaker: true } : { parts, byMaker: false };
    },
  };
}

function fileReports(files: readonly AssignedFile[], { boards }: Merged): TradeReport['files'] {
  return files.map(({ file }) => ({
    file: file.file,
    format: file.format,
    boards: boards.flatMap((board) => (board.files.includes(file.file) ? [board.id] : [])),
    components: file.boards?.reduce((sum, { components }) => sum + components.length, 0) ?? 0,
    nets: file.boards?.reduce((sum, { nets }) => sum + nets.length, 0) ?? 0,
    understood: file.understood,
    columns: file.columns ?? [],
    ...(file.table ? { table: file.table } : {}),
  }));
}

function refusalOf({ specimen, differences }: TradeReport): CasebackError | undefined {
  const contradictions = differences.filter(({ kind }) => kind === 'contradiction');
  if (contradictions.length === 0) return undefined;
  const problems = contradictions.map(
    ({ what, file, line }): Problem => ({
      ...(file === undefined ? {} : { file }),
      ...(line === undefined ? {} : { line }),
      what,
      fix: 'correct the record or the file; or merge despite contradictions (--despite-contradictions), which leaves the record as it is',
    }),
  );
  const count = problems.length === 1 ? '1 contradiction' : `${problems.length} contradictions`;
  return new CasebackError(
    'CONFLICT',
    `${count} between the files and ${specimen}; nothing was written`,
    limited(problems),
  );
}

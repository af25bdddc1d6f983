import { anotherName, localAccount, localAccountFile, setLocalAccount } from '../../access/local-account.ts';
import { personName } from '../../access/names.ts';
import type { Archive } from '../../archive.ts';
import type { Journal } from '../../journal/journal.ts';
import type { SqliteOptions } from '../../journal/sqlite/journal.ts';
import type { Authorship } from '../../model/entry.ts';
import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import type { Format } from './answer.ts';
import {
  hasArchive,
  isUsualFolder,
  loginName,
  openKeptJournal,
  ownFolder,
  type Place,
  placeOf,
  written,
} from './data-folder.ts';
import { UsageError } from './exit.ts';
import { withProgress } from './journal-reading.ts';
import type { Options, Parsed, ValuesOf } from './options.ts';
import { photosOf } from './photos.ts';
import { snapshotPlace, spareNextReading } from './snapshot-place.ts';
import type { Terminal } from './terminal.ts';

/** What a running command gets: its arguments and options, and the archive once it asks for it. */
export class Call<O extends Options = Options> {
  readonly arguments: readonly string[];
  readonly options: ValuesOf<O>;
  /** Names of the options that were written, in camelCase. */
  readonly given: ReadonlySet<string>;
  readonly format: Format;
  readonly audience: Audience;
  /** Where `--as-of` is given: the instant, ISO 8601 in UTC with milliseconds. */
  readonly asOf: string | undefined;
  readonly terminal: Terminal;
  readonly #common: Parsed['options'];
  readonly #givesFigures: boolean;
  #place: Place | undefined;
  #archive: Promise<Archive> | undefined;
  #journal: Journal | undefined;
  /** The archive under `--key`. */
  #once: Archive | undefined;
  readonly #command: string;
  /** Data folder of the archive that the command changes. */
  #changed: string | undefined;

  constructor(parsed: Parsed, terminal: Terminal, command = '', givesFigures = false) {
    const { options } = parsed;
    this.#command = command;
    this.arguments = parsed.arguments;
    this.options = options as ValuesOf<O>;
    this.given = parsed.given;
    this.format = (options.format ?? 'text') as Format;
    this.audience = (options.audience ?? 'desk') as Audience;
    this.asOf = options.asOf as string | undefined;
    this.terminal = terminal;
    this.#givesFigures = givesFigures;
    this.#common = options;
    // Read where an entry is dated, in whatever store.
    if (options.allowClockLeap === true) process.env.CASEBACK_ALLOW_CLOCK_LEAP = '1';
  }

  /** The archive that the command is about: the one named, else one's own, else the demo. */
  get place(): Place {
    const { data, demo } = this.#common as { readonly data?: string; readonly demo?: boolean };
    this.#place ??= placeOf({ data, demo });
    return this.#place;
  }

  /** Where one's own archive lies, or would: the folder of `--data`, else the usual one. */
  get ownFolder(): string {
    return ownFolder(this.#common.data as string | undefined);
  }

  /** Whether nobody has said where one's own archive lies. */
  get isUsualFolder(): boolean {
    return isUsualFolder(this.#common.data as string | undefined);
  }

  get hasArchive(): boolean {
    return this.place.database !== undefined || hasArchive(this.place.folder);
  }

  /**
   * The archive, opened when first asked for and closed behind the command; with `--as-of` as it was then. Markings are
   * read by the confusion table of the option or the data folder.
   * @throws CasebackError NOT_FOUND when there is none
   */
  archive(): Promise<Archive> {
    this.#archive ??= this.#open();
    return this.#archive;
  }

  /**
   * The archive, to change it. With `--key` a change that was made before under that key is not made again: then it is the archive as
   * that change found it, and what is asked of it gives the same answer.
   * @param asked what a repeat must be equal in, beside the arguments and options: content of files
   * @throws UsageError for a key that is none; CasebackError CONFLICT for one that was used for another change
   */
  async changing(asked?: unknown): Promise<Archive> {
    this.#once ??= await this.keyed(await this.archive(), asked);
    return this.#once;
  }

  /** The same for an archive that the command has opened itself. */
  async keyed(archive: Archive, asked?: unknown): Promise<Archive> {
    const key = this.#common.key as string | undefined;
    if (key === undefined || this.#common.dryRun === true) return archive;
    if (!/^[\x20-\x7e]{1,200}$/u.test(key))
      throw new UsageError('--key is not a key; write 1 to 200 plain characters, such as a UUID');
    const { keyOf } = await import('../../service/server/idempotency-key.ts');
    const said = Object.entries(this.#common).filter(([name]) => !NO_PART_OF_A_CHANGE.has(name));
    const change = [this.#command, this.arguments, Object.fromEntries(said), asked ?? null];
    const once = archive.keyed(keyOf(this.actor(), key), JSON.parse(JSON.stringify(change, withMaps)));
    this.#once = once;
    await once.replayKeyed();
    return once;
  }

  /** What the command's audience may see. */
  async view(): Promise<State> {
    return (await this.archive()).state(this.audience);
  }

  /**
   * The journal of the archive, closed behind the command.
   * @param options how it is opened, in place of what the command line says
   * @throws CasebackError NOT_FOUND when there is none
   */
  journal(options?: SqliteOptions): Journal {
    this.#journal ??= this.#kept(options);
    return this.#journal;
  }

  /**
   * Who makes a change and why. Whoever works on the machine has one name in an archive: the first that was written (`--actor`,
   * "people local"), before that the login name.
   * @param otherwise the reason when none is given; without it a reason must be given
   * @param folder data folder of the archive that is changed
   * @throws UsageError when name or reason is missing; CasebackError CONFLICT for another name than the one that is set,
   * BAD_INPUT for what cannot be a name
   */
  authorship(otherwise?: string, folder = this.place.folder): Authorship {
    const actor = this.actor(folder);
    this.#changed = folder;
    const reason = ((this.#common.reason as string | undefined) ?? otherwise ?? '').trim();
    if (reason === '') throw new UsageError('--reason is missing; say why, it is kept in the journal');
    return { actor, reason };
  }

  /**
   * The name under which changes on this machine are journaled.
   * @throws as {@link authorship}
   */
  actor(folder = this.place.folder): string {
    const given = this.#common.actor as string | undefined;
    if (given?.trim() === '')
      throw new UsageError('--actor is empty; write the name of who makes the change');
    const set = localAccount(folder);
    if (set === undefined) return personName(given ?? loginName());
    if (given !== undefined && personName(given) !== set.name) throw anotherName(set.name);
    return set.name;
  }

  /** Keeps the name that a change was made under, where one was written and none is set. */
  keepActor(folder = this.#changed): void {
    const given = this.#common.actor as string | undefined;
    if (given === undefined || folder === undefined) return;
    // What an archive in a database has beside it lies in the folder, too.
    if (this.place.database === undefined && !hasArchive(folder)) return;
    if (this.#common.dryRun === true || localAccount(folder) !== undefined) return;
    const { name } = setLocalAccount(folder, given, new Date());
    this.terminal.message(
      `From now on changes made on this machine are in the journal under the name ${name} (${written(localAccountFile(folder))})\n`,
    );
  }

  /** Closes what was opened. */
  async close(): Promise<void> {
    if (this.#common.allowClockLeap === true) delete process.env.CASEBACK_ALLOW_CLOCK_LEAP;
    this.#once?.release();
    const archive = await this.#archive?.catch(() => undefined);
    if (archive) {
      await spareNextReading(archive);
      await archive.close();
    }
    await this.#journal?.close();
  }

  /** Figures of the desk may count what readers may not learn of; whoever publishes one should know. */
  async #tellHidden(archive: Archive): Promise<void> {
    if (!this.#givesFigures || this.given.has('audience') || this.place.isDemo) return;
    const { unseenByReaders } = await import('../../questions/summary.ts');
    const count = unseenByReaders(archive.state('desk'));
    if (count > 0)
      this.terminal.message(
        `Drafts and embargoed records count here (${count}), which readers do not see; --audience reader leaves them out\n`,
      );
  }

  #kept(options: SqliteOptions = this.#opening()): Journal {
    const journal = openKeptJournal(this.place, options);
    const { folder, isDemo, isNamed } = this.place;
    if (isDemo && !isNamed)
      this.terminal.message(
        `The invented demo archive, ${written(folder)}; an import or "caseback create-archive" begins your own\n`,
      );
    return journal;
  }

  #opening(): SqliteOptions {
    const warn = (message: string) => this.terminal.message(`${message}\n`);
    return { warn, whatIsWhole: this.#common.whatIsWhole === true };
  }

  async #open(): Promise<Archive> {
    const { asOf } = this;
    const { folder } = this.place;
    // Loaded here, so that what needs no archive does without.
    const [{ Archive }, { confusionFor, followConfusion }] = await Promise.all([
      import('../../archive.ts'),
      import('./confusion.ts'),
    ]);
    const confusion = confusionFor(folder, this.#common.confusion as string | undefined);
    if (this.#common.demo === true && !this.hasArchive)
      await (await import('./new-archive.ts')).makeDemo(folder, this.terminal);
    const kept = this.#kept();
    const journal = withProgress(kept);
    // Of a damaged journal the snapshot may hold what is behind the damage.
    const snapshot = this.#common.whatIsWhole === true ? undefined : snapshotPlace(folder, [], this.terminal);
    const archive =
      asOf === undefined
        ? await Archive.open(journal, undefined, snapshot, photosOf(this.place))
        : await openAsOf(Archive.openAsOf, journal, asOf);
    followConfusion(archive, confusion);
    await this.#tellHidden(archive);
    return archive;
  }
}

/** Options by which one change is no other. */
const NO_PART_OF_A_CHANGE = new Set(['key', 'actor', 'data', 'demo', 'format', 'help', 'allowClockLeap']);

function withMaps(_: string, value: unknown): unknown {
  return value instanceof Map ? [...value] : value;
}

/** @throws UsageError for an instant before there was anything */
async function openAsOf(open: typeof Archive.openAsOf, journal: Journal, asOf: string): Promise<Archive> {
  try {
    return await open(journal, asOf);
  } catch (error) {
    if (error instanceof CasebackError && error.code === 'BAD_INPUT')
      throw new UsageError(`--as-of: ${error.message}`);
    throw error;
  }
}

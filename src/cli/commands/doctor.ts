import { accessSync, constants, existsSync, readdirSync, statfsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { LOCAL_ACCOUNT_FIX, localAccount, localAccountFile } from '../../access/local-account.ts';
import type { Journal } from '../../journal/journal.ts';
import { examine } from '../../journal/verify.ts';
import { CasebackError } from '../../model/problems.ts';
import { examinePhotos } from '../../photos/verify.ts';
import { modelDigest } from '../../snapshot/model-digest.ts';
import { SnapshotFile } from '../../snapshot/snapshot-file.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { hasArchive, journalFile, openKeptJournal, type Place, written } from '../frame/data-folder.ts';
import { writtenPlace } from '../frame/database.ts';
import { EXIT } from '../frame/exit.ts';
import { flag } from '../frame/options.ts';
import { photosOf } from '../frame/photos.ts';
import { snapshotFile } from '../frame/snapshot-place.ts';

/** How a finding stands: fine; worth a look; wrong. */
type Standing = 'fine' | 'caution' | 'wrong';

/** One thing that was looked at. */
interface Finding {
  readonly about: string;
  readonly standing: Standing;
  readonly says: string;
  /** What to do, where something is not fine. */
  readonly fix?: string;
}

const MIB = 1024 * 1024;
/** Faults of a journal that are listed; "caseback verify" lists all. */
const MOST_FAULTS = 10;
/** Free space below which the disk is nearly full. */
const LITTLE_SPACE = 256 * MIB;
/** A log that grows beyond this was not put into the database for long. */
const LARGE_LOG = 256 * MIB;
/** How far the last entry may lie ahead of the clock. */
const AHEAD = 60_000;

export const command = defineCommand({
  name: 'doctor',
  about:
    'Looks at the archive and everything around it, and says in plain words what is there, what is wrong and what to do: program, folder, disk, journal, clock, snapshot and leftover files. It changes nothing of them. Exit code 0 when nothing is wrong, 3 otherwise. --quick leaves out the check of every entry, which takes about a second for 10,000.',
  options: { quick: flag('do not read every entry') },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['doctor', 'doctor --data ./data --quick'],

  async run(call) {
    const { folder, isDemo, database } = call.place;
    const findings = [program()];
    findings.push({
      about: 'archive',
      standing: 'fine',
      says: `${writtenPlace(call.place)}, ${isDemo ? 'the invented demo archive' : 'your own archive'}`,
    });
    findings.push(...folderOf(folder));
    if (existsSync(folder)) findings.push(accountOf(folder));
    if (database !== undefined || hasArchive(folder)) {
      if (database === undefined) findings.push(logOf(folder));
      findings.push(
        ...(await journalOf(call.place, call.options.quick)),
        ...(await photosOfPlace(call.place, call.options.quick)),
        await snapshotOf(call.place),
      );
      if (existsSync(folder)) findings.push(...leftovers(folder));
    } else
      findings.push({
        about: 'journal',
        standing: 'caution',
        says: 'there is none yet',
        fix: isDemo
          ? '"npm start" makes the demo archive, "caseback create-archive" or an import your own'
          : '"caseback create-archive" or an import makes one; "caseback restore" brings one back',
      });
    const isWrong = findings.some(({ standing }) => standing === 'wrong');
    return {
      text: () =>
        `${findings.map(inWords).join('')}${isWrong ? 'Something is wrong; what to do stands beside it.' : 'Nothing is wrong.'}\n`,
      json: () => ({ folder, isWell: !isWrong, findings }),
      exit: isWrong ? EXIT.damaged : EXIT.fine,
    };
  },
});

const MARKS: Readonly<Record<Standing, string>> = {
  fine: 'ok      ',
  caution: 'caution ',
  wrong: 'WRONG   ',
};

function inWords({ about, standing, says, fix }: Finding): string {
  return `${MARKS[standing]}${about.padEnd(10)}${says}\n${fix === undefined ? '' : `${' '.repeat(18)}-> ${fix}\n`}`;
}

function program(): Finding {
  return {
    about: 'program',
    standing: 'fine',
    says: `Node ${process.versions.node} on ${process.platform} ${process.arch}, SQLite ${process.versions.sqlite ?? 'of Node'}`,
  };
}

/** Whether the folder can be used, and how much its disk has left. */
function folderOf(folder: string): Finding[] {
  if (!existsSync(folder)) return [];
  const about = 'folder';
  const may = (mode: number) => {
    try {
      accessSync(folder, mode);
      return true;
    } catch {
      return false;
    }
  };
  const found: Finding[] = [];
  if (!may(constants.R_OK | constants.X_OK))
    found.push({
      about,
      standing: 'wrong',
      says: 'you may not read it',
      fix: 'run the command as the user who owns it, or change its permissions',
    });
  else if (!may(constants.W_OK))
    found.push({
      about,
      standing: 'caution',
      says: 'you may read it and not write to it',
      fix: 'questions can be asked; to change the archive, run as the user who owns it',
    });
  else found.push({ about, standing: 'fine', says: 'can be read and written' });
  const { bavail, bsize } = statfsSync(folder);
  const free = bavail * bsize;
  const isLittle = free < LITTLE_SPACE;
  found.push({
    about: 'disk',
    standing: isLittle ? 'caution' : 'fine',
    says: `${Math.floor(free / MIB).toLocaleString('en')} MiB free`,
    ...(isLittle ? { fix: 'free some space; what does not fit is refused, and nothing is lost' } : {}),
  });
  return found;
}

/** Under which name changes on this machine are journaled. */
function accountOf(folder: string): Finding {
  const about = 'account';
  try {
    const account = localAccount(folder);
    const says = account
      ? `changes on this machine are journaled under the name ${account.name}`
      : 'changes on this machine are journaled under the login name; none is set';
    return { about, standing: 'fine', says };
  } catch (error) {
    if (!(error instanceof CasebackError)) throw error;
    const says = error.message.replace(`; ${LOCAL_ACCOUNT_FIX}`, '');
    return {
      about,
      standing: 'wrong',
      says: `${says.replace(localAccountFile(folder), written(localAccountFile(folder)))}: nothing can be changed on this machine, while questions are answered`,
      fix: LOCAL_ACCOUNT_FIX,
    };
  }
}

function logOf(folder: string): Finding {
  const log = `${journalFile(folder)}-wal`;
  const size = existsSync(log) ? statSync(log).size : 0;
  const isLarge = size > LARGE_LOG;
  return {
    about: 'log',
    standing: isLarge ? 'caution' : 'fine',
    says:
      size === 0
        ? 'none: everything is in the journal'
        : `${Math.ceil(size / 1024).toLocaleString('en')} KiB`,
    ...(isLarge
      ? { fix: 'stop the service once, so that it goes into the journal; never delete it, it holds entries' }
      : {}),
  };
}

async function journalOf(place: Place, isQuick: boolean): Promise<Finding[]> {
  const about = 'journal';
  const damaged = (says: string): Finding => ({
    about,
    standing: 'wrong',
    says,
    fix: '"caseback restore" makes the archive of a backup again, in another folder; keep this one until that is done',
  });
  let journal: Journal | undefined;
  try {
    // Damaged or not, what is there is to be checked, unless it is to be quick: then opening says what is wrong.
    const notes: string[] = [];
    journal = openKeptJournal(place, { whatIsWhole: !isQuick, warn: (note) => notes.push(note) });
    const { sequence, hash } = await journal.head();
    const found = isQuick ? undefined : await examine(journal);
    const { faults = [], damage = [] } = found ?? {};
    const wrong = [
      ...faults.map(({ first, last, why }) =>
        first === last ? `entry ${first} ${why}` : `entries ${first} to ${last}, each of which ${why}`,
      ),
      ...damage,
    ];
    if (wrong.length > 0) return wrong.slice(0, MOST_FAULTS).map(damaged);
    const how = isQuick ? 'not checked entry by entry' : 'each entry with the hash that it should have';
    const says = `${counted(sequence, 'entry', 'entries')}, ${how}; the last is ${hash.slice(0, 16)}…`;
    const told = notes.map((note): Finding => ({ about, standing: 'caution', says: note }));
    return [{ about, standing: 'fine', says }, ...told, ...(await clockOf(journal, sequence))];
  } catch (error) {
    if (!(error instanceof CasebackError)) throw error;
    if (error.code === 'DAMAGED_JOURNAL') return [damaged(error.message)];
    return [{ about, standing: 'wrong', says: error.message, fix: 'see the reason; nothing is lost by it' }];
  } finally {
    await journal?.close();
  }
}

/** Whether the file of every photo is there, and what was kept. */
async function photosOfPlace(place: Place, isQuick: boolean): Promise<Finding[]> {
  const about = 'photos';
  let journal: Journal | undefined;
  try {
    journal = openKeptJournal(place, { whatIsWhole: !isQuick, warn: () => undefined });
    const { whole, damage, notes } = await examinePhotos(journal, photosOf(place).store, !isQuick);
    const how = isQuick ? 'each file there, not read' : 'each file with the digest on record';
    return [
      ...damage.slice(0, MOST_FAULTS).map(
        (says): Finding => ({
          about,
          standing: 'wrong',
          says,
          fix: 'bring the same file in again (PUT /photos/ID, or an import of its dossier with the file beside it), or take it out of a backup',
        }),
      ),
      ...(whole > 0 ? [{ about, standing: 'fine', says: `${whole}, ${how}` } as const] : []),
      ...notes.map((says): Finding => ({ about, standing: 'fine', says })),
    ];
  } catch (error) {
    if (!(error instanceof CasebackError)) throw error;
    // What is wrong with the journal is said beside it.
    return [];
  } finally {
    await journal?.close();
  }
}

async function clockOf(journal: Journal, last: number): Promise<Finding[]> {
  if (last === 0) return [];
  for await (const [entry] of journal.readStored({ after: last - 1, batchSize: 1 })) {
    const isAhead = Date.parse(entry.instant) > Date.now() + AHEAD;
    return [
      {
        about: 'clock',
        standing: isAhead ? 'caution' : 'fine',
        says: isAhead
          ? `says ${new Date().toISOString()}, and the last entry is of ${entry.instant}`
          : `the last entry is of ${entry.instant}`,
        ...(isAhead
          ? {
              fix: 'set the clock of this machine; "caseback correct-clock" dates entries that a wrong clock dated',
            }
          : {}),
      },
    ];
  }
  return [];
}

async function snapshotOf(place: Place): Promise<Finding> {
  const about = 'snapshot';
  const file = snapshotFile(place.folder);
  if (!existsSync(file))
    return { about, standing: 'fine', says: 'none; one is made of archives that take long to read' };
  const caution = (says: string): Finding => ({
    about,
    standing: 'caution',
    says: `is not used: ${says}`,
    fix: 'nothing: it follows from the journal, and the service makes a new one',
  });
  let opened: SnapshotFile | undefined;
  let journal: Journal | undefined;
  try {
    opened = new SnapshotFile(file);
    const { header } = opened;
    for (const [name] of header.sections) opened.bytes(name);
    if (header.model !== modelDigest()) return caution('another version of the program made it');
    journal = openKeptJournal(place);
    const { refusalOf } = await import('../../snapshot/snapshot.ts');
    const refusal = await refusalOf(header, journal);
    if (refusal !== undefined) return caution(refusal);
    const behind = (await journal.head()).sequence - header.sequence;
    const mib = Math.ceil(statSync(file).size / MIB);
    return {
      about,
      standing: 'fine',
      says: `of ${header.madeOn}, ${mib} MiB, ${behind === 0 ? 'with every entry' : `${counted(behind, 'entry', 'entries')} behind`}`,
    };
  } catch (error) {
    return caution((error as Error).message);
  } finally {
    opened?.close();
    await journal?.close().catch(() => undefined);
  }
}

/** Files that something which was ended half way has left. */
function leftovers(folder: string): Finding[] {
  const left = readdirSync(folder).filter((name) => /\.(?:part|restoring)-\d+|^\.snapshot-/u.test(name));
  if (left.length === 0) return [];
  return [
    {
      about: 'leftovers',
      standing: 'caution',
      says: `${left.slice(0, 3).join(', ')}${left.length > 3 ? ` and ${left.length - 3} more` : ''}, of a process that was ended half way or still runs`,
      fix: `once nothing runs on ${written(folder)}, delete them: ${join(written(folder), left[0] as string)}`,
    },
  ];
}

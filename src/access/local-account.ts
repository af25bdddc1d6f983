import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { CasebackError } from '../model/problems.ts';
import { personName } from './names.ts';
import type { Who } from './roles.ts';

/** Whoever works on the machine itself: the command line, and a desk that is served to this machine alone. */
export interface LocalAccount {
  readonly name: string;
  /** When the name was set, ISO 8601 in UTC. */
  readonly set: string;
}

const FORM = z.strictObject({ name: z.string(), set: z.iso.datetime() });

/** The file that has the name, in the data folder. */
export function localAccountFile(folder: string): string {
  return join(folder, 'local-account.json');
}

/**
 * The account of the machine for a data folder; undefined before its name is set.
 * @throws CasebackError BAD_FILE when the file is not what we wrote
 */
export function localAccount(folder: string): LocalAccount | undefined {
  const file = localAccountFile(folder);
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    const { code = '' } = error as NodeJS.ErrnoException;
    if (['ENOENT', 'ENOTDIR'].includes(code)) return undefined;
    throw unreadable(file, `cannot be read (${code})`);
  }
  const read = FORM.safeParse(jsonIn(text));
  if (!read.success)
    throw unreadable(file, text.trim() === '' ? 'is empty' : 'does not say who works here, and since when');
  try {
    return { ...read.data, name: personName(read.data.name) };
  } catch (error) {
    throw unreadable(file, `has a name that cannot be one (${(error as Error).message})`);
  }
}

/** What to do where the file cannot be read. */
export const LOCAL_ACCOUNT_FIX =
  'delete it and set the name anew with "caseback people local NAME", the name that your changes have in the journal; a service that runs is to be started again';

function unreadable(file: string, what: string): CasebackError {
  return new CasebackError('BAD_FILE', `${file} ${what}; ${LOCAL_ACCOUNT_FIX}`);
}

/**
 * The name that `name` gives, or why there is none where the file with it cannot be read: who has none asks, and changes nothing.
 * @throws what `name` throws otherwise
 */
export function nameOrWhyNot(name: () => string): Pick<Who, 'name' | 'nameless'> {
  try {
    return { name: name() };
  } catch (error) {
    if (!(error instanceof CasebackError) || error.code !== 'BAD_FILE') throw error;
    return { name: undefined, nameless: error.message };
  }
}

/**
 * Sets the name of whoever works on the machine, once and for all.
 * @throws CasebackError BAD_INPUT for what cannot be a name; CONFLICT when another one is set
 */
export function setLocalAccount(folder: string, written: string, now: Date): LocalAccount {
  const account = { name: personName(written), set: now.toISOString() };
  mkdirSync(folder, { recursive: true });
  try {
    // Exclusive, so that of two that set it at once one finds the other's.
    writeFileSync(localAccountFile(folder), `${JSON.stringify(account)}\n`, { flag: 'wx' });
    return account;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
  const before = localAccount(folder);
  if (before?.name === account.name) return before;
  throw anotherName(before?.name ?? '');
}

/** What is said to whoever writes another name than the one that was set. */
export function anotherName(name: string): CasebackError {
  return new CasebackError(
    'CONFLICT',
    `changes made on this machine are in the journal under the name "${name}", which was set once; others sign in to a service with accounts of their own ("caseback people")`,
  );
}

function jsonIn(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

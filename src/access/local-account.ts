import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { CasebackError } from '../model/problems.ts';
import { personName } from './names.ts';

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
    if (['ENOENT', 'ENOTDIR'].includes((error as NodeJS.ErrnoException).code ?? '')) return undefined;
    throw error;
  }
  const read = FORM.safeParse(jsonIn(text));
  if (read.success) return { ...read.data, name: personName(read.data.name) };
  throw new CasebackError(
    'BAD_FILE',
    `${file} does not say who works here; write {"name": "…", "set": "2026-01-31T09:00:00Z"} with the name that the journal has`,
  );
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

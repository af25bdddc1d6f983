import { createHash } from 'node:crypto';
import { z } from 'zod';
import { STATEMENT } from './contents.ts';
import { DIGESTS, encodedPath, METADATA } from './metadata.ts';
import { type Statement, statementSchema } from './statement.ts';

/** What is wrong with a file of a pack. */
export interface FileFault {
  readonly path: string;
  readonly fault: 'damaged' | 'missing' | 'extra';
  readonly message: string;
}

/** Whether the files of a pack are as they were made, and what it says if that can be read. */
export interface Integrity {
  readonly faults: readonly FileFault[];
  /** Undefined where the file that has it is missing or damaged. */
  readonly statement: Statement | undefined;
}

/** Holds files to the list of digests and to the metadata. */
export function integrityOf(files: ReadonlyMap<string, Uint8Array>): Integrity {
  const faults = new Map<string, FileFault>();
  const add = (path: string, fault: FileFault['fault'], message: string) => {
    if (!faults.has(path)) faults.set(path, { path, fault, message });
  };
  const listed = digestsIn(files.get(DIGESTS));
  if (listed === undefined)
    add(
      DIGESTS,
      files.has(DIGESTS) ? 'damaged' : 'missing',
      'without it nobody can tell whether the other files are whole',
    );
  for (const [path, sha256] of listed ?? []) {
    const content = files.get(path);
    if (content === undefined) add(path, 'missing', `${DIGESTS} lists it`);
    else if (digestOf(content) !== sha256) add(path, 'damaged', `its SHA-256 is not that of ${DIGESTS}`);
  }
  for (const path of files.keys())
    if (listed && path !== DIGESTS && !listed.has(path)) add(path, 'extra', `${DIGESTS} does not list it`);
  const described = filesDescribed(files.get(METADATA));
  if (described === undefined)
    add(METADATA, files.has(METADATA) ? 'damaged' : 'missing', 'it is not the metadata of a pack');
  for (const [path, { sha256, size }] of described ?? []) {
    const content = files.get(path);
    if (content === undefined) add(path, 'missing', `${METADATA} describes it`);
    else if ((sha256 ?? digestOf(content)) !== digestOf(content) || size !== String(content.length))
      add(path, 'damaged', `its SHA-256 or size is not that of ${METADATA}`);
  }
  const statement = statementIn(files.get(STATEMENT));
  if (typeof statement === 'string') add(STATEMENT, files.has(STATEMENT) ? 'damaged' : 'missing', statement);
  return {
    faults: [...faults.values()].sort((a, b) => (a.path < b.path ? -1 : 1)),
    statement: typeof statement === 'string' || faults.has(STATEMENT) ? undefined : statement,
  };
}

/** Digests by path; undefined where it is no such list. */
function digestsIn(content: Uint8Array | undefined): ReadonlyMap<string, string> | undefined {
  if (content === undefined) return undefined;
  const text = Buffer.from(content).toString('utf8');
  const lines = text.split('\n');
  if (lines.pop() !== '') return undefined;
  const digests = new Map<string, string>();
  for (const line of lines) {
    const [, sha256, path] = /^([0-9a-f]{64}) {2}(\S.*)$/u.exec(line) ?? [];
    if (sha256 === undefined || path === undefined || digests.has(path)) return undefined;
    digests.set(path, sha256);
  }
  return digests;
}

function digestOf(content: Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

const crateSchema = z.object({
  '@graph': z.array(
    z.object({
      '@id': z.string(),
      '@type': z.union([z.string(), z.array(z.string())]),
      sha256: z.string().optional(),
      contentSize: z.string().optional(),
    }),
  ),
});

interface Described {
  readonly sha256: string | undefined;
  readonly size: string | undefined;
}

/** Files that the metadata describes as being here, by path; undefined where it is none. */
function filesDescribed(content: Uint8Array | undefined): ReadonlyMap<string, Described> | undefined {
  const read = crateSchema.safeParse(jsonIn(content));
  if (!read.success) return undefined;
  const files = new Map<string, Described>();
  for (const { '@id': id, '@type': type, sha256, contentSize: size } of read.data['@graph'])
    if ([type].flat().includes('File') && !id.startsWith('#')) files.set(pathOf(id), { sha256, size });
  return files;
}

function pathOf(id: string): string {
  try {
    const path = decodeURIComponent(id);
    return encodedPath(path) === id ? path : id;
  } catch {
    return id;
  }
}

/** What a pack says; or why it cannot be read. */
function statementIn(content: Uint8Array | undefined): Statement | string {
  if (content === undefined) return 'without it nothing can be calculated again';
  const read = statementSchema.safeParse(jsonIn(content));
  if (read.success) return read.data;
  const [{ path, message }] = read.error.issues;
  return `it is not what a pack says of a publication: ${path.join('.') || 'it'} ${message}`;
}

function jsonIn(content: Uint8Array | undefined): unknown {
  try {
    return content && JSON.parse(Buffer.from(content).toString('utf8'));
  } catch {
    return undefined;
  }
}

import { hash } from 'node:crypto';
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { threadId } from 'node:worker_threads';

// Tables of the program that are written in YAML. Reading them is a quarter of loading the program, so that what comes of each is
// kept as JSON beside what Node compiles, under the digest of its text and of the reader: another text has another name, and none can
// be out of date. What cannot be kept, or is damaged, is read anew.

const require = createRequire(import.meta.url);
const MODULES = new URL('../../node_modules/', import.meta.url);
const FOLDER = fileURLToPath(new URL('.cache/caseback/tables/', MODULES));
/** Characters of a SHA-256 in hexadecimal. */
const DIGEST = 64;

let reader: string | undefined;

/**
 * What a YAML file of the program holds.
 * @throws YAMLParseError for one that is not YAML; an error of the system for one that cannot be read
 */
export function readYamlFile(file: URL): unknown {
  const text = readFileSync(file, 'utf8');
  const kept = placeOf(basename(fileURLToPath(file)), text);
  const known = kept === undefined ? undefined : jsonIn(kept);
  if (known !== undefined) return known;
  const content = parseYaml(text);
  if (kept !== undefined) keep(kept, content);
  return content;
}

/**
 * What a YAML text holds. The package that reads it is loaded when the first is read.
 * @throws YAMLParseError
 */
export function parseYaml(text: string): unknown {
  const { parse } = require('yaml') as typeof import('yaml');
  return parse(text);
}

/** Where the content of a text is kept; undefined where the package that reads it is not in its usual place. */
function placeOf(name: string, text: string): string | undefined {
  try {
    reader ??= readFileSync(new URL('yaml/package.json', MODULES), 'utf8');
  } catch {
    return undefined;
  }
  return join(FOLDER, `${name}-${hash('sha256', `${reader}\0${text}`).slice(0, DIGEST / 2)}.json`);
}

/** The content that is kept at a place; undefined without it, and where it is not what was written. */
function jsonIn(place: string): unknown {
  try {
    const written = readFileSync(place, 'utf8');
    const json = written.slice(DIGEST);
    return hash('sha256', json) === written.slice(0, DIGEST) ? JSON.parse(json) : undefined;
  } catch {
    return undefined;
  }
}

/** Keeps content that JSON holds as it is. Others may do the same at this moment. */
function keep(place: string, content: unknown): void {
  const part = `${place}.part-${process.pid}-${threadId}`;
  try {
    const json = JSON.stringify(content);
    if (!isDeepStrictEqual(JSON.parse(json), content)) return;
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(part, hash('sha256', json) + json);
    renameSync(part, place);
  } catch {
    // The next start reads the text again.
    rmSync(part, { force: true });
  }
}

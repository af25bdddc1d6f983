import { readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { NOT_OF_STATE } from '../../src/api-schema/question.ts';
import { COMMAND_NAMES } from '../../src/cli/command-line.ts';
import { NOTHING_HELD } from '../../src/dossier/check/context.ts';
import { checkDocuments } from '../../src/dossier/check/rules.ts';
import { patternSql } from '../../src/questions/mirror.ts';
import { documentOf } from '../dossier/files.ts';
import { caseback, Folder } from './running.ts';

// Every example of the guide is run on the invented demo archive, in this process, and must give what the guide shows: its lines in the
// same order. A line of "…" stands for any lines, "…" at the end of a line for any rest of it.

const ROOT = join(import.meta.dirname, '../..');

interface Example {
  readonly words: readonly string[];
  readonly shown: readonly string[];
}

const folder = new Folder();
const cwd = folder.path;
beforeAll(async () => {
  // Examples name files of the demo archive as they lie beside the guide.
  symlinkSync(join(ROOT, 'seed-data'), join(cwd, 'seed-data'));
  const { code, err } = await caseback(['components', 'tarn-sennit-3', '--demo'], { cwd });
  if (code !== 0) throw new Error(err);
});
afterAll(() => folder.remove());

function examplesOf(guide: string): readonly Example[] {
  const blocks = [...guide.matchAll(/^ *```console\n(.*?)^ *```/gmsu)].map(([, block]) => block);
  return blocks.flatMap((block) =>
    block
      .split(/^\$ caseback /mu)
      .slice(1)
      .map((text) => {
        const { words, rest } = wordsOf(text);
        return { words, shown: rest.split('\n').filter((line) => line.trim() !== '') };
      }),
  );
}

/** Words of a command line as a shell separates them, to the end of its line, a comment left out; and what follows. */
function wordsOf(text: string): { readonly words: readonly string[]; readonly rest: string } {
  const words: string[] = [];
  const word = / *(?:'([^']*)'|"([^"]*)"|(#[^\n]*)|([^\s'"]+))/uy;
  for (;;) {
    const { lastIndex } = word;
    const [, single, double, comment, plain] = word.exec(text) ?? [];
    const read = single ?? double ?? plain;
    if (read !== undefined) words.push(read);
    else if (comment === undefined) return { words, rest: text.slice(text.indexOf('\n', lastIndex) + 1) };
  }
}

/** Blanks and rules of a table by their being there, not by their length. */
const squeezed = (line: string) => line.replaceAll(/-{2,}/gu, '--').replaceAll(/\s+/gu, ' ').trim();

const GUIDE = readFileSync(join(ROOT, 'README.md'), 'utf8');
const EXAMPLES = examplesOf(GUIDE);

/** What stands in backticks. */
const coded = (text: string): readonly string[] => [...text.matchAll(/`([^`]+)`/gu)].map(([, code]) => code);

test('the table of commands names each command once', () => {
  const [, table] = /^\| command \| what it does \|\n\| --- \| --- \|\n((?:\|.*\n)+)/mu.exec(GUIDE) ?? [];
  const named = table.split('\n').flatMap((row) => coded(row.split('|')[1] ?? ''));
  expect([...named].sort()).toEqual([...COMMAND_NAMES].sort());
});

test('the guide says which questions cannot be cited', () => {
  const [, list] = /A question that is not of one state \(([^)]*)\) cannot be cited/u.exec(GUIDE) ?? [];
  expect([...coded(list)].sort()).toEqual([...NOT_OF_STATE].sort());
});

test('the guide counts the devices of its first pattern as the demo archive does', async () => {
  const query = `{ findPattern(id: "amplifier-at-the-sensor") { totalCount certainCount expectedCount }
    devices { totalCount } }`;
  const { out } = await caseback(['ask', '--query', query, '--demo'], { cwd });
  const { findPattern, devices } = JSON.parse(out).data;
  expect(GUIDE).toContain(
    `\`totalCount\` says ${findPattern.totalCount} of ${devices.totalCount} devices, \`certainCount\` ${findPattern.certainCount} (probability 0.95 or more), \`expectedCount\` ${findPattern.expectedCount.toFixed(1)} `,
  );
});

interface Library {
  readonly totalCount: number;
  readonly nodes: readonly { readonly id: string; readonly text: string }[];
}

test('the guide names the patterns of the library that do not become SQL', async () => {
  const [, rest] = /All named patterns of the library but one compile \(not (`[^`]+`)/u.exec(GUIDE) ?? [];
  const query = '{ patterns(first: 100) { totalCount nodes { id text } } }';
  const { out } = await caseback(['ask', '--query', query, '--demo'], { cwd });
  const { totalCount, nodes } = JSON.parse(out).data.patterns as Library;
  const refused: string[] = [];
  for (const { id, text } of nodes)
    await patternSql({ text }, 'postgres').catch(() => {
      refused.push(id);
    });
  expect(nodes).toHaveLength(totalCount);
  expect(refused).toEqual(coded(rest));
});

test('the dossier that the guide shows is sound', () => {
  const [, shown] = /^```yaml\n(boards:\n.*?)^```/msu.exec(GUIDE) ?? [];
  const head = `caseback: dossier/1
device: { id: tarn-quern, name: Tarn Quern, maker: tarn, released: 2024, bodySite: wrist }
specimen: { id: a }
teardown: { on: 2025-02, by: I. Example }
`;
  const maker =
    'caseback: catalogue/1\nmakers: [{ id: tarn, name: Tarn, makes: [devices], invented: true }]\n';
  const documents = [head + shown, maker].map((text, i) => documentOf(text, `${i}.yaml`));
  expect(checkDocuments(documents, NOTHING_HELD)).toEqual([]);
  const [dossier] = documents.flatMap((one) => (one.kind === 'dossier' ? [one.dossier] : []));
  expect(dossier.components.map(({ id }) => id)).toContain('LED8');
});

test('the guide has examples', () => expect(EXAMPLES.length).toBeGreaterThan(15));

for (const { words, shown } of EXAMPLES) {
  test(`caseback ${words.join(' ').slice(0, 90)}`, async () => {
    const { code, out, err } = await caseback([...words], { cwd });
    // 1 is the answer of those that find something, such as audit.
    expect([0, 1], err).toContain(code);
    const written = `${out}\n${err}`.split('\n').map(squeezed);
    let from = 0;
    for (const line of shown.map(squeezed)) {
      const [start] = line.split('…');
      const fits = (one: string) => (line.endsWith('…') ? one.startsWith(start.trim()) : one === line);
      if (line === '…') continue;
      const at = written.findIndex((one, place) => place >= from && fits(one));
      expect(at, `“${line}” is not in the answer:\n${out}${err}`).toBeGreaterThanOrEqual(from);
      from = at + 1;
    }
  });
}

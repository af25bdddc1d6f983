import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { COMMAND_NAMES } from '../../src/cli/command-line.ts';
import type { Command } from '../../src/cli/frame/command.ts';
import { writtenOption } from '../../src/cli/frame/options.ts';
import { caseback, casebackProcess, Folder } from './running.ts';

const folder = new Folder();
afterAll(() => folder.remove());

const run = (...args: string[]) => caseback(args, { cwd: folder.path });

const COMMANDS = [
  'serve',
  'create-archive',
  'check',
  'import',
  'export',
  'feeds',
  'mappings',
  'ask',
  'cite',
  'pattern',
  'mirror',
  'devices',
  'search',
  'recall',
  'publications',
  'patterns',
  'corrections',
  'component',
  'components',
  'identify',
  'measure',
  'add-photo',
  'change-photo',
  'alike',
  'record-measurement',
  'nets',
  'photos',
  'wiring',
  'presence',
  'trend',
  'compare',
  'generations',
  'similar',
  'draw',
  'structures',
  'observe',
  'withdraw',
  'candidates',
  'next',
  'read-marking',
  'read-photo',
  'confirm-reading',
  'disagreements',
  'calibrate',
  'calculate',
  'decisions',
  'judge-decision',
  'judge-identification',
  'audit',
  'sheet',
  'pack',
  'verify-pack',
  'impact',
  'what-if',
  'correct',
  'history',
  'difference',
  'correct-clock',
  'people',
  'webhooks',
  'tokens',
  'verify',
  'anchor',
  'verify-anchors',
  'doctor',
  'backup',
  'restore',
];

test('the list of commands is that of this file', () =>
  expect([...COMMAND_NAMES].sort()).toEqual([...COMMANDS].sort()));

test('help lists every command with a sentence, and the exit codes', async () => {
  const { code, out } = await run('--help');
  expect(code).toBe(0);
  for (const name of COMMANDS) expect(out).toMatch(new RegExp(`^  ${name} +\\S.{20,}$`, 'mu'));
  expect(out).toMatch(/Exit codes: 0 .* 1 .* 2 .* 3 .* 4 /su);
});

test.each(COMMANDS)('help of %s names each of its options and shows an example', async (name) => {
  const { code, out } = await run(name, '--help');
  expect(code).toBe(0);
  const usage = /^Usage: caseback (.*)$/mu.exec(out)?.[1] ?? '';
  expect(usage.split(' ')[0]).toBe(name);
  expect(out).toMatch(new RegExp(`^  caseback ${name}\\b`, 'mu'));
  const { command } = (await import(`../../src/cli/commands/${name}.ts`)) as { command: Command };
  expect(command.name).toBe(name);
  for (const option of Object.keys(command.allOptions))
    expect(out).toMatch(new RegExp(`^ {2}${writtenOption(option)}\\b.* {2}\\S`, 'mu'));
});

describe('an invalid command line ends with code 2 and gives the fix', () => {
  test.each([
    [[], /Usage: caseback COMMAND/u],
    [['exprot'], /there is no command "exprot"; did you mean "export"\?/u],
    [['verify', '--dta', 'x'], /there is no option --dta; did you mean --data\?/u],
    [['verify', '-x'], /there is no option -x; the options are --noted/u],
    [['verify', 'now'], /"now" is one argument too many; verify takes options only/u],
    [['history', 'a', 'b'], /"b" is one argument too many; history takes only ID/u],
    [['check'], /FILE is missing; for example: caseback check my-band\.yaml/u],
    [['judge-decision', 'x'], /VERDICT is missing; for example: caseback judge-decision/u],
    [['verify', '--noted'], /--noted needs a value: --noted HASH/u],
    [['history', '--last', '--format', 'json'], /--last is followed by "--format"; .* written --last=N/u],
    [['check', 'x', '--alone=yes'], /--alone takes no value/u],
    [['history', '--last', '1', '--last', '2'], /--last is given twice/u],
    [['audit', '--format', 'tabel'], /--format is "tabel"; did you mean "table"\?/u],
    [['sheet', 'x', '--format', 'json'], /there is no option --format/u],
    [['export', '--format', 'xml'], /--format is "xml"; it must be one of yaml, json/u],
    [['history', '--last', 'few'], /--last is "few"; it must be a whole number/u],
    [['serve', '--port', '70000'], /--port is "70000"; it must be a whole number from 0 to 65535/u],
    [['ask', '--query', '{ a }', '--variables', '{'], /--variables is not valid JSON/u],
    [['ask', '--query', '{ a }', '--as-of', 'May'], /--as-of is "May"; write a date/u],
    [['ask', '--query', '{ a }', '--as-of', '2999-01-01'], /is in the future/u],
  ])('caseback %j', async (args, message) => {
    const { code, out, err } = await run(...(args as string[]));
    expect(err).toMatch(message as RegExp);
    expect(out).toBe('');
    expect(code).toBe(2);
  });
});

test('PORT of the environment is checked like the option', async () => {
  const { code, err } = await caseback(['serve'], { cwd: folder.path, env: { PORT: 'http' } });
  expect(err).toContain('PORT is "http"');
  expect(code).toBe(2);
});

test('a folder without an archive is reported to have none, and none is made', async () => {
  const data = join(folder.path, 'data');
  for (const args of [['verify'], ['history'], ['export'], ['ask', '--query', '{ __typename }']]) {
    const { code, err } = await run(...args, '--data', data);
    expect(err).toContain('has no archive; import files into it first');
    expect(code).toBe(1);
  }
  expect(existsSync(data)).toBe(false);
});

test('the program itself ends with the code and keeps answers and messages apart', async () => {
  const help = await casebackProcess(['check', '--help'], { cwd: folder.path });
  expect(help).toMatchObject({ code: 0, err: '' });
  expect(help.out).toMatch(/^Usage: caseback check /u);
  const wrong = await casebackProcess(['chekc'], { cwd: folder.path });
  expect(wrong).toMatchObject({ code: 2, out: '' });
  expect(wrong.err).toBe(
    'caseback: there is no command "chekc"; did you mean "check"?\nTry: caseback --help\n',
  );
});

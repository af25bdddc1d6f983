import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, test, vi } from 'vitest';
import { main } from '../../src/cli/command-line.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder();
afterAll(() => folder.remove());
afterEach(() => vi.unstubAllEnvs());

/** Runs a command line in this process, which is enough where it ends before any work. */
async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const listen = (stream: NodeJS.WriteStream, name: 'out' | 'err') =>
    vi.spyOn(stream, 'write').mockImplementation((text) => {
      said[name] += text;
      return true;
    });
  const spies = [listen(process.stdout, 'out'), listen(process.stderr, 'err')];
  try {
    return { code: await main(args), ...said };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
}

const COMMANDS = [
  'serve',
  'check',
  'import',
  'export',
  'ask',
  'pattern',
  'trend',
  'compare',
  'generations',
  'similar',
  'recurring',
  'observe',
  'withdraw',
  'candidates',
  'next',
  'read-marking',
  'calibrate',
  'reckon',
  'decisions',
  'judge-decision',
  'judge-identification',
  'audit',
  'sheet',
  'impact',
  'what-if',
  'correct',
  'history',
  'verify',
];

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
  const { command } = (await import(`../../src/cli/${name}.ts`)) as {
    command: { options: Readonly<Record<string, unknown>> };
  };
  const explained = out.slice(out.indexOf('\n'));
  for (const option of Object.keys(command.options))
    expect(explained).toMatch(new RegExp(`(?:^ {2}|[ ,;(])--${option}\\b`, 'mu'));
});

describe('a command line that cannot be understood ends with code 2 and says how to go on', () => {
  test.each([
    [[], /Usage: caseback COMMAND/u],
    [['exprot'], /no command "exprot"; did you mean "export"\?/u],
    [['verify', '--dta', 'x'], /no option --dta; did you mean --data\?/u],
    [['verify', 'now'], /"now" is more than it takes; it takes options only/u],
    [['history', 'a', 'b'], /"b" is more than it takes/u],
    [['check'], /name the files or folders/u],
    [['export', '--format', 'xml'], /--format is "xml"; it must be one of yaml, json/u],
    [['history', '--last', 'few'], /--last is "few"; it must be a whole number/u],
    [['serve', '--port', '70000'], /--port is "70000"; it must be a whole number from 0 to 65535/u],
    [['ask', '--query', '{ a }', '--variables', '{'], /--variables is no JSON/u],
    [['ask', '--query', '{ a }', '--as-of', 'May'], /--as-of is "May"; write a date/u],
    [['ask', '--query', '{ a }', '--as-of', '2999-01-01'], /lies in the future/u],
  ])('caseback %j', async (args, message) => {
    const { code, out, err } = await run(...(args as string[]));
    expect(err).toMatch(message as RegExp);
    expect(out).toBe('');
    expect(code).toBe(2);
  });
});

test('PORT of the environment is checked like the option', async () => {
  vi.stubEnv('PORT', 'http');
  const { code, err } = await run('serve');
  expect(err).toContain('PORT is "http"');
  expect(code).toBe(2);
});

test('a folder without an archive is said to hold none, and none is made', async () => {
  const data = join(folder.path, 'data');
  for (const args of [['verify'], ['history'], ['export'], ['ask', '--query', '{ __typename }']]) {
    const { code, err } = await run(...args, '--data', data);
    expect(err).toContain('holds no archive; import files into it first');
    expect(code).toBe(1);
  }
  expect(existsSync(data)).toBe(false);
});

test('the program itself ends with the code and keeps answers and messages apart', async () => {
  const help = await caseback(['check', '--help'], { cwd: folder.path });
  expect(help).toMatchObject({ code: 0, err: '' });
  expect(help.out).toMatch(/^Usage: caseback check /u);
  const wrong = await caseback(['chekc'], { cwd: folder.path });
  expect(wrong).toMatchObject({ code: 2, out: '' });
  expect(wrong.err).toBe('caseback: no command "chekc"; did you mean "check"?\nTry: caseback --help\n');
});

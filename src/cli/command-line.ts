import { didYouMean } from '../text/near.ts';
import type { Command } from './frame/command.ts';
import { explainError } from './frame/errors.ts';
import { EXIT, EXIT_HELP, quoted, UsageError } from './frame/exit.ts';
import { PROCESS_TERMINAL, type Terminal } from './frame/terminal.ts';

/** Every command, loaded only when called, in the order of the list of commands. */
const COMMANDS: Readonly<Record<string, () => Promise<{ readonly command: Command }>>> = {
  serve: () => import('./commands/serve.ts'),
  check: () => import('./commands/check.ts'),
  import: () => import('./commands/import.ts'),
  export: () => import('./commands/export.ts'),
  ask: () => import('./commands/ask.ts'),
  pattern: () => import('./commands/pattern.ts'),
  trend: () => import('./commands/trend.ts'),
  compare: () => import('./commands/compare.ts'),
  generations: () => import('./commands/generations.ts'),
  similar: () => import('./commands/similar.ts'),
  structures: () => import('./commands/structures.ts'),
  observe: () => import('./commands/observe.ts'),
  withdraw: () => import('./commands/withdraw.ts'),
  'read-marking': () => import('./commands/read-marking.ts'),
  candidates: () => import('./commands/candidates.ts'),
  next: () => import('./commands/next.ts'),
  'judge-identification': () => import('./commands/judge-identification.ts'),
  calibrate: () => import('./commands/calibrate.ts'),
  calculate: () => import('./commands/calculate.ts'),
  decisions: () => import('./commands/decisions.ts'),
  'judge-decision': () => import('./commands/judge-decision.ts'),
  audit: () => import('./commands/audit.ts'),
  sheet: () => import('./commands/sheet.ts'),
  impact: () => import('./commands/impact.ts'),
  'what-if': () => import('./commands/what-if.ts'),
  correct: () => import('./commands/correct.ts'),
  history: () => import('./commands/history.ts'),
  verify: () => import('./commands/verify.ts'),
};

/** Names of all commands. */
export const COMMAND_NAMES: readonly string[] = Object.keys(COMMANDS);

/** Runs one command line; answers the exit code. */
export async function main(
  [name, ...args]: readonly string[],
  terminal: Terminal = PROCESS_TERMINAL,
): Promise<number> {
  if (name === undefined || name === '--help' || name === '-h' || (name === 'help' && args.length === 0)) {
    const overview = await overviewText();
    if (name === undefined) terminal.message(overview);
    else terminal.out(overview);
    return name === undefined ? EXIT.usage : EXIT.fine;
  }
  if (name === 'help') return main([args[0], '--help'], terminal);
  const load = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  let asJson = false;
  try {
    if (!load) throw unknownCommand(name);
    const [{ command }, { parseCommandLine }, { runCommand }] = await Promise.all([
      load(),
      import('./frame/parse.ts'),
      import('./frame/run.ts'),
    ]);
    const parsed = parseCommandLine(command, args);
    asJson = parsed.options.format === 'json';
    return await runCommand(command, parsed, terminal);
  } catch (error) {
    return await explainError(error, load && name, asJson, terminal);
  }
}

async function overviewText(): Promise<string> {
  const commands = await Promise.all(Object.values(COMMANDS).map(async (load) => (await load()).command));
  const column = Math.max(...COMMAND_NAMES.map(({ length }) => length)) + 2;
  const lines = commands.map(({ name, summary }) => `  ${name.padEnd(column)}${summary}`);
  return `Usage: caseback COMMAND [...]      (npm run caseback -- COMMAND [...])

Keeps opened wearables in an append-only archive and answers questions about them.

${lines.join('\n')}

caseback COMMAND --help shows a command's options and examples.

${EXIT_HELP}
`;
}

function unknownCommand(name: string): UsageError {
  const fix = didYouMean(name, COMMAND_NAMES) ?? `the commands are ${COMMAND_NAMES.join(', ')}`;
  return new UsageError(`there is no command ${quoted(name)}; ${fix}`);
}

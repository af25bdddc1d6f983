import { CasebackError, formatProblem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import { type Command, EXIT, parseCommand, UsageError } from './command.ts';

/** Commands by name; each is loaded only when it is called, so that help is there at once. */
const COMMANDS: Readonly<Record<string, () => Promise<{ readonly command: Command }>>> = {
  serve: () => import('./serve.ts'),
  check: () => import('./check.ts'),
  import: () => import('./import.ts'),
  export: () => import('./export.ts'),
  ask: () => import('./ask.ts'),
  history: () => import('./history.ts'),
  verify: () => import('./verify.ts'),
};

const EXIT_HELP = `Exit codes: 0 fine, 1 problems in what was given, 2 wrong usage, 3 the archive is damaged or in use,
4 anything else. Answers go to standard output, messages to standard error.`;

process.exitCode = await main(process.argv.slice(2));

async function main([name, ...args]: readonly string[]): Promise<number> {
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    process.stdout.write(await overview());
    return name === undefined ? EXIT.usage : EXIT.fine;
  }
  const load = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!load) {
    const mend =
      didYouMean(name, Object.keys(COMMANDS)) ?? `the commands are ${Object.keys(COMMANDS).join(', ')}`;
    process.stderr.write(`caseback: no command "${name}"; ${mend}\n`);
    return EXIT.usage;
  }
  const { command } = await load();
  try {
    const { words, values } = parseCommand(command, args);
    if (values.help) {
      process.stdout.write(`Usage: caseback ${command.usage}\n\n${command.help}\n\n${EXIT_HELP}\n`);
      return EXIT.fine;
    }
    return await command.run(words, values);
  } catch (error) {
    return explain(error, name);
  }
}

async function overview(): Promise<string> {
  const lines = await Promise.all(
    Object.entries(COMMANDS).map(
      async ([name, load]) => `  ${name.padEnd(9)} ${(await load()).command.summary}`,
    ),
  );
  return `Usage: caseback COMMAND [...]      (npm run caseback -- COMMAND [...])

Keeps opened wearables in an append-only archive and answers questions about them.

${lines.join('\n')}

caseback COMMAND --help shows a command's options and examples.

${EXIT_HELP}
`;
}

/** Says what went wrong, without a stack for what the caller can mend. */
function explain(error: unknown, name: string): number {
  if (error instanceof UsageError) {
    process.stderr.write(`caseback ${name}: ${error.message}\nTry: caseback ${name} --help\n`);
    return EXIT.usage;
  }
  if (error instanceof CasebackError) {
    for (const problem of error.problems) process.stderr.write(`${formatProblem(problem)}\n`);
    process.stderr.write(`caseback ${name}: ${error.message}\n`);
    if (error.code === 'DAMAGED_JOURNAL') return EXIT.damaged;
    return EXIT.problems;
  }
  process.stderr.write(
    `caseback ${name}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  return EXIT.other;
}

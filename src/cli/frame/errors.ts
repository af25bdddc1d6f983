import type { ErrorCode } from '../../model/problems.ts';
import { plainText } from '../../text/plain-text.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import { EXIT, quoted, Unable, UsageError } from './exit.ts';
import type { Terminal } from './terminal.ts';

/**
 * Says on standard error what went wrong, without a stack for what the caller can fix, and answers the exit code.
 * @param command undefined where the command itself is not known
 * @param asJson problems go to standard output as JSON
 */
export async function explainError(
  error: unknown,
  command: string | undefined,
  asJson: boolean,
  terminal: Terminal,
): Promise<number> {
  const name = command === undefined ? 'caseback' : `caseback ${command}`;
  const say = (text: string) => terminal.message(`${text}\n`);
  if (error instanceof UsageError) {
    say(`${name}: ${error.message}\nTry: ${name} --help`);
    return EXIT.usage;
  }
  if (error instanceof Unable) {
    say(`${name}: ${error.message}`);
    return EXIT.other;
  }
  // Loaded here only, so that a mistyped command does not wait for it.
  const { CasebackError, formatProblem } = await import('../../model/problems.ts');
  if (error instanceof CasebackError) {
    if (asJson && error.problems.length > 0) terminal.out(`${JSON.stringify(error.problems, null, 2)}\n`);
    else if (error.code === 'BAD_PATTERN' && error.problems.length > 0) {
      // The text of the pattern and the mark under the place keep their lines.
      for (const problem of error.problems) {
        const [what, ...excerpt] = problem.what.split('\n');
        say(shortened(formatProblem({ ...problem, what })));
        for (const line of excerpt) say(plainText(line));
      }
      say(`${name}: the pattern cannot be read`);
      return exitOf(error.code);
    } else
      for (const line of error.problems.map(formatProblem)) {
        // A single problem without a file may be the message itself.
        if (line !== error.message) say(shortened(line));
      }
    say(`${name}: ${shortened(error.message)}`);
    return exitOf(error.code);
  }
  if (error instanceof Error && error.name === 'PatternError') {
    // The text of the pattern and a mark under the place stand on lines of their own.
    say(`${name}: the pattern cannot be read\n${error.message}`);
    return EXIT.problems;
  }
  const trouble = systemTrouble(error);
  // What has no code of the system is our own mistake and keeps its stack.
  const { stack } = error as Error;
  say(
    `${name}: ${trouble ? [trouble.path, trouble.what].filter(Boolean).join(' ') : (stack ?? String(error))}`,
  );
  return EXIT.other;
}

function exitOf(code: ErrorCode): number {
  return code === 'DAMAGED_JOURNAL' || code === 'UNAVAILABLE' ? EXIT.damaged : EXIT.problems;
}

/** Characters of a message from which on quoted input is cut. */
const LONG = 400;

/** A message of which no quotation is longer than a line, whatever was given. */
function shortened(message: string): string {
  if (message.length < LONG) return message;
  return message.replaceAll(/"([^"]*)"/gu, (whole, inside: string) =>
    inside.length > 80 ? quoted(inside) : whole,
  );
}

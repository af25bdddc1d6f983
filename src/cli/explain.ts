import { EXIT, Unable, UsageError } from './command.ts';

/**
 * Says on standard error what went wrong, without a stack for what the caller can mend, and answers the exit code.
 * @param json problems go to standard output as JSON
 */
export async function explain(error: unknown, command: string | undefined, json: boolean): Promise<number> {
  const name = command === undefined ? 'caseback' : `caseback ${command}`;
  const say = (text: string) => process.stderr.write(`${text}\n`);
  if (error instanceof UsageError) {
    say(`${name}: ${error.message}\nTry: ${name} --help`);
    return EXIT.usage;
  }
  if (error instanceof Unable) {
    say(`${name}: ${error.message}`);
    return EXIT.other;
  }
  // Loaded here only, so that a mistyped command does not wait for it.
  const { CasebackError, formatProblem } = await import('../model/problems.ts');
  if (error instanceof CasebackError) {
    if (json) process.stdout.write(`${JSON.stringify(error.problems, null, 2)}\n`);
    else
      for (const line of error.problems.map(formatProblem)) {
        // A single problem without a file says the same as the message.
        if (line !== error.message) say(line);
      }
    say(`${name}: ${error.message}`);
    return error.code === 'DAMAGED_JOURNAL' ? EXIT.damaged : EXIT.problems;
  }
  const { code, message, stack } = error as NodeJS.ErrnoException;
  // A code stands for something outside the program, such as a full disk; anything else is our mistake.
  say(`${name}: ${code === undefined ? (stack ?? String(error)) : message}`);
  return EXIT.other;
}

import { toCsv } from '../../export/csv.ts';
import { toTable } from '../../export/table.ts';
import type { Answer, Format } from './answer.ts';
import { Call } from './call.ts';
import type { Command } from './command.ts';
import { EXIT, UsageError } from './exit.ts';
import { helpOf } from './help.ts';
import type { Parsed } from './options.ts';
import type { Terminal } from './terminal.ts';

/** Runs a command: help or the work, then the answer in its format; closes what was opened. Answers the exit code. */
export async function runCommand(command: Command, parsed: Parsed, terminal: Terminal): Promise<number> {
  if (parsed.options.help === true) {
    terminal.out(helpOf(command));
    return EXIT.fine;
  }
  const call = new Call(parsed, terminal, command.name, command.givesFigures);
  try {
    const answer = await command.run(call);
    call.keepActor();
    if (typeof answer === 'number') return answer;
    terminal.out(written(answer, call.format));
    for (const message of answer.messages ?? []) terminal.message(`${message}\n`);
    return answer.exit ?? EXIT.fine;
  } catch (error) {
    // Said of whatever is not found, so that it tells nothing of what is hidden to whom the message is handed on.
    if (call.audience === 'reader' && (error as { readonly code?: unknown }).code === 'NOT_FOUND')
      terminal.message('With --audience reader nothing is found that is a draft or under embargo\n');
    throw error;
  } finally {
    await call.close();
  }
}

/**
 * An answer in a format.
 * @throws UsageError when it has no such form
 */
function written(answer: Answer, format: Format): string {
  const { text, table, csv = table, heading, json, csl } = answer;
  if (format === 'json' && json) return `${JSON.stringify(json(), null, 2)}\n`;
  if (format === 'csl' && csl) return `${JSON.stringify(csl(), null, 2)}\n`;
  if (format === 'csv' && csv) return toCsv(csv(), heading);
  if (format === 'text' || format === 'table') {
    if (table && (format === 'table' || !text)) return toTable(table());
    return text?.() ?? '';
  }
  throw new UsageError(`this answer has no form as ${format}; leave --format out`);
}

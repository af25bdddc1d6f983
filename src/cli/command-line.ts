import { didYouMean } from '../text/near.ts';
import { type Command, EXIT, parseCommand, UsageError, type Values } from './command.ts';
import { explain } from './explain.ts';

interface Listed {
  readonly summary: string;
  /** Commands are loaded only when called, so that help is there at once. */
  load(): Promise<{ readonly command: Command }>;
}

const COMMANDS: Readonly<Record<string, Listed>> = {
  serve: {
    summary: 'serves the archive: page, GraphQL and explorer on one address',
    load: () => import('./serve.ts'),
  },
  check: {
    summary: 'says what is wrong with dossier and catalogue files; writes nothing',
    load: () => import('./check.ts'),
  },
  import: {
    summary: 'brings dossier and catalogue files into the archive, all or nothing',
    load: () => import('./import.ts'),
  },
  export: {
    summary: 'writes dossiers and the catalogue as files that import reads back',
    load: () => import('./export.ts'),
  },
  ask: {
    summary: 'asks a GraphQL question of the archive, with or without a running service',
    load: () => import('./ask.ts'),
  },
  pattern: {
    summary: 'runs a pattern over the archive, or over any graph given as CSV',
    load: () => import('./pattern.ts'),
  },
  trend: {
    summary: 'follows a share, a count or a quantity over time, and says what may be said of it',
    load: () => import('./trend.ts'),
  },
  compare: {
    summary: 'puts devices side by side: figures, or components aligned',
    load: () => import('./compare.ts'),
  },
  generations: {
    summary: 'follows a product line from device to device',
    load: () => import('./generations.ts'),
  },
  similar: {
    summary: 'finds devices of like circuits, clusters, and the distance of two',
    load: () => import('./similar.ts'),
  },
  recurring: {
    summary: 'finds structures of components and connections that recur over devices',
    load: () => import('./recurring.ts'),
  },
  observe: {
    summary: 'adds an observation to the dossier of a specimen',
    load: () => import('./observe.ts'),
  },
  withdraw: {
    summary: 'takes an observation back; it stays on record and counts for nothing',
    load: () => import('./withdraw.ts'),
  },
  candidates: {
    summary: 'says what a component may be, with the weight of every piece of evidence',
    load: () => import('./candidates.ts'),
  },
  next: {
    summary: 'says what to look at next, by expected bits a minute',
    load: () => import('./next.ts'),
  },
  'judge-identification': {
    summary: "enters an editor's own judgement of what a component is, as evidence beside all other",
    load: () => import('./judge-identification.ts'),
  },
  'read-marking': {
    summary: 'says what a marking may mean, by codes and by the catalogue',
    load: () => import('./read-marking.ts'),
  },
  calibrate: {
    summary: 'says how far the probabilities can be trusted on this archive',
    load: () => import('./calibrate.ts'),
  },
  reckon: {
    summary: 'reckons a design check, such as run time, charge rate or noise of a chain',
    load: () => import('./reckon.ts'),
  },
  decisions: {
    summary: 'lists design decisions that patterns suggest, with probability and arithmetic',
    load: () => import('./decisions.ts'),
  },
  'judge-decision': {
    summary: 'enters what an editor makes of a decision: endorsed, doubted or rejected',
    load: () => import('./judge-decision.ts'),
  },
  audit: {
    summary: 'holds published sentences against the evidence under them',
    load: () => import('./audit.ts'),
  },
  sheet: {
    summary: 'writes the checking sheet of a publication, to print',
    load: () => import('./sheet.ts'),
  },
  impact: {
    summary: 'lists everything that rests on a thing, and by which way',
    load: () => import('./impact.ts'),
  },
  'what-if': {
    summary: 'says what a change would come to; writes nothing',
    load: () => import('./what-if.ts'),
  },
  correct: {
    summary: 'puts the record right, and names every sentence that it touches',
    load: () => import('./correct.ts'),
  },
  history: { summary: 'lists who changed what, when and why', load: () => import('./history.ts') },
  verify: { summary: 'recomputes the hash chain of the journal', load: () => import('./verify.ts') },
};

const EXIT_HELP = `Exit codes: 0 fine; 1 problems in what was given; 2 wrong usage; 3 the archive is damaged, in use or cannot be
written; 4 anything else. Answers go to standard output, messages to standard error. Nothing is coloured; a
progress bar shows only on a terminal.`;

/** Runs one command line; answers the exit code. */
export async function main([name, ...args]: readonly string[]): Promise<number> {
  if (name === undefined || name === '--help' || name === '-h' || (name === 'help' && args.length === 0)) {
    (name === undefined ? process.stderr : process.stdout).write(overview());
    return name === undefined ? EXIT.usage : EXIT.fine;
  }
  if (name === 'help') return main([args[0], '--help']);
  const listed = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  let values: Values = {};
  try {
    if (!listed) throw unknownCommand(name);
    const { command } = await listed.load();
    const parsed = parseCommand(command, args);
    values = parsed.values;
    if (values.help) {
      process.stdout.write(`Usage: caseback ${command.usage}\n\n${command.help}\n\n${EXIT_HELP}\n`);
      return EXIT.fine;
    }
    return await command.run(parsed.words, values);
  } catch (error) {
    return await explain(error, listed ? name : undefined, values.json === true);
  }
}

function overview(): string {
  const lines = Object.entries(COMMANDS).map(([name, { summary }]) => `  ${name.padEnd(12)} ${summary}`);
  return `Usage: caseback COMMAND [...]      (npm run caseback -- COMMAND [...])

Keeps opened wearables in an append-only archive and answers questions about them.

${lines.join('\n')}

caseback COMMAND --help shows a command's options and examples.

${EXIT_HELP}
`;
}

function unknownCommand(name: string): UsageError {
  const names = Object.keys(COMMANDS);
  return new UsageError(
    `no command "${name}"; ${didYouMean(name, names) ?? `the commands are ${names.join(', ')}`}`,
  );
}

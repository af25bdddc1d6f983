import { didYouMean } from '../text/near.ts';
import type { Command } from './frame/command.ts';
import { explainError } from './frame/errors.ts';
import { EXIT, EXIT_HELP, quoted, UsageError } from './frame/exit.ts';
import { guardedTerminal, PROCESS_TERMINAL, type Terminal } from './frame/terminal.ts';

/** A command in the list: what it does, in a line, and where it is. */
interface Listed {
  readonly summary: string;
  readonly load: () => Promise<{ readonly command: Command }>;
}

/** Every command, loaded only when called, in the order of the list of commands. */
export const COMMANDS: Readonly<Record<string, Listed>> = {
  serve: {
    summary: 'serves the archive: page, GraphQL and explorer on one address',
    load: () => import('./commands/serve.ts'),
  },
  'create-archive': {
    summary: 'makes an archive of your own, with the pattern library and without the demo',
    load: () => import('./commands/create-archive.ts'),
  },
  check: {
    summary: 'lists what is wrong with dossier and catalogue files; writes nothing',
    load: () => import('./commands/check.ts'),
  },
  import: {
    summary: 'brings dossier and catalogue files into the archive, all or nothing',
    load: () => import('./commands/import.ts'),
  },
  export: {
    summary: 'writes dossiers and the catalogue as files that import reads back',
    load: () => import('./commands/export.ts'),
  },
  ask: {
    summary: 'asks a GraphQL question of the archive, with or without a running service',
    load: () => import('./commands/ask.ts'),
  },
  cite: {
    summary: 'how to cite a source, a publication or the archive, for people and for reference managers',
    load: () => import('./commands/cite.ts'),
  },
  patterns: {
    summary: 'lists named patterns, or shows one in full',
    load: () => import('./commands/patterns.ts'),
  },
  pattern: {
    summary: 'lists the rows of a pattern over the archive, or over any graph given as CSV',
    load: () => import('./commands/pattern.ts'),
  },
  mappings: {
    summary: 'lists list mappings, which say what the columns of lists hold, or shows one in full',
    load: () => import('./commands/mappings.ts'),
  },
  feeds: {
    summary: 'lists feeds, stored questions for dashboards, or shows one in full',
    load: () => import('./commands/feeds.ts'),
  },
  mirror: {
    summary:
      'keeps the archive in tables of a database or in Parquet files, where "pattern --on" and analysts ask it',
    load: () => import('./commands/mirror.ts'),
  },
  devices: {
    summary: 'lists devices, narrowed by maker, line, body site, years and what they have',
    load: () => import('./commands/devices.ts'),
  },
  search: {
    summary: 'finds devices, parts, components, observations and publications by words',
    load: () => import('./commands/search.ts'),
  },
  component: {
    summary: 'shows one component at a glance: seen, identified, joined, and what to look at next',
    load: () => import('./commands/component.ts'),
  },
  components: {
    summary: 'lists components with place, value and kind, or the pins of one with their nets',
    load: () => import('./commands/components.ts'),
  },
  measure: {
    summary: 'measures positions and sizes on a photo, beside what is recorded',
    load: () => import('./commands/measure.ts'),
  },
  'add-photo': {
    summary: 'adds a photo to a dossier and keeps its file',
    load: () => import('./commands/add-photo.ts'),
  },
  'change-photo': {
    summary: 'records a photo anew with other points, regions, words, board or side',
    load: () => import('./commands/change-photo.ts'),
  },
  alike: {
    summary: 'lists photos that are copies or near copies of one another',
    load: () => import('./commands/alike.ts'),
  },
  'record-measurement': {
    summary: 'takes a measurement on a photo over as an observation',
    load: () => import('./commands/record-measurement.ts'),
  },
  nets: {
    summary: 'lists nets and the pins that they join',
    load: () => import('./commands/nets.ts'),
  },
  photos: {
    summary:
      'lists photos, their regions and pictures of steps; writes manifests and annotations for viewers',
    load: () => import('./commands/photos.ts'),
  },
  wiring: {
    summary: 'lists who feeds whom, where signals go and what shares a bus',
    load: () => import('./commands/wiring.ts'),
  },
  presence: {
    summary: 'lists the kinds of component, parts and makers that a device has',
    load: () => import('./commands/presence.ts'),
  },
  trend: {
    summary: 'follows a share, a count or a quantity over time, and says what may be concluded',
    load: () => import('./commands/trend.ts'),
  },
  compare: {
    summary: 'compares devices side by side: figures, or components aligned',
    load: () => import('./commands/compare.ts'),
  },
  generations: {
    summary: 'follows a product line from device to device',
    load: () => import('./commands/generations.ts'),
  },
  similar: {
    summary: 'finds devices of similar circuits, clusters, and the distance of two',
    load: () => import('./commands/similar.ts'),
  },
  draw: {
    summary:
      'draws boards to scale, one or several side by side, or a block diagram, as SVG or PNG for print',
    load: () => import('./commands/draw.ts'),
  },
  structures: {
    summary: 'finds structures of components and connections that many devices share',
    load: () => import('./commands/structures.ts'),
  },
  observe: {
    summary: 'adds an observation to the dossier of a specimen',
    load: () => import('./commands/observe.ts'),
  },
  withdraw: {
    summary: 'withdraws an observation; it stays on record and counts for nothing',
    load: () => import('./commands/withdraw.ts'),
  },
  'read-marking': {
    summary: 'lists what a marking may mean, by codes and by the catalogue',
    load: () => import('./commands/read-marking.ts'),
  },
  'read-photo': {
    summary: 'reads the marking of a component on photos, as a suggestion',
    load: () => import('./commands/read-photo.ts'),
  },
  'confirm-reading': {
    summary: 'records a marking that was read on a photo, as you confirm it',
    load: () => import('./commands/confirm-reading.ts'),
  },
  candidates: {
    summary: 'lists what a component may be, with the weight of every piece of evidence',
    load: () => import('./commands/candidates.ts'),
  },
  next: {
    summary: 'lists what to look at next, by expected bits a minute',
    load: () => import('./commands/next.ts'),
  },
  identify: {
    summary: 'records what a component is identified as, with probabilities',
    load: () => import('./commands/identify.ts'),
  },
  'judge-identification': {
    summary: "records an editor's own judgement of what a component is, as evidence beside all other",
    load: () => import('./commands/judge-identification.ts'),
  },
  disagreements: {
    summary: 'lists recorded identifications that the evidence contradicts',
    load: () => import('./commands/disagreements.ts'),
  },
  calibrate: {
    summary: 'measures how far the probabilities can be trusted on this archive',
    load: () => import('./commands/calibrate.ts'),
  },
  calculate: {
    summary: 'calculates a design check, such as run time, charge rate or noise of a chain',
    load: () => import('./commands/calculate.ts'),
  },
  decisions: {
    summary: 'lists design decisions that patterns suggest, with probability and arithmetic',
    load: () => import('./commands/decisions.ts'),
  },
  'judge-decision': {
    summary: "records an editor's verdict on a decision: endorsed, doubted or rejected",
    load: () => import('./commands/judge-decision.ts'),
  },
  recall: {
    summary: 'takes back what readers see of a record, as of every instant; the desk keeps it',
    load: () => import('./commands/recall.ts'),
  },
  publications: {
    summary: 'lists publications, or the sentences of one with what supports them',
    load: () => import('./commands/publications.ts'),
  },
  audit: {
    summary: 'checks published sentences against the evidence that supports them',
    load: () => import('./commands/audit.ts'),
  },
  sheet: {
    summary: 'writes the checking sheet of a publication, to print',
    load: () => import('./commands/sheet.ts'),
  },
  pack: {
    summary: 'writes a publication with its evidence, figures and charts as a folder or ZIP for readers',
    load: () => import('./commands/pack.ts'),
  },
  'verify-pack': {
    summary: 'says whether the files of a pack are whole, and what in it is no longer so',
    load: () => import('./commands/verify-pack.ts'),
  },
  impact: {
    summary: 'lists everything that a thing supports, and how',
    load: () => import('./commands/impact.ts'),
  },
  'what-if': {
    summary: 'calculates the result of a change; writes nothing',
    load: () => import('./commands/what-if.ts'),
  },
  correct: {
    summary: 'corrects the record, and names every sentence that the change touches',
    load: () => import('./commands/correct.ts'),
  },
  corrections: {
    summary: 'lists corrections, or the sentences and notices of one',
    load: () => import('./commands/corrections.ts'),
  },
  history: {
    summary: 'lists who changed what, when and why',
    load: () => import('./commands/history.ts'),
  },
  difference: {
    summary: 'lists what was different at one instant from what was at another',
    load: () => import('./commands/difference.ts'),
  },
  'correct-clock': {
    summary: 'corrects when entries count as written, after a clock was wrong',
    load: () => import('./commands/correct-clock.ts'),
  },
  people: {
    summary: 'lists who may sign in to a service of the archive, and looks after their accounts',
    load: () => import('./commands/people.ts'),
  },
  webhooks: {
    summary: 'looks after the addresses that are told when answers of feeds change',
    load: () => import('./commands/webhooks.ts'),
  },
  tokens: {
    summary: 'lists, makes and revokes the tokens that people sign in with',
    load: () => import('./commands/tokens.ts'),
  },
  verify: {
    summary: 'calculates the hash chain of the journal anew and compares',
    load: () => import('./commands/verify.ts'),
  },
  anchor: {
    summary: 'prints a digest of the whole journal that can be published or signed',
    load: () => import('./commands/anchor.ts'),
  },
  'verify-anchors': {
    summary: 'tells whether a later anchor extends an earlier one, without the archive',
    load: () => import('./commands/verify-anchors.ts'),
  },
  doctor: {
    summary: 'looks at the archive and all around it: what is there, what is wrong and what to do',
    load: () => import('./commands/doctor.ts'),
  },
  backup: {
    summary: 'writes everything that the archive holds into one file, also while a service runs',
    load: () => import('./commands/backup.ts'),
  },
  restore: {
    summary: 'makes an archive of a backup, in a folder that has none',
    load: () => import('./commands/restore.ts'),
  },
};

/** Names of all commands. */
export const COMMAND_NAMES: readonly string[] = Object.keys(COMMANDS);

/** Runs one command line; answers the exit code. */
export async function main(
  [name, ...args]: readonly string[],
  whole: Terminal = PROCESS_TERMINAL,
): Promise<number> {
  const terminal = guardedTerminal(whole);
  if (name === undefined || name === '--help' || name === '-h' || (name === 'help' && args.length === 0)) {
    const overview = overviewText();
    if (name === undefined) terminal.message(overview);
    else terminal.out(overview);
    return name === undefined ? EXIT.usage : EXIT.fine;
  }
  if (name === 'help') return main([args[0], '--help'], whole);
  const load = Object.hasOwn(COMMANDS, name) ? COMMANDS[name]?.load : undefined;
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

function overviewText(): string {
  const column = Math.max(...COMMAND_NAMES.map(({ length }) => length)) + 2;
  const lines = Object.entries(COMMANDS).map(([name, { summary }]) => `  ${name.padEnd(column)}${summary}`);
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

import { OBSERVATION_KINDS, observationSchema } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { type Command, EXIT, textOf, UsageError, type Values } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

/** Options that are fields of the observation, each a text. */
const FIELDS = ['text', 'marking', 'value', 'photo', 'method', 'on', 'by', 'corrects', 'note'] as const;

export const command: Command = {
  usage:
    'observe SPECIMEN OBSERVATION KIND --about ID,... [--marking TEXT] [--value AMOUNT] [--text TEXT] ... --reason TEXT',
  help: `Adds an observation to a specimen's dossier: what was seen, never what is concluded. Observations are never changed; a
later one puts an earlier one right (--corrects), and one that should not have been is taken back with "withdraw".
KIND is one of ${OBSERVATION_KINDS.join(', ')}.

${DATA_HELP}
  --about ID,...    local ids of the components, boards or other things it is about
  --marking TEXT    a marking as read: "?" for an unread character, "[8B]" for one of two
  --value AMOUNT    what was measured, with its unit
  --text TEXT       what was seen, in words
  --leads-to ID,... for a trace: local ids of what it leads to
  --photo ID        local id of the photo that shows it
  --method TEXT     how it was looked at
  --on DATE         when (ISO 8601)
  --by NAME         by whom
  --corrects ID     local id of the observation that it puts right
  --cites ID,...    sentences (publication/claim) or sources that it leans on
  --note TEXT       a remark
  --actor NAME      who records it (default: your login name)
  --reason TEXT     why; kept in the journal

  caseback observe tarn-loop-3/a look-again marking --about U3 --marking "220[8B]" --method "raking light" --reason "second look"
  caseback observe tarn-loop-3/a gap measurement --about D1,D3 --value "4.3 mm" --reason "for the figure"`,
  options: {
    ...DATA_OPTION,
    ...AUTHOR_OPTIONS,
    about: { type: 'string' },
    'leads-to': { type: 'string' },
    cites: { type: 'string' },
    ...Object.fromEntries(FIELDS.map((name) => [name, { type: 'string' } as const])),
  },
  words: 3,

  async run([specimen, id, kind], values) {
    if (specimen === undefined || id === undefined || kind === undefined)
      throw new UsageError('name the specimen, an id for the observation, and its kind');
    const reason = textOf(values, 'reason')?.trim();
    if (!reason) throw new UsageError('say why with --reason');
    const read = observationSchema.safeParse({ id, kind, ...fieldsOf(values) });
    if (!read.success) {
      const problems = read.error.issues.map(({ path, message }) => ({
        path: path.join('.'),
        what: message,
      }));
      throw new CasebackError('BAD_INPUT', 'the observation may not stand; nothing was written', problems);
    }
    const archive = await openArchive(dataFolder(values));
    try {
      const entry = await archive.recordObservation(specimen, read.data, authorship(values, reason), 'desk');
      process.stderr.write(`${thingId(specimen, id)} recorded, journaled as entry ${entry.sequence}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

function fieldsOf(values: Values): object {
  const list = (name: string) =>
    textOf(values, name)
      ?.split(',')
      .map((one) => one.trim());
  const fields = FIELDS.map((name) => [name, textOf(values, name)] as const);
  const all = {
    about: list('about'),
    leadsTo: list('leads-to'),
    cites: list('cites'),
    ...Object.fromEntries(fields),
  };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
}

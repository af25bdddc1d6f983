import { type Finding, gatherInto, NOTHING_HELD } from '../dossier/check/context.ts';
import { globalReferencesAreKnown } from '../dossier/check/global-references.ts';
import { checkDocuments } from '../dossier/check/rules.ts';
import { contradictions } from '../dossier/contradictions.ts';
import type { ReadDocument } from '../dossier/document/document.ts';
import { readFiles } from '../dossier/read-files.ts';
import { formatProblem } from '../model/problems.ts';
import { type Command, EXIT, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, holdsArchive } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage: 'check FILE|FOLDER ... [--data FOLDER] [--alone] [--json]',
  help: `Reads every file and lists every problem at once: file, line, column, what is wrong and how to mend it. Makers,
parts, devices and other things that the files name but do not describe are looked up in the archive of the
data folder; where there is none, each is a caution. Cautions are worth a second look and keep nothing out.
Writes nothing. Exit code 1 when there is an error, 0 when there are cautions only.

${DATA_HELP}
  --alone           the files must describe everything they name; no archive is asked
  --json            findings as a JSON list, for editors' tools

  caseback check my-band.yaml
  caseback check incoming/ --data ./bench
  caseback check seed-data --alone`,
  options: { ...DATA_OPTION, alone: { type: 'boolean' }, json: { type: 'boolean' } },

  async run(words, values) {
    if (words.length === 0) throw new UsageError('name the files or folders to check');
    const { documents, problems } = readFiles(words);
    const unread = problems.map((problem): Finding => ({ severity: 'error', ...problem }));
    const found = values.alone
      ? checkDocuments(documents, NOTHING_HELD)
      : await checkAgainst(dataFolder(values), documents);
    const findings = [...unread, ...found];
    const errors = findings.filter(({ severity }) => severity === 'error').length;
    if (values.json) process.stdout.write(`${JSON.stringify(findings, null, 2)}\n`);
    else process.stdout.write(findings.map(inOneLine).join(''));
    const files = new Set([...documents.map(({ file }) => file), ...problems.map(({ file }) => file)]);
    const cautions = findings.length - errors;
    process.stderr.write(
      `${counted(errors, 'error')}${cautions > 0 ? ` and ${counted(cautions, 'caution')}` : ''} in ${counted(files.size, 'file')}\n`,
    );
    return errors === 0 ? EXIT.fine : EXIT.problems;
  },
};

/** Checks against the archive of a folder, or by themselves where it holds none. */
async function checkAgainst(folder: string, documents: readonly ReadDocument[]): Promise<readonly Finding[]> {
  if (!holdsArchive(folder)) return withoutArchive(documents);
  const archive = await openArchive(folder);
  try {
    const held = archive.held();
    const conflicts = contradictions(documents, held);
    return [
      ...checkDocuments(documents, held),
      ...conflicts.map((problem): Finding => ({ severity: 'error', ...problem })),
    ];
  } finally {
    await archive.close();
  }
}

/** Nobody can tell whether a thing described elsewhere exists, so an unknown name is a caution, said once. */
function withoutArchive(documents: readonly ReadDocument[]): readonly Finding[] {
  const unknown: Finding[] = [];
  globalReferencesAreKnown(documents, NOTHING_HELD, gatherInto(unknown));
  const keyOf = ({ file, path, what }: Finding) => JSON.stringify([file, path, what]);
  const unknownKeys = new Set(unknown.map(keyOf));
  const said = new Set<string>();
  return checkDocuments(documents, NOTHING_HELD).flatMap((finding): Finding[] => {
    if (!unknownKeys.has(keyOf(finding))) return [finding];
    if (said.has(finding.what)) return [];
    said.add(finding.what);
    return [{ ...finding, severity: 'caution' }];
  });
}

function inOneLine({ severity, what, ...rest }: Finding): string {
  return `${formatProblem({ ...rest, what: severity === 'caution' ? `caution: ${what}` : what })}\n`;
}

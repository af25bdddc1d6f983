import { NOTHING_HELD } from '../dossier/check/context.ts';
import { checkDocuments } from '../dossier/check/rules.ts';
import { readFiles } from '../dossier/readFiles.ts';
import { formatProblem } from '../model/problems.ts';
import { type Command, EXIT, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, holdsArchive, openArchive } from './dataFolder.ts';

export const command: Command = {
  summary: 'says what is wrong with dossier and catalogue files; writes nothing',
  usage: 'check FILE|FOLDER ... [--alone] [--json]',
  help: `Reads every file and lists every problem at once: file, line, column, what is wrong and how to mend it. Ids
that the files do not describe are looked up in the archive of the data folder, if there is one.

${DATA_HELP}
  --alone           do not look into an archive; the files must describe everything they name
  --json            problems as JSON, for editors' tools

  caseback check my-band.yaml
  caseback check seed-data --alone`,
  options: { ...DATA_OPTION, alone: { type: 'boolean' }, json: { type: 'boolean' } },

  async run(words, values) {
    if (words.length === 0) throw new UsageError('name the files or folders to check');
    const { documents, problems } = readFiles(words);
    const folder = dataFolder(values);
    const archive = !values.alone && holdsArchive(folder) ? await openArchive(folder) : undefined;
    const all = [...problems, ...checkDocuments(documents, archive?.held() ?? NOTHING_HELD)];
    await archive?.close();
    if (values.json) process.stdout.write(`${JSON.stringify(all, null, 2)}\n`);
    else for (const problem of all) process.stdout.write(`${formatProblem(problem)}\n`);
    const files = new Set([...documents.map(({ file }) => file), ...problems.map(({ file }) => file)]).size;
    const count = all.length === 1 ? '1 problem' : `${all.length === 0 ? 'no' : all.length} problems`;
    process.stderr.write(`${count} in ${files === 1 ? '1 file' : `${files} files`}\n`);
    return all.length === 0 ? EXIT.fine : EXIT.problems;
  },
};

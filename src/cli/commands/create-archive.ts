import { Archive } from '../../archive.ts';
import { nameOf } from '../../journal/postgres/connections.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { AUTHOR_OPTIONS } from '../frame/common-options.ts';
import { databaseJournal, hasArchive, openJournal, written } from '../frame/data-folder.ts';
import { databaseToFill, writtenPlace } from '../frame/database.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { makeJournal, patternLibrary } from '../frame/new-archive.ts';
import { flag } from '../frame/options.ts';

export const command = defineCommand({
  name: 'create-archive',
  about:
    'Makes an archive of your own, blank but for the library of named patterns, which "caseback patterns" lists. From then on "npm start" and all commands use it in place of the demo, which stays where it is (--demo). The first import of a dossier or catalogue makes one too.',
  options: {
    withoutPatterns: flag('without the library; "caseback import --patterns" brings it in later'),
    ...AUTHOR_OPTIONS,
  },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['create-archive', 'create-archive --data ./archive-of-rings'],

  async run(call) {
    const { place } = call;
    const { withoutPatterns } = call.options;
    if (call.given.has('demo'))
      throw new UsageError('--demo names the demo; "caseback serve --demo" makes it');
    const folder = call.ownFolder;
    const { database } = place;
    const where = database === undefined ? written(folder) : writtenPlace(place);
    const at = database === undefined ? { folder } : { database: nameOf(database) };
    const hasOne =
      database === undefined ? hasArchive(folder) && !place.isDemo : await hasTables(database, place.folder);
    const already = {
      json: () => ({ ...at, patterns: 0 }),
      messages: [
        `${where} has an archive already; nothing was changed. "caseback import --patterns" brings in what is new in the pattern library`,
      ],
      exit: EXIT.problems,
    };
    if (hasOne && !call.given.has('key')) return already;
    const by = call.authorship('archive created', folder);
    const library = withoutPatterns ? [] : patternLibrary();
    const opened = await Archive.open(
      database !== undefined
        ? databaseJournal(database, place.folder)
        : hasOne
          ? openJournal(folder)
          : makeJournal(folder, call.terminal),
    );
    try {
      const archive = await call.keyed(opened);
      // Under the key that made it, it is yet to be made.
      if (hasOne && (archive.version > 0 || opened.version === 0)) return already;
      await archive.importDocuments(library, by);
    } finally {
      await opened.close();
    }
    return {
      json: () => ({ ...at, patterns: library.length }),
      messages: [
        `Your own archive is in ${where}, with ${counted(library.length, 'named pattern')}; "caseback check" and "caseback import" bring your files in`,
      ],
    };
  },
});

async function hasTables(database: string, folder: string): Promise<boolean> {
  const { journal, hasTables } = await databaseToFill(database, folder);
  await journal.close();
  return hasTables;
}

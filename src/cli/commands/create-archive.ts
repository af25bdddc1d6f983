import { Archive } from '../../archive.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { AUTHOR_OPTIONS } from '../frame/common-options.ts';
import { hasArchive, written } from '../frame/data-folder.ts';
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
    if (hasArchive(folder) && !place.isDemo)
      return {
        json: () => ({ folder, patterns: 0 }),
        messages: [
          `${written(folder)} has an archive already; nothing was changed. "caseback import --patterns" brings in what is new in the pattern library`,
        ],
        exit: EXIT.problems,
      };
    const by = call.authorship('archive created', folder);
    const library = withoutPatterns ? [] : patternLibrary();
    const archive = await Archive.open(makeJournal(folder, call.terminal));
    try {
      await archive.importDocuments(library, by);
    } finally {
      await archive.close();
    }
    return {
      json: () => ({ folder, patterns: library.length }),
      messages: [
        `Your own archive is in ${written(folder)}, with ${counted(library.length, 'named pattern')}; "caseback check" and "caseback import" bring your files in`,
      ],
    };
  },
});

import type { Archive } from '../../archive.ts';
import { type Finding, gatherInto, NOTHING_HELD } from '../../dossier/check/context.ts';
import { globalReferencesAreKnown } from '../../dossier/check/global-references.ts';
import { contradictions } from '../../dossier/contradictions.ts';
import { everyProblem } from '../../dossier/every-problem.ts';
import { type ReadFiles, readFiles } from '../../dossier/read-files.ts';
import { formatProblem } from '../../model/problems.ts';
import { counted } from '../answers/figures.ts';
import { readersSentences } from '../answers/readers-text.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';
import { flag } from '../frame/options.ts';
import { alikeFor, photosFor } from '../frame/photos.ts';

export const command = defineCommand({
  name: 'check',
  about:
    'Reads every file and lists every problem at once: file, line, column, what is wrong and the fix. Makers, parts, devices and other things that the files name but do not describe are looked up in your own archive; before there is one, each is a caution. Cautions are worth a second look and keep nothing out. Writes nothing. Exit code 1 when there is an error, 0 when there are cautions only.',
  arguments: [{ name: 'FILE', help: 'a file, or a folder of files', many: true }],
  options: { alone: flag('the files must describe everything they name; no archive is asked') },
  uses: 'folder',
  formats: ['text', 'table', 'csv', 'json'],
  examples: [
    'check my-band.yaml',
    'check incoming/ --data ./bench',
    'check seed-data --alone',
    'check my-change.yaml --demo',
  ],

  async run(call) {
    const read = readFiles(call.arguments);
    const { documents, problems } = read;
    // The demo holds nothing that an import could name: files go into one's own archive.
    const holds = call.hasArchive && (call.place.isNamed || !call.place.isDemo);
    const archive = holds && !call.options.alone ? await call.archive() : undefined;
    const beside = await photosFor(archive, documents);
    const findings = [
      ...(call.options.alone
        ? everyProblem(read, NOTHING_HELD)
        : archive
          ? againstArchive(archive, read)
          : withoutArchive(read)),
      ...(await alikeFor(archive, documents, beside)).map(
        (problem): Finding => ({ severity: 'caution', ...problem }),
      ),
      ...beside.problems.map((problem): Finding => ({ severity: 'error', ...problem })),
    ];
    const errors = findings.filter(({ severity }) => severity === 'error').length;
    const readers =
      errors === 0 && archive && documents.length > 0
        ? archive.planDocuments(documents, NOBODY, beside.photos).readers
        : undefined;
    const cautions = findings.length - errors;
    const files = new Set([...documents.map(({ file }) => file), ...problems.map(({ file }) => file)]);
    const count = `${counted(errors, 'error')}${cautions > 0 ? ` and ${counted(cautions, 'caution')}` : ''}`;
    return {
      text: () => findings.map(lineOf).join(''),
      table: () =>
        findings.map(({ severity, file = '', line, column, path = '', what, fix = '' }) => ({
          file,
          line: String(line ?? ''),
          column: String(column ?? ''),
          path,
          severity,
          problem: what,
          fix,
        })),
      json: () => findings,
      messages: [
        `${count} in ${counted(files.size, 'file')}`,
        ...(readers ? readersSentences(readers, true) : []),
        ...(!call.options.alone && !holds && cautions > 0
          ? [
              'You have no archive of your own yet: import what these files name and do not describe with them',
            ]
          : []),
      ],
      exit: errors === 0 ? EXIT.fine : EXIT.problems,
    };
  },
});

/** Nothing is written in this name. */
const NOBODY = { actor: 'check', reason: 'tried out' } as const;

function againstArchive(archive: Archive, read: ReadFiles): readonly Finding[] {
  const held = archive.held();
  const conflicts = contradictions(read.documents, held);
  return [
    ...everyProblem(read, held),
    ...conflicts.map((problem): Finding => ({ severity: 'error', ...problem })),
  ];
}

/** Nobody can know whether a thing described elsewhere exists, so an unknown name is a caution, given once. */
function withoutArchive(read: ReadFiles): readonly Finding[] {
  const unknown: Finding[] = [];
  const all = [...read.documents, ...read.parts.map(({ document }) => document)];
  globalReferencesAreKnown(all, NOTHING_HELD, gatherInto(unknown, []));
  const keyOf = ({ file, path, what }: Finding) => JSON.stringify([file, path, what]);
  const unknownKeys = new Set(unknown.map(keyOf));
  const given = new Set<string>();
  return everyProblem(read, NOTHING_HELD).flatMap((finding): Finding[] => {
    if (!unknownKeys.has(keyOf(finding))) return [finding];
    if (given.has(finding.what)) return [];
    given.add(finding.what);
    return [{ ...finding, severity: 'caution' }];
  });
}

function lineOf({ severity, what, ...rest }: Finding): string {
  return `${formatProblem({ ...rest, what: severity === 'caution' ? `caution: ${what}` : what })}\n`;
}

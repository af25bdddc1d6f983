import type { Chart, ChartSource } from '../charts/chart.ts';
import { chartSvg, pngOf } from '../charts/render.ts';
import { type CslItem, publicationItem, sourceItem } from '../citation/csl.ts';
import type { Drawing } from '../drawings/shapes.ts';
import { type CheckingSheet, checkingSheet } from '../evidence/checking-sheet.ts';
import { toCsv } from '../export/csv.ts';
import type { Row } from '../export/rows.ts';
import { linkedPublication } from '../linked/document.ts';
import type { Publication } from '../model/catalogue.ts';
import { fileNameOf, lastOfId } from '../model/ids.ts';
import { PICTURE_ENDINGS } from '../model/photo-file.ts';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { boardsUnder, drawnBoard } from './boards.ts';
import { type Credited, creditedIn, creditRows } from './credits.ts';
import { figureNumbers } from './figure-files.ts';
import { type PhotoFiles, type PhotoUnder, photosUnder } from './photos.ts';
import { type PackedFigure, type PackState, type Statement, statementOf } from './statement.ts';

/** A file of a pack before it is made. */
export interface PackFile {
  /** Inside the pack, with `/`. */
  readonly path: string;
  readonly mediaType: string;
  readonly title: string;
  readonly says: string;
  /** Sentences that it belongs to, by id; none for what is of the whole. */
  readonly about: readonly string[];
  readonly licence?: string;
  readonly credit?: string;
  make(): Promise<string | Uint8Array>;
}

/** What would belong into a pack and is not in it. */
export interface LeftOut {
  readonly id: string;
  readonly what: string;
  readonly why: string;
  readonly photo?: PhotoUnder['photo'];
}

/** A chart of a pack, for the page that shows it. */
export interface ShownChart {
  readonly of: PackedFigure;
  readonly chart: Chart;
}

/** A drawing of a pack, for the page that shows it. */
export interface ShownBoard {
  readonly id: string;
  readonly path: string;
  readonly drawing: Drawing;
}

/** How the pages of a pack are written. */
export interface PackPages {
  /** The checking sheet as a page that needs nothing but the photos beside it. @param pathOf path of a photo in the pack, by its id */
  sheet(sheet: CheckingSheet, pathOf: (photo: string) => string | undefined): string;
  /** The page that a reader opens first, with files beside it. */
  preview(contents: PackContents, files: readonly MadeFile[], citation: readonly CslItem[]): string;
}

/** A file of a pack as it was made. */
export interface MadeFile extends Omit<PackFile, 'make'> {
  readonly content: Uint8Array;
  /** SHA-256, in hexadecimal. */
  readonly sha256: string;
}

/** What a pack is made with. */
export interface PackSettings {
  readonly state: PackState;
  /** For the last line of charts. */
  readonly source: ChartSource;
  /** The archive in this state, to be cited. */
  readonly archive: CslItem;
  /** Licence of what Caseback made: SPDX identifier, address or a plain sentence; undefined where nobody has said. */
  readonly licence?: string | undefined;
  /** Where files of photos are; without it none is in the pack. */
  readonly photos?: PhotoFiles | undefined;
  /** Whether files of photos are read, as it takes to make a pack; to say what one would hold it is enough that they are there. @default true */
  readonly isRead?: boolean;
  readonly pages: PackPages;
}

/** What a pack holds, before the files are made. */
export interface PackContents {
  readonly publication: Publication;
  readonly statement: Statement;
  /** In order of their paths; without the metadata, the page to open first and the list of digests, which are made of these. */
  readonly files: readonly PackFile[];
  readonly leftOut: readonly LeftOut[];
  readonly charts: readonly ShownChart[];
  readonly boards: readonly ShownBoard[];
  readonly credited: Credited;
  readonly photos: readonly PhotoUnder[];
  readonly licence: string | undefined;
}

export const STATEMENT = 'pack.json';
export const CITATION = 'citation.csl.json';

/**
 * What a pack of a publication holds in a state, by reading the archive; nothing is drawn yet.
 * @throws CasebackError NOT_FOUND when nothing visible has the id; the signal's reason
 */
export async function contentsOf(
  view: State,
  publicationId: string,
  { state, source, archive, licence, photos: photoFiles, pages, isRead = true }: PackSettings,
  signal?: AbortSignal,
): Promise<PackContents> {
  const statement = await statementOf(view, publicationId, state, signal);
  const publication = view.publication(publicationId) as Publication;
  const pace = new Pace(signal);
  const charts: ShownChart[] = [];
  const files: PackFile[] = [];
  const leftOut: LeftOut[] = [];
  for (const { id: sentence, figures } of statement.sentences) {
    for (const of of figures) {
      await pace.rest();
      const { csv, chart } = await figureNumbers(view, of.figure, source, signal);
      files.push(tableFile(sentence, of, csv));
      charts.push({ of, chart });
      files.push(...chartFiles(sentence, of, chart));
    }
  }
  const boards: ShownBoard[] = [];
  for (const board of boardsUnder(view, statement)) {
    await pace.rest();
    const drawing = drawnBoard(view, board);
    if (typeof drawing === 'string') {
      leftOut.push({ id: board.id, what: 'drawing of the board', why: drawing });
      continue;
    }
    const path = `drawings/${fileNameOf(board.id, '.')}.svg`;
    boards.push({ id: board.id, path, drawing });
    files.push({
      path,
      mediaType: 'image/svg+xml',
      title: drawing.title,
      says: `The board ${board.id} to scale, with what the sentences name picked out.`,
      about: board.sentences,
      make: async () => drawing.svg,
    });
  }
  const credited = creditedIn(view, statement);
  const photos = await photosUnder(view, statement, photoFiles, isRead);
  for (const one of photos) {
    const { content, photo, id } = one;
    if (content !== 'there' && 'why' in content) {
      leftOut.push({ id, what: photo.caption ?? 'photo', why: content.why, photo });
      continue;
    }
    files.push({
      path: photoPath(one) as string,
      mediaType: one.file?.type as string,
      title: photo.caption ?? `Photo ${id}`,
      says: `A photo by ${photo.credit}, ${photo.licence}.`,
      about: one.sentences,
      licence: photo.licence,
      credit: photo.credit,
      make: async () => {
        if (content === 'there') throw new Error('a pack is made of photos that were read');
        return content;
      },
    });
  }
  const paths = new Map(photos.map((one) => [one.id, photoPath(one)]));
  const linked = await linkedPublication(view, publicationId, undefined, signal);
  const sheet = { ...(await checkingSheet(view, publicationId, signal)), asOf: state.instant };
  files.push(
    {
      path: STATEMENT,
      mediaType: 'application/json',
      title: 'What the publication says, and what the archive gave for it',
      says: 'Sentences, their support, figures and the state of the archive as data; "caseback verify-pack" calculates them again.',
      about: [],
      make: async () => `${JSON.stringify(statement, null, 2)}\n`,
    },
    {
      path: CITATION,
      mediaType: 'application/vnd.citationstyles.csl+json',
      title: 'How to cite',
      says: 'The publication, the archive in this state and the sources under the sentences, as CSL-JSON.',
      about: [],
      make: async () =>
        `${JSON.stringify([publicationItem(publication), archive, ...credited.sources.map(sourceItem)], null, 2)}\n`,
    },
    {
      path: 'checking-sheet.html',
      mediaType: 'text/html',
      title: 'Checking sheet',
      says: 'Every sentence down to observation, photo and source, with who judged it, to be ticked off on paper.',
      about: [],
      make: async () => pages.sheet(sheet, (id) => paths.get(id)),
    },
    {
      path: 'sentences.jsonld',
      mediaType: 'application/ld+json',
      title: 'Sentences with their support as linked data',
      says: 'Claims, what supports each down to who saw what, and corrections, on PROV-O, SKOS and schema.org; the context is in it.',
      about: statement.sentences.map(({ id }) => id),
      make: async () => `${JSON.stringify(linked, null, 2)}\n`,
    },
    {
      path: 'sentences.csv',
      mediaType: 'text/csv',
      title: 'Sentences',
      says: 'A row a sentence: what the evidence gives (0 to 1), with the least and the most if doubts hang together, and what was found against it.',
      about: [],
      make: async () => toCsv(sentenceRows(statement)),
    },
    {
      path: 'support.csv',
      mediaType: 'text/csv',
      title: 'What supports the sentences',
      says: 'A row a thing that supports a sentence, with its probability (0 to 1) where it has one.',
      about: [],
      make: async () => toCsv(supportRows(statement)),
    },
    {
      path: 'credits.csv',
      mediaType: 'text/csv',
      title: 'Licences and credits',
      says: 'Who opened what, whose photos and sources are under the sentences, and what of it is not in here, and why.',
      about: [],
      make: async () => toCsv(creditRows(credited, photos, photoPath)),
    },
  );
  return {
    publication,
    statement,
    files: files.sort((a, b) => (a.path < b.path ? -1 : 1)),
    leftOut,
    charts,
    boards,
    credited,
    photos,
    licence,
  };
}

function tableFile(sentence: string, { table, states }: PackedFigure, csv: string): PackFile {
  return {
    path: table,
    mediaType: 'text/csv',
    title: `Figures: ${states}`,
    says: `The numbers under the statement of ${sentence} that ${states}.`,
    about: [sentence],
    make: async () => csv,
  };
}

/** Path of the chart of a figure, without its ending. */
export function chartPath({ table }: PackedFigure): string {
  return table.replace(/^figures\/(.*)\.csv$/u, 'charts/$1');
}

function chartFiles(sentence: string, figure: PackedFigure, { title, document }: Chart): readonly PackFile[] {
  const at = chartPath(figure);
  const svg = shared(() => chartSvg(document));
  const one = { title: `Chart: ${title}`, about: [sentence] };
  const says = `A chart of the figures under ${sentence}`;
  return [
    {
      ...one,
      path: `${at}.svg`,
      mediaType: 'image/svg+xml',
      says: `${says}, for print and pages.`,
      make: svg,
    },
    {
      ...one,
      path: `${at}.png`,
      mediaType: 'image/png',
      says: `${says}, 300 dots an inch.`,
      make: async () => pngOf(await svg(), 300),
    },
    {
      ...one,
      path: `${at}.vl.json`,
      mediaType: 'application/json',
      says: `${says}, as a Vega-Lite document (version 6) with its data in it.`,
      make: async () => `${JSON.stringify(document, null, 2)}\n`,
    },
  ];
}

/** Work that is done once, when it is first wanted. */
function shared<T>(work: () => Promise<T>): () => Promise<T> {
  let done: Promise<T> | undefined;
  return () => {
    done ??= work();
    return done;
  };
}

function photoPath({ id, file, content }: PhotoUnder): string | undefined {
  if (file === undefined || (content !== 'there' && 'why' in content)) return undefined;
  return `photos/${fileNameOf(id, '.')}.${PICTURE_ENDINGS[file.type]}`;
}

function sentenceRows({ sentences }: Statement): readonly Row[] {
  const text = (value: number | null) => (value === null ? '' : String(value));
  return sentences.map((one) => ({
    id: one.id,
    sentence: one.sentence,
    'judged by': one.by ?? '',
    'probability given': text(one.given),
    'probability of the evidence': text(one.probability),
    low: text(one.low),
    high: text(one.high),
    findings: one.findings.map(({ kind, message }) => `${kind}: ${message}`).join(' '),
  }));
}

function supportRows({ sentences }: Statement): readonly Row[] {
  return sentences.flatMap(({ id: sentence, support }) =>
    support.map(({ id, kind, description, probability, trouble }) => ({
      sentence,
      id,
      kind,
      description,
      probability: probability === null ? '' : String(probability),
      'no longer because': trouble ?? '',
    })),
  );
}

/** Local id of a sentence, for places inside a page. */
export function placeOfSentence(id: string): string {
  return `sentence-${lastOfId(id)}`;
}

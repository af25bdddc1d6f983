import type { ReadDocument } from '../../dossier/document/document.ts';
import { type ReadPart, type ReadResult, readDocument } from '../../dossier/read.ts';
import type { Catalogue } from '../../model/catalogue.ts';
import type { Dossier } from '../../model/dossier.ts';
import type { TradeFile, TradeReading } from '../../trade-files/board-design.ts';
import { type Places, placed, placesOf } from './places.ts';

/** A file as a request has it. */
export interface SentFile {
  readonly name: string;
  readonly text: string;
}

/** A trade file as a request has it: its text or its bytes, and what it leaves open. */
export interface SentTradeFile {
  readonly name: string;
  readonly text?: string;
  readonly bytes?: Uint8Array;
  readonly reading: TradeReading;
}

/** Files to be read, and as what. */
export type ReadingTask =
  | { readonly as: 'documents'; readonly files: readonly SentFile[] }
  | { readonly as: 'trade files'; readonly files: readonly SentTradeFile[] };

/** What came of a task, as it goes from thread to thread. */
export type ReadingResult =
  | { readonly as: 'documents'; readonly results: readonly SentResult[] }
  | { readonly as: 'trade files'; readonly results: readonly (TradeFile | undefined)[] };

/** A document without functions. */
type SentDocument = { readonly file: string; readonly places: Places } & (
  | { readonly kind: 'dossier'; readonly dossier: Dossier }
  | { readonly kind: 'catalogue'; readonly catalogue: Catalogue }
);

interface SentResult {
  readonly document?: SentDocument;
  readonly problems: ReadResult['problems'];
  readonly part?: Omit<ReadPart, 'document'> & { readonly document: SentDocument };
}

/** Reads files one after the other, with all that another thread needs of them. */
export async function readForAnother(task: ReadingTask): Promise<ReadingResult> {
  if (task.as === 'trade files') return { as: task.as, results: await readTrade(task.files) };
  return { as: task.as, results: task.files.map((file) => sent(read(file))) };
}

/** Reads a dossier or catalogue. */
export function read({ name, text }: SentFile): ReadResult {
  return readDocument(Buffer.from(text, 'utf8'), name);
}

/** Reads trade files that are text; undefined for those whose content shows none of the formats. The code is loaded when first needed. */
export async function readTrade(
  files: readonly SentTradeFile[],
): Promise<readonly (TradeFile | undefined)[]> {
  const { readTradeFile } = await import('../../trade-files/read.ts');
  return files.map(({ name, text, bytes, reading }) =>
    readTradeFile(bytes ?? Buffer.from(text ?? '', 'utf8'), name, reading),
  );
}

/** What was read by another thread, as {@link read} gives it. */
export function received({ document, problems, part }: SentResult): ReadResult {
  if (document) return { document: receivedDocument(document), problems: [] };
  return { problems, ...(part && { part: { ...part, document: receivedDocument(part.document) } }) };
}

function sent({ document, problems, part }: ReadResult): SentResult {
  return {
    problems,
    ...(document && { document: sentDocument(document) }),
    ...(part && { part: { ...part, document: sentDocument(part.document) } }),
  };
}

function sentDocument(document: ReadDocument): SentDocument {
  const { locate: _, written: __, ...rest } = document;
  return { ...rest, places: placesOf(document) };
}

function receivedDocument({ places, ...rest }: SentDocument): ReadDocument {
  return { ...rest, ...placed(places) };
}

import type { Readable } from 'node:stream';
import { SaxesParser } from 'saxes';
import { WorkbookFault } from './fault.ts';
import { MOST_UNPACKED } from './unpack.ts';

/** Elements in elements; sheets and texts have some ten. */
const MAX_DEPTH = 40;
/** Characters given to the parser at a time. */
const CHUNK = 1 << 16;
/** Characters without an element that begins or ends, which the parser would hold. */
const MAX_SILENT = 1 << 19;

/** What is told of the elements of a part; names are without prefixes. */
export interface PartHandlers {
  open?(name: string, attributes: Readonly<Record<string, string>>, within: string | undefined): void;
  close?(name: string, within: string | undefined): void;
  text?(text: string): void;
}

/** Thrown by a handler that has seen enough. */
export class Enough extends Error {}

/**
 * Reads a part of a workbook as it is unpacked, so that no more than a piece of it is held. What declares its own entities or leads
 * elsewhere is refused.
 * @param most bytes of it, unpacked
 * @throws WorkbookFault
 */
export async function readPart(
  stream: Readable,
  name: string,
  handlers: PartHandlers,
  most: number = MOST_UNPACKED,
): Promise<void> {
  const parser = new SaxesParser({ xmlns: false, position: false });
  const names: string[] = [];
  let silent = 0;
  parser.on('error', ({ message }) => {
    const what = message.replace(/^\d+:\d+:\s*/u, '');
    throw new WorkbookFault(`has a damaged part, ${name}: ${what}`, 'save it again; it may be cut off');
  });
  parser.on('doctype', () => {
    throw new WorkbookFault(
      `is refused: ${name} in it declares a document type, as no workbook does`,
      'save it again in a spreadsheet program',
    );
  });
  parser.on('opentag', ({ name: qualified, attributes }) => {
    silent = 0;
    if (names.length >= MAX_DEPTH)
      throw new WorkbookFault(
        `is refused: ${name} in it has more than ${MAX_DEPTH} elements in elements`,
        'save it again in a spreadsheet program',
      );
    const local = localName(qualified);
    handlers.open?.(local, attributes, names.at(-1));
    names.push(local);
  });
  parser.on('closetag', () => {
    silent = 0;
    const local = names.pop() as string;
    handlers.close?.(local, names.at(-1));
  });
  if (handlers.text) {
    const text = handlers.text.bind(handlers);
    parser.on('text', text);
    parser.on('cdata', text);
  }
  let bytes = 0;
  let decoder: InstanceType<typeof TextDecoder> | undefined;
  const write = (text: string) => {
    for (let at = 0; at < text.length; at += CHUNK) {
      silent += Math.min(CHUNK, text.length - at);
      if (silent > MAX_SILENT)
        throw new WorkbookFault(
          `is refused: ${name} in it has a text of more than ${MAX_SILENT.toLocaleString('en')} characters`,
          'shorten it, or save the list alone in a workbook of its own',
        );
      parser.write(text.slice(at, at + CHUNK));
    }
  };
  try {
    for await (const piece of stream as AsyncIterable<Buffer>) {
      bytes += piece.length;
      if (bytes > most)
        throw new WorkbookFault(
          `is refused: ${name} in it unpacks to more than ${(most / 1024 ** 2).toFixed(0)} MiB`,
          'save the list alone in a workbook of its own',
        );
      // XML in packages is UTF-8 or UTF-16 (ECMA-376, Part 2, 6.2.5).
      decoder ??= new TextDecoder(
        piece[0] === 0xfe && piece[1] === 0xff
          ? 'utf-16be'
          : piece[0] === 0xff && piece[1] === 0xfe
            ? 'utf-16le'
            : 'utf-8',
        { fatal: true },
      );
      write(decoder.decode(piece, { stream: true }));
    }
    if (decoder) write(decoder.decode());
    parser.close();
  } catch (error) {
    if (error instanceof Enough) return;
    if (error instanceof WorkbookFault) throw error;
    const { message } = error as Error;
    throw new WorkbookFault(`has a damaged part, ${name}: ${message}`, 'save it again; it may be cut off');
  } finally {
    stream.destroy();
  }
}

function localName(qualified: string): string {
  const colon = qualified.indexOf(':');
  return colon < 0 ? qualified : qualified.slice(colon + 1);
}

/** An attribute whatever its prefix: `r:id`. */
export function prefixed(attributes: Readonly<Record<string, string>>, local: string): string | undefined {
  const name = Object.keys(attributes).find((one) => one.includes(':') && localName(one) === local);
  return name === undefined ? undefined : attributes[name];
}

/** A text as the content of an element. */
export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\r', '&#13;');
}

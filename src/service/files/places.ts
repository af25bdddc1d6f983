import { type Path, type Place, pathText, type ReadDocument } from '../../dossier/document/document.ts';

/**
 * Where everything in a document stands in its file: what another thread that read the file sends along, since functions cannot
 * be sent, and reading a file again for one place takes as long as reading it at first.
 */
export interface Places {
  /** Digests of the paths, in order. */
  readonly digests: Float64Array;
  /** Line and column of each. */
  readonly places: Int32Array;
  /** Paths in the file of those that are others there, by the text of the path in the document. */
  readonly written: ReadonlyMap<string, Path>;
}

/** Places of every value of a document, in steps of its thread's own: it goes through all of it. */
export function placesOf(document: ReadDocument): Places {
  const found: { readonly digest: number; readonly place: Place }[] = [];
  const written = new Map<string, Path>();
  const visit = (value: unknown, path: Path): void => {
    const text = pathText(path);
    found.push({ digest: digestOf(text), place: document.locate(path) });
    const inFile = document.written?.(path);
    if (inFile && pathText(inFile) !== text) written.set(text, inFile);
    if (typeof value !== 'object' || value === null) return;
    for (const [key, inner] of Object.entries(value)) {
      if (inner !== undefined) visit(inner, [...path, Array.isArray(value) ? Number(key) : key]);
    }
  };
  visit(document.kind === 'dossier' ? document.dossier : document.catalogue, []);
  found.sort((a, b) => a.digest - b.digest);
  return {
    digests: Float64Array.from(found, ({ digest }) => digest),
    places: Int32Array.from(found.flatMap(({ place: { line, column } }) => [line, column])),
    written,
  };
}

/** What a document says of places, from those of another thread: for a path that is not there, of what is around it. */
export function placed({ digests, places, written }: Places): Pick<ReadDocument, 'locate' | 'written'> {
  return {
    locate(path) {
      for (let steps = path.length; steps >= 0; steps--) {
        const at = indexOf(digests, digestOf(pathText(path.slice(0, steps))));
        if (at >= 0) return { line: places[2 * at], column: places[2 * at + 1] };
      }
      return { line: 1, column: 1 };
    },
    ...(written.size > 0 && {
      written(path) {
        for (let steps = path.length; steps > 0; steps--) {
          const inFile = written.get(pathText(path.slice(0, steps)));
          if (inFile) return [...inFile, ...path.slice(steps)];
        }
        return path;
      },
    }),
  };
}

/** 53 bits of two sums of FNV-1a (Fowler, Noll and Vo): of a million paths no two are likely to have the same. */
function digestOf(text: string): number {
  let [one, other] = [0x811c9dc5, 0x01000193];
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    one = Math.imul(one ^ unit, 0x01000193);
    other = Math.imul(other ^ (unit + at), 0x85ebca6b);
  }
  return (one >>> 0) * 2 ** 21 + (other >>> 11);
}

/** Index of a number among numbers in order; negative where it is not there. */
function indexOf(numbers: Float64Array, wanted: number): number {
  let [low, high] = [0, numbers.length - 1];
  while (low <= high) {
    const middle = (low + high) >> 1;
    if (numbers[middle] === wanted) return middle;
    if (numbers[middle] < wanted) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}

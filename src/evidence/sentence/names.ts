import { type Part, partIdOf } from '../../model/catalogue.ts';
import type { Device } from '../../model/dossier.ts';
import type { State } from '../../state/state.ts';
import type { Span } from './kinds.ts';

/** Something of the archive that a sentence calls by its name. */
export interface StatedName<T> extends Span {
  readonly text: string;
  /** All that go by it. */
  readonly things: readonly T[];
}

interface NameIndex {
  readonly devices: ReadonlyMap<string, readonly Device[]>;
  readonly parts: ReadonlyMap<string, readonly Part[]>;
  /** Words with a capital in names of devices and makers. */
  readonly words: ReadonlySet<string>;
}

/** A device is called by its name, and by that without its maker's: "Sennit 3" for the Tarn Sennit 3. */
function namesIn(state: State): NameIndex {
  const makers = state.makers().map(({ name }) => name);
  const devices = state.devices().flatMap((device) => {
    const maker = state.maker(device.maker)?.name;
    const short = maker === undefined ? undefined : withoutMaker(device.name, maker);
    return [device.name, ...(short === undefined ? [] : [short])].map((name) => [name, device] as const);
  });
  return {
    devices: grouped(devices),
    parts: grouped(state.parts().map((part) => [part.number, part] as const)),
    words: new Set(
      [...makers, ...devices.map(([name]) => name)].flatMap((name) => name.match(/\p{Lu}[\p{L}-]+/gu) ?? []),
    ),
  };
}

function withoutMaker(name: string, maker: string): string | undefined {
  const [first] = maker.split(' ');
  for (const prefix of [maker, first])
    if (name.startsWith(`${prefix} `)) return name.slice(prefix.length + 1);
  return undefined;
}

function grouped<T>(pairs: readonly (readonly [string, T])[]): ReadonlyMap<string, readonly T[]> {
  return new Map(
    [...Map.groupBy(pairs, ([name]) => name)].map(([name, all]) => [name, all.map(([, one]) => one)]),
  );
}

/** Words with a capital or a digit, the only ones that a name may begin with. */
const WORD = /[\p{L}\d][\p{L}\d._+-]*/gu;
/** Words in the longest name looked for. */
const LONGEST = 5;

/** Devices that a sentence names, the longest name at each place: "Sennit 3 Slim" is no Sennit 3. */
export function devicesNamed(state: State, sentence: string): readonly StatedName<Device>[] {
  return found(sentence, state.derived(namesIn).devices);
}

/** Parts whose number a sentence gives. */
export function partsNamed(state: State, sentence: string): readonly StatedName<Part>[] {
  return found(sentence, state.derived(namesIn).parts).filter(
    ({ text }) => /\d/u.test(text) && text.length >= 4,
  );
}

/** Devices with a word of the sentence in their name, the maker's aside: "every Sennit" means all of that name. */
export function devicesOfName(state: State, sentence: string): readonly Device[] {
  const said = new Set(sentence.match(/\p{Lu}[\p{L}-]+/gu));
  return state.devices().filter(({ name, maker }) => {
    const called = withoutMaker(name, state.maker(maker)?.name ?? '') ?? name;
    return (called.match(/\p{Lu}[\p{L}-]+/gu) ?? []).some((word) => said.has(word));
  });
}

/** Words of a sentence that belong to names of devices or makers: "the first Ferrule" names a product line. */
export function properNames(state: State, sentence: string): readonly Span[] {
  const { words } = state.derived(namesIn);
  return [...sentence.matchAll(/\p{Lu}[\p{L}-]+/gu)].flatMap((match) =>
    words.has(match[0]) ? [{ start: match.index, end: match.index + match[0].length }] : [],
  );
}

function found<T>(sentence: string, names: ReadonlyMap<string, readonly T[]>): StatedName<T>[] {
  const words = [...sentence.matchAll(WORD)];
  const all: StatedName<T>[] = [];
  for (let at = 0; at < words.length; ) {
    let taken = 1;
    for (let length = Math.min(LONGEST, words.length - at); length > 0; length--) {
      const start = words[at].index;
      const last = words[at + length - 1];
      const end = last.index + last[0].replace(/[.-]+$/u, '').length;
      const text = sentence.slice(start, end);
      const things = names.get(text);
      if (!things) continue;
      all.push({ text, start, end, things });
      taken = length;
      break;
    }
    at += taken;
  }
  return all;
}

/** Ids of parts that a sentence gives by number. */
export function partIdsNamed(state: State, sentence: string): ReadonlySet<string> {
  return new Set(partsNamed(state, sentence).flatMap(({ things }) => things.map(partIdOf)));
}

import type {
  Claim,
  Feed,
  Maker,
  NamedPattern,
  Part,
  ProductLine,
  Publication,
  Source,
} from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { componentsMeant, decisionId, lastOfId, memberId, parseId, thingId } from '../model/ids.ts';
import type { ListMapping } from '../model/list-mapping.ts';
import { CasebackError } from '../model/problems.ts';
import { nearNames } from '../text/near.ts';
import type { SpecimenRow } from './facts.ts';
import { type LocalThing, localIdsOf, localThing, type OpenedSpecimen } from './specimen.ts';
import type { State } from './state.ts';

/** What an id names. `id` is canonical and may differ from the spelling in the question. */
export type Resolved =
  | Record_<'Maker', Maker>
  | Record_<'ProductLine', ProductLine>
  | Record_<'Device', Device>
  | Record_<'Part', Part>
  | Record_<'Source', Source>
  | Record_<'Publication', Publication>
  | Record_<'Pattern', NamedPattern>
  | Record_<'Feed', Feed>
  | Record_<'ListMapping', ListMapping>
  | Record_<'Specimen', SpecimenRow>
  | (Record_<'Claim', Claim> & { readonly publication: Publication })
  | (LocalThing & { readonly opened: OpenedSpecimen })
  | {
      readonly kind: 'Decision';
      readonly id: string;
      readonly device: Device;
      readonly pattern: NamedPattern;
    };

interface Record_<K extends string, T> {
  readonly kind: K;
  readonly id: string;
  readonly thing: T;
}

export type ResolvedKind = Resolved['kind'];

/**
 * The kind and record of anything visible by its id, or undefined. For a decision it checks device and pattern only;
 * whether the pattern fits the device takes work, see `decisionById`.
 */
export function resolve(state: State, id: string): Resolved | undefined {
  const parsed = parseId(id);
  switch (parsed?.form) {
    case 'record':
      return resolveRecord(state, id);
    case 'member':
      return resolveMember(state, id, parsed.record, parsed.member);
    case 'thing': {
      const opened = state.specimen(memberId(parsed.device, parsed.specimen));
      const found = opened && localThing(opened, parsed.local);
      return opened && found && { ...found, opened };
    }
    case 'decision': {
      const [device, pattern] = [state.device(parsed.device), state.pattern(parsed.pattern)];
      return device && pattern && { kind: 'Decision', id, device, pattern };
    }
    case undefined:
      return undefined;
    default:
      return parsed satisfies never;
  }
}

function resolveRecord(state: State, id: string): Resolved | undefined {
  const device = state.device(id);
  if (device) return { kind: 'Device', id, thing: device };
  const publication = state.publication(id);
  if (publication) return { kind: 'Publication', id, thing: publication };
  const source = state.source(id);
  if (source) return { kind: 'Source', id, thing: source };
  const pattern = state.pattern(id);
  if (pattern) return { kind: 'Pattern', id, thing: pattern };
  const feed = state.feed(id);
  if (feed) return { kind: 'Feed', id, thing: feed };
  const mapping = state.listMapping(id);
  if (mapping) return { kind: 'ListMapping', id, thing: mapping };
  const maker = state.maker(id);
  if (maker) return { kind: 'Maker', id, thing: maker };
  const productLine = state.productLine(id);
  return productLine && { kind: 'ProductLine', id, thing: productLine };
}

function resolveMember(state: State, id: string, record: string, member: string): Resolved | undefined {
  const specimen = state.specimenRow(id);
  if (specimen) return { kind: 'Specimen', id, thing: specimen };
  const part = state.part(id);
  if (part) return { kind: 'Part', id, thing: part };
  const publication = state.publication(record);
  const claim = publication?.claims.find((item) => item.id === member);
  return publication && claim && { kind: 'Claim', id, thing: claim, publication };
}

/**
 * What an id of the given kinds names.
 * @throws CasebackError NOT_FOUND with near visible ids
 */
export function resolved<K extends ResolvedKind>(
  state: State,
  id: string,
  kinds: readonly K[],
): Extract<Resolved, { kind: K }> {
  const found = resolve(state, id);
  if (found && (kinds as readonly string[]).includes(found.kind))
    return found as Extract<Resolved, { kind: K }>;
  throw notFound(state, id, kinds);
}

/** Kinds as shown in messages. */
const WORDS: Readonly<Record<ResolvedKind, string>> = {
  Maker: 'maker',
  ProductLine: 'product line',
  Device: 'device',
  Part: 'part',
  Source: 'source',
  Publication: 'publication',
  Pattern: 'named pattern',
  Feed: 'feed',
  ListMapping: 'list mapping',
  Specimen: 'specimen',
  Claim: 'claim',
  Component: 'component',
  Board: 'board',
  Observation: 'observation',
  Photo: 'photo',
  Subsystem: 'subsystem',
  Net: 'net',
  Teardown: 'teardown',
  Decision: 'decision',
};

/** Examples of ids that are not single words. */
const EXAMPLES: Partial<Readonly<Record<ResolvedKind, string>>> = {
  Component: 'tarn-sennit-3/a/U3',
  Observation: 'tarn-sennit-3/a/o2',
  Specimen: 'tarn-sennit-3/a',
  Net: 'tarn-sennit-3/a/vdd',
  Part: 'quistle/QWR4T10',
  Claim: 'bench-letter-31/c1',
  Decision: 'tarn-sennit-3:duplicated-sensors',
};

/**
 * Error for an id that nothing visible (of the given kinds) has, with near visible ids.
 * @param kinds only of these kinds; any when left out
 */
export function notFound(state: State, id: string, kinds?: readonly ResolvedKind[]): CasebackError {
  const what = kinds ? `No ${either(kinds.map((kind) => WORDS[kind]))} "${id}"` : `Nothing called "${id}"`;
  return new CasebackError('NOT_FOUND', `${what} is in the archive${hint(state, id, kinds)}`);
}

/** Error for questions about the content of a device that has no specimen. */
export function notOpened(device: Device): CasebackError {
  return new CasebackError(
    'NOT_FOUND',
    `Nobody has opened ${device.name} yet: no specimen of "${device.id}" is in the archive`,
  );
}

function hint(state: State, id: string, kinds: readonly ResolvedKind[] | undefined): string {
  const near = nearHint(state, id, kinds);
  if (near !== '') return near;
  const other = resolve(state, id);
  if (other && !kinds?.includes(other.kind)) return `; that is the id of a ${WORDS[other.kind]}`;
  const example = kinds?.map((kind) => EXAMPLES[kind]).find((text) => text !== undefined);
  return example && parseId(example)?.form !== parseId(id)?.form ? `; ids look like "${example}"` : '';
}

/** `; did you mean "tarn-sennit-3"?` where something visible is near, else nothing. */
export function nearHint(state: State, id: string, kinds?: readonly ResolvedKind[]): string {
  const near = nearIds(state, id, kinds);
  return near.length > 0 ? `; did you mean ${either(near.map((nearId) => `"${nearId}"`))}?` : '';
}

/**
 * Visible ids near a mistyped id, nearest first, at most three. Each step is compared separately: a mistyped component
 * is looked up in its specimen or, when the specimen is mistyped, in specimens near it.
 * @param kinds only of these kinds; any when left out
 */
export function nearIds(state: State, id: string, kinds?: readonly ResolvedKind[]): readonly string[] {
  const wants = (kind: ResolvedKind) => kinds === undefined || kinds.includes(kind);
  const parsed = parseId(id);
  switch (parsed?.form) {
    case 'member':
      return nearMembers(state, parsed.record, parsed.member, wants);
    case 'thing': {
      const exact = state.specimen(memberId(parsed.device, parsed.specimen));
      const meant = exact ? componentsMeant(exact.dossier.components, parsed.local) : [];
      if (exact && meant.length > 1) return meant.map(({ id: local }) => thingId(exact.id, local));
      const specimens = existingOrNear(exact !== undefined, memberId(parsed.device, parsed.specimen), () =>
        nearMembers(state, parsed.device, parsed.specimen, (kind) => kind === 'Specimen'),
      );
      return under(specimens, parsed.local, thingId, (specimen) => {
        const opened = state.specimen(specimen);
        return opened
          ? localIdsOf(opened).filter((local) => wants(localThing(opened, local)?.kind ?? 'Component'))
          : [];
      });
    }
    case 'decision': {
      if (!wants('Decision')) return [];
      const devices = existingOrNear(state.device(parsed.device) !== undefined, parsed.device, () =>
        nearRecords(state, parsed.device, (kind) => kind === 'Device'),
      );
      const patterns = [...state.patterns()].map((pattern) => pattern.id);
      return under(devices, parsed.pattern, decisionId, () => patterns);
    }
    case 'record':
    case undefined:
      return nearRecords(state, id, wants);
    default:
      return parsed satisfies never;
  }
}

type Wants = (kind: ResolvedKind) => boolean;

function nearRecords(state: State, id: string, wants: Wants): readonly string[] {
  return nearNames(id, recordIds(state, wants));
}

function* recordIds(state: State, wants: Wants): Generator<string> {
  if (wants('Device')) for (const { id } of state.devices()) yield id;
  if (wants('ProductLine')) for (const { id } of state.productLines()) yield id;
  if (wants('Maker')) for (const { id } of state.makers()) yield id;
  if (wants('Publication')) for (const { id } of state.publications()) yield id;
  if (wants('Pattern')) for (const { id } of state.patterns()) yield id;
  if (wants('Feed')) for (const { id } of state.feeds()) yield id;
  if (wants('ListMapping')) for (const { id } of state.listMappings()) yield id;
  if (wants('Source')) for (const { id } of state.sources()) yield id;
}

function nearMembers(state: State, record: string, member: string, wants: Wants): readonly string[] {
  const holders = (kind: ResolvedKind) =>
    (kind === 'Device' && wants('Specimen')) ||
    (kind === 'Maker' && wants('Part')) ||
    (kind === 'Publication' && wants('Claim'));
  const known = [state.device(record), state.maker(record), state.publication(record)].some(
    (found) => found !== undefined,
  );
  const records = existingOrNear(known, record, () => nearRecords(state, record, holders));
  return under(records, member, memberId, (id) => membersOf(state, id, wants));
}

function* membersOf(state: State, record: string, wants: Wants): Generator<string> {
  if (wants('Specimen')) for (const { id } of state.specimensOf(record)) yield lastOfId(id);
  if (wants('Claim')) for (const { id } of state.publication(record)?.claims ?? []) yield id;
  if (wants('Part') && state.maker(record))
    for (const { maker, number } of state.parts()) if (maker === record) yield number;
}

function existingOrNear(exists: boolean, id: string, near: () => readonly string[]): readonly string[] {
  return exists ? [id] : near();
}

/** Ids near an id under parents that exist or are near themselves: with its last step as it is, or with near ones. */
function under(
  holders: readonly string[],
  last: string,
  print: (holder: string, last: string) => string,
  lastsOf: (holder: string) => Iterable<string>,
): readonly string[] {
  return holders
    .flatMap((holder) => {
      const lasts = [...lastsOf(holder)];
      const near = lasts.includes(last) && holders.length > 0 ? [last] : nearNames(last, lasts);
      return near.map((name) => print(holder, name));
    })
    .slice(0, 3);
}

function either(words: readonly string[]): string {
  return words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

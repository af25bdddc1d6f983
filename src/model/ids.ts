import { designatorOf, parseDesignator } from './designator.ts';
import { SLUG } from './identifiers.ts';

// Every id of the archive is read and written here and nowhere else; to everyone outside `model/` it is a text.
//
//   tarn-sennit-3                  record: maker, product line, device, source, publication, pattern, correction
//   quistle/QWR4T10               part: maker, number
//   tarn-sennit-3/a                specimen: device, local id
//   bench-letter-31/c1           claim: publication, local id
//   tarn-sennit-3/a/U3             thing inside a dossier: component, board, observation, photo, subsystem, `teardown`
//   tarn-sennit-3/a/main:C1        component with its board, where the designator alone is not enough
//   tarn-sennit-3:one-big-chip     decision: device, pattern

/** What the form of an id says. Which kind of record or member it is, only the archive knows: see `state/resolve.ts`. */
export type Id = RecordId | MemberId | ThingId | DecisionId;

/** A record with an id of its own. */
export interface RecordId {
  readonly form: 'record';
  readonly record: string;
}

/** Something under a record: a part of a maker, a specimen of a device, a claim of a publication. */
export interface MemberId {
  readonly form: 'member';
  readonly record: string;
  readonly member: string;
}

/** Something inside the dossier of a specimen. */
export interface ThingId {
  readonly form: 'thing';
  readonly device: string;
  /** Local id of the specimen. */
  readonly specimen: string;
  /** Local id of the thing, as {@link parseLocalId} reads it. */
  readonly local: string;
}

/** What a named pattern suggests of a device. */
export interface DecisionId {
  readonly form: 'decision';
  readonly device: string;
  readonly pattern: string;
}

/** Local id of the teardown of every dossier. */
export const TEARDOWN = 'teardown';

/** Reads an id by its form; undefined when it has none of them. */
export function parseId(text: string): Id | undefined {
  const steps = text.split('/');
  if (steps.includes('')) return undefined;
  const [first, second, third] = steps;
  switch (steps.length) {
    case 1: {
      const [device, pattern, ...more] = first.split(':');
      if (pattern === undefined) return { form: 'record', record: first };
      if (device === '' || pattern === '' || more.length > 0) return undefined;
      return { form: 'decision', device, pattern };
    }
    case 2:
      return { form: 'member', record: first, member: second };
    case 3:
      return { form: 'thing', device: first, specimen: second, local: third };
    default:
      return undefined;
  }
}

/** Writes an id; {@link parseId} reads it back. */
export function printId(id: Id): string {
  switch (id.form) {
    case 'record':
      return id.record;
    case 'member':
      return memberId(id.record, id.member);
    case 'thing':
      return thingId(memberId(id.device, id.specimen), id.local);
    case 'decision':
      return decisionId(id.device, id.pattern);
    default:
      return id satisfies never;
  }
}

/** Id of a part, specimen or claim, under its maker, device or publication. */
export function memberId(record: string, member: string): string {
  return `${record}/${member}`;
}

/** Id of something inside a dossier. @param specimen id of the specimen, `device/specimen` */
export function thingId(specimen: string, local: string): string {
  return `${specimen}/${local}`;
}

/** Id of a decision. */
export function decisionId(device: string, pattern: string): string {
  return `${device}:${pattern}`;
}

/** Device and pattern of a decision's id; undefined for any other id. */
export function parseDecisionId(text: string): DecisionId | undefined {
  const id = parseId(text);
  return id?.form === 'decision' ? id : undefined;
}

/** Parts of the id of something inside a dossier; undefined for any other id. */
export function parseThingId(text: string): ThingId | undefined {
  const id = parseId(text);
  return id?.form === 'thing' ? id : undefined;
}

/** Parts of the id of a part, specimen or claim; undefined for any other id. */
export function parseMemberId(text: string): MemberId | undefined {
  const id = parseId(text);
  return id?.form === 'member' ? id : undefined;
}

// The following ask an id that is known to be of one form, and take no more time than finding a slash.

/** The record that an id belongs to: the device of a specimen or thing, the maker of a part, the publication of a claim. */
export function recordOfId(id: string): string {
  const cut = id.indexOf('/');
  return cut < 0 ? id : id.slice(0, cut);
}

/** The specimen, `device/specimen`, that something inside a dossier belongs to. */
export function specimenOfId(thing: string): string {
  return thing.slice(0, thing.lastIndexOf('/'));
}

/** The specimen that an id names or lies in; for any other id, that id. */
export function specimenNamed(id: string): string {
  return parseThingId(id) ? specimenOfId(id) : id;
}

/** An id as part of a file name. @param joint replaces the slashes */
export function fileNameOf(id: string, joint: '.' | '-'): string {
  return id.replaceAll('/', joint).replaceAll(':', joint);
}

/** The last step of an id: the local id of a thing, specimen or claim, the number of a part. */
export function lastOfId(id: string): string {
  return id.slice(id.lastIndexOf('/') + 1);
}

/** Whether something lies inside something else, by their ids: a thing in its specimen, a specimen under its device. */
export function isInside(id: string, outer: string): boolean {
  return id.length > outer.length && id.startsWith(outer) && id[outer.length] === '/';
}

/** What a local id names inside a dossier. */
export type LocalId = PlainLocalId | ComponentId | PinId;

/** A board, observation, photo, subsystem or the teardown: lower-case words. */
export interface PlainLocalId {
  readonly form: 'plain';
  readonly id: string;
}

/** A component by its designator, `U3`, or with its board, `main:U3`. */
export interface ComponentId {
  readonly form: 'component';
  readonly board?: string;
  readonly designator: string;
}

/** A pin of a component, `U3.4`, `main:U3.SDA`. */
export interface PinId {
  readonly form: 'pin';
  readonly board?: string;
  readonly designator: string;
  /** Number or name. */
  readonly pin: string;
}

/** Names of pins may hold dots and slashes, `U7.P0.18/NRESET`; a designator holds neither. */
const COMPONENT = /^(?:([^:./\s]+):)?([A-Z][^:./\s]*)(?:\.([^:\s]+))?$/u;

/** Reads a local id; undefined when it is neither a designator, with or without board and pin, nor lower-case words. */
export function parseLocalId(text: string): LocalId | undefined {
  const found = COMPONENT.exec(text);
  const [, board, designator = '', pin] = found ?? [];
  if (parseDesignator(designator) === undefined || (board !== undefined && !SLUG.test(board)))
    return SLUG.test(text) ? { form: 'plain', id: text } : undefined;
  const on = board === undefined ? {} : { board };
  return pin === undefined
    ? { form: 'component', ...on, designator }
    : { form: 'pin', ...on, designator, pin };
}

/** Writes a local id; {@link parseLocalId} reads it back. */
export function printLocalId(id: LocalId): string {
  switch (id.form) {
    case 'plain':
      return id.id;
    case 'component':
      return componentId(id.board, id.designator);
    case 'pin':
      return pinId(componentId(id.board, id.designator), id.pin);
    default:
      return id satisfies never;
  }
}

/** Local id of a component with its board, or plain without one. */
export function componentId(board: string | undefined, designator: string): string {
  return board === undefined ? designator : `${board}:${designator}`;
}

/** Local id of a pin. @param component local id of its component */
export function pinId(component: string, pin: string): string {
  return `${component}.${pin}`;
}

/** A pin reference taken apart: local id of the component, and the pin where it is named. */
export function pinOf(reference: string): { readonly component: string; readonly pin?: string } {
  const dot = reference.indexOf('.');
  return dot < 0
    ? { component: reference }
    : { component: reference.slice(0, dot), pin: reference.slice(dot + 1) };
}

/** As much of a component as its ids are made of. */
export interface Placed {
  /** Local id: the designator alone, or with the board. */
  readonly id: string;
  readonly board?: string | undefined;
}

/**
 * Components that a reference may mean, of those of one dossier: `main:C1` the one on that board, `C1` every one of that
 * designator, but where one is on no board that one alone, since it has no longer name. Several are an ambiguity.
 */
export function componentsMeant<C extends Placed>(components: readonly C[], reference: string): readonly C[] {
  const parsed = parseLocalId(reference);
  if (parsed?.form !== 'component') return [];
  const { board, designator } = parsed;
  const named = components.filter(({ id }) => designatorOf(id) === designator);
  if (board !== undefined) return named.filter((one) => one.board === board);
  const unplaced = named.filter((one) => one.board === undefined);
  return unplaced.length > 0 ? unplaced : named;
}

/** A component by an id of either spelling; where the short one fits several, the one that has it as its id. */
export function componentMeant<C extends Placed>(components: readonly C[], reference: string): C | undefined {
  const meant = componentsMeant(components, reference);
  return meant.length === 1 ? meant[0] : components.find(({ id }) => id === reference);
}

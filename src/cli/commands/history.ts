import { localIds } from '../../dossier/check/local-ids.ts';
import { onOneLine } from '../../export/table.ts';
import { recordId } from '../../model/catalogue.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import type { Entry } from '../../model/entry.ts';
import {
  componentMeant,
  decisionId,
  isInside,
  lastOfId,
  parseThingId,
  recordOfId,
  specimenOfId,
  thingId,
} from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { didYouMean } from '../../text/near.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, quoted } from '../frame/exit.ts';
import { whole } from '../frame/options.ts';

export const command = defineCommand({
  name: 'history',
  about:
    'Without an id: every entry of the journal, oldest first: sequence, instant, who, what, why. With one: the entries about that record, device, specimen or anything inside it. json has the complete entries.',
  arguments: [{ name: 'ID', help: 'what the entries must be about', optional: true }],
  options: { last: whole('N', { help: 'only the last N entries', min: 1 }) },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['history --last 20', 'history tarn-sennit-3', 'history tarn-sennit-3/a/U3 --format json'],

  // Written entry by entry, since a journal may be longer than memory.
  async run(call) {
    const [id] = call.arguments;
    const { last } = call.options;
    const asJson = call.format === 'json';
    let written = 0;
    const write = (text: string) => {
      const before = written === 0 ? '[\n' : ',\n';
      call.terminal.out(asJson ? `${before}${text}` : `${text}\n`);
      written++;
    };
    // Lines are held back only where the last ones are asked for.
    const held: string[] = [];
    const subjects = new Set<string>();
    let recorded = id;
    // The entry of a dossier tells of everything in it, so that what was never there must be told apart.
    const isThing = id !== undefined && parseThingId(id) !== undefined;
    const locals = new Set<string>();
    for await (const entries of call.journal().read()) {
      for (const entry of entries) {
        if (id !== undefined) subjects.add(subjectOf(entry)).add(recordOfId(subjectOf(entry)));
        if (id !== undefined && recorded !== undefined) {
          if (isThing) for (const local of localsIn(entry, specimenOfId(id))) locals.add(local);
          recorded = recordedAs(id, entry) ?? recorded;
          if (!concerns(entry, recorded)) continue;
        }
        const line = asJson ? JSON.stringify(entry) : lineOf(entry);
        if (last === undefined && !isThing) write(line);
        else {
          held.push(line);
          if (last !== undefined && held.length > last) held.shift();
        }
      }
    }
    if (isThing && recorded !== undefined && !locals.has(lastOfId(recorded))) {
      const specimen = specimenOfId(recorded);
      if (locals.size > 0) {
        const near = didYouMean(lastOfId(recorded), locals);
        throw new CasebackError(
          'NOT_FOUND',
          `nothing in ${specimen} was ever called ${quoted(lastOfId(recorded))}${near ? `; ${near}` : ''}`,
        );
      }
      held.length = 0;
    }
    held.forEach(write);
    if (asJson) call.terminal.out(written === 0 ? '[]\n' : '\n]\n');
    if (id !== undefined && written === 0) {
      const near = didYouMean(id, subjects);
      throw new CasebackError('NOT_FOUND', `no entry is about ${quoted(id)}${near ? `; ${near}` : ''}`);
    }
    return EXIT.fine;
  },
});

/** The id under which a dossier has the component that an id means, when the entry is that dossier. */
function recordedAs(id: string, entry: Entry): string | undefined {
  const thing = parseThingId(id);
  if (!thing || entry.kind !== 'dossier-put' || specimenIdOf(entry.payload) !== specimenOfId(id))
    return undefined;
  const meant = componentMeant(entry.payload.components, thing.local);
  return meant && thingId(specimenOfId(id), meant.id);
}

/** Local ids of a specimen that an entry brings. */
function localsIn(entry: Entry, specimen: string): readonly string[] {
  if (entry.kind === 'dossier-put')
    return specimenIdOf(entry.payload) === specimen
      ? ['teardown', ...localIds(entry.payload).map((one) => one.id)]
      : [];
  if (entry.kind === 'observation-recorded')
    return entry.payload.specimen === specimen ? [entry.payload.observation.id] : [];
  return [];
}

function lineOf(entry: Entry): string {
  const { sequence, instant, actor, kind, reason } = entry;
  return onOneLine(
    `${String(sequence).padStart(6)}  ${instant}  ${actor}  ${kind} ${subjectOf(entry)}  ${reason}`,
  );
}

/** Global id of what an entry is about. */
function subjectOf(entry: Entry): string {
  switch (entry.kind) {
    case 'record-put':
      return recordId(entry.payload.collection, entry.payload.record);
    case 'dossier-put':
      return specimenIdOf(entry.payload);
    case 'observation-recorded':
      return thingId(entry.payload.specimen, entry.payload.observation.id);
    case 'observation-withdrawn':
      return thingId(entry.payload.specimen, entry.payload.observation);
    case 'identification-set':
      return thingId(entry.payload.specimen, entry.payload.identification.component);
    case 'identification-judged':
      return thingId(entry.payload.specimen, entry.payload.judgement.component);
    case 'decision-judged':
      return decisionId(entry.payload.device, entry.payload.pattern);
    case 'correction-made':
      return entry.payload.id;
    default:
      return entry satisfies never;
  }
}

/** Whether an entry is about an id, something inside it, or the dossier or publication that holds it. */
function concerns(entry: Entry, id: string): boolean {
  const subject = subjectOf(entry);
  if (subject === id || isInside(subject, id)) return true;
  switch (entry.kind) {
    case 'dossier-put':
      return isInside(id, subject);
    case 'record-put':
      // What is inside a device is in its dossiers.
      return entry.payload.collection !== 'devices' && isInside(id, subject);
    case 'observation-recorded':
      return entry.payload.observation.about.some((local) => thingId(entry.payload.specimen, local) === id);
    case 'observation-withdrawn':
    case 'identification-set':
    case 'identification-judged':
      return false;
    case 'decision-judged':
      return entry.payload.device === id;
    case 'correction-made':
      return entry.payload.publications.some(({ publication }) => publication === id);
    default:
      return entry satisfies never;
  }
}

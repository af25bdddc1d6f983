import { isDeepStrictEqual } from 'node:util';
import type { Claim } from '../model/catalogue.ts';
import type { Identification } from '../model/dossier.ts';
import { parseId, specimenOfId } from '../model/ids.ts';
import { localThing } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import type { ClaimFinding } from './audit.ts';

/** What is on record of the things that a claim names, by id: their fields, and what components are identified as. */
export type RecordsUnder = ReadonlyMap<string, Readonly<Record<string, unknown>>>;

/** The records of the devices, parts, boards and components that a claim names, in a state. */
export function recordsUnder(state: State, claim: Claim): RecordsUnder {
  return new Map(
    claim.supportedBy.flatMap((id) => {
      const record = recordOf(state, id);
      return record ? [[id, record] as const] : [];
    }),
  );
}

function recordOf(state: State, id: string): Readonly<Record<string, unknown>> | undefined {
  const parsed = parseId(id);
  if (parsed?.form === 'record') return state.device(id);
  if (parsed?.form === 'member') {
    const { parameters, ...part } = state.part(id) ?? {};
    // Each parameter is a fact of its own.
    return parameters && { ...part, ...parameters };
  }
  if (parsed?.form !== 'thing') return undefined;
  const opened = state.specimen(specimenOfId(id));
  const found = opened && localThing(opened, parsed.local);
  if (found?.kind === 'Component') {
    return {
      ...found.thing,
      'what it is identified as': candidateNames(opened?.identified.get(found.thing.id)),
    };
  }
  return found?.kind === 'Board' ? { ...found.thing } : undefined;
}

/** Names of the candidates, likeliest first. How likely they are, the sentence's own number says. */
function candidateNames(identification: Identification | undefined): readonly string[] | undefined {
  return identification?.candidates
    .toSorted((a, b) => b.probability - a.probability)
    .flatMap(({ part, category, maker }) => part ?? category ?? maker ?? []);
}

/** What changed on record of the things under a claim, one by one, although they may support it as well as before. */
export function alteredUnder(before: RecordsUnder, after: RecordsUnder): ClaimFinding[] {
  return [...after].flatMap(([id, now]) => {
    const then = before.get(id);
    if (!then) return [];
    const fields = [...new Set([...Object.keys(then), ...Object.keys(now)])].filter(
      (field) => !isDeepStrictEqual(then[field], now[field]),
    );
    if (fields.length === 0) return [];
    const what = fields.map(
      (field) => `${field} (${valueText(then[field])} before, ${valueText(now[field])} now)`,
    );
    return [
      {
        kind: 'withdrawn' as const,
        about: `record ${id}`,
        message: `It is supported by ${id}, whose record has changed: ${what.join('; ')}.`,
      },
    ];
  });
}

function valueText(value: unknown): string {
  if (value === undefined || value === null) return 'nothing';
  if (Array.isArray(value)) return value.map(valueText).join(' or ') || 'nothing';
  if (typeof value !== 'object') return String(value);
  const { value: number, unit } = value as Readonly<Record<string, unknown>>;
  return number !== undefined && unit !== undefined ? `${number} ${unit}` : JSON.stringify(value);
}

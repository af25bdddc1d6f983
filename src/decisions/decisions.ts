import { LRUCache } from 'lru-cache';
import type { NamedPattern } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { decisionId, parseDecisionId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import type { PatternDevice } from '../patterns/answer.ts';
import { findPattern } from '../patterns/find.ts';
import { excerptOf } from '../state/excerpt.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { resolved } from '../state/resolve.ts';
import { holdsUnnamed } from '../state/unnamed-kinds.ts';
import type { View } from '../state/view.ts';
import { type Decision, decisionOf, evidenceDigest } from './decision.ts';

export type { Decision };

/** What a pattern found in a device. */
interface Finding {
  readonly pattern: NamedPattern;
  readonly device: PatternDevice | undefined;
}

/** What the patterns found in one device, by pattern id. */
type Found = Map<string, Finding>;

/** Devices whose findings are kept; one has some dozens of matches. */
const KEPT_DEVICES = 2_000;

/** What was found in a device, and what that follows from. */
interface Kept {
  readonly found: Found;
  readonly specimens: readonly SpecimenRow[];
  /** What was learnt of kinds that its unnamed components may be: it changes without an entry that touches the device. */
  readonly learnt: string;
  readonly device: Device | undefined;
  readonly records: Pick<View['facts']['records'], 'parts' | 'makers' | 'productLines'>;
}

/**
 * What was found in devices lately asked about; found anew where the device, its specimens or the catalogue changed.
 */
const keptFindings = () => new LRUCache<string, Kept>({ max: KEPT_DEVICES });

function keptFoundIn(view: View, deviceId: string): Found {
  const kept = view.home.kept(keptFindings);
  const specimens = view.specimensOf(deviceId);
  const learnt = specimens
    .flatMap(({ id, columns }) => (holdsUnnamed(columns) ? [...(view.specimen(id)?.learnt ?? [])] : []))
    .map(({ number }) => number)
    .join();
  const device = view.device(deviceId);
  const { parts, makers, productLines } = view.facts.records;
  const before = kept.get(deviceId);
  if (
    before &&
    before.device === device &&
    before.learnt === learnt &&
    before.specimens.length === specimens.length &&
    specimens.every((row, i) => row === before.specimens[i]) &&
    before.records.parts === parts &&
    before.records.makers === makers &&
    before.records.productLines === productLines
  )
    return before.found;
  const found: Found = new Map();
  kept.set(deviceId, { found, specimens, learnt, device, records: { parts, makers, productLines } });
  return found;
}

/**
 * The design decisions that named patterns suggest of a visible device, likeliest first, rejected ones included with
 * their standing. Worked out when first asked for and kept until an entry touches the device.
 * @throws CasebackError NOT_FOUND when the view holds no such device
 */
export async function decisionsOf(
  view: View,
  deviceId: string,
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  const decisions = [...(await ownDecisionsOf(view, deviceId, signal))];
  for (const pattern of view.patterns()) {
    if (pattern.scope !== 'archive') continue;
    const specimens = new Set(view.specimensOf(deviceId).map(({ id }) => id));
    const { devices } = await findPattern(view, { text: pattern.text, scope: 'archive', specimens, signal });
    const [device] = devices;
    if (device) decisions.push(withStanding(view, pattern, device));
  }
  return decisions.sort(byProbability);
}

/**
 * Those of {@link decisionsOf} whose pattern lies within the device: they follow from its own dossiers.
 * @throws CasebackError NOT_FOUND when the view holds no such device
 */
export async function ownDecisionsOf(
  view: View,
  deviceId: string,
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  resolved(view, deviceId, ['Device']);
  const found = await foundIn(view, deviceId, signal);
  return found
    .flatMap(({ pattern, device }) => (device ? [withStanding(view, pattern, device)] : []))
    .sort(byProbability);
}

function byProbability(a: Decision, b: Decision): number {
  return b.probability - a.probability || (a.id < b.id ? -1 : 1);
}

/**
 * One decision by its id; undefined when the pattern does not fit the device, or either is not visible.
 */
export async function decisionById(
  view: View,
  id: string,
  signal?: AbortSignal,
): Promise<Decision | undefined> {
  const read = parseDecisionId(id);
  const pattern = read && view.pattern(read.pattern);
  if (!pattern || !view.device(read.device)) return undefined;
  const all = pattern.scope === 'archive' ? decisionsOf : ownDecisionsOf;
  return (await all(view, read.device, signal)).find((one) => one.id === id);
}

/**
 * One decision by its id.
 * @throws CasebackError NOT_FOUND when the pattern does not fit the device, or there is no such device or pattern
 */
export async function decisionNamed(view: View, id: string, signal?: AbortSignal): Promise<Decision> {
  const decision = await decisionById(view, id, signal);
  if (decision) return decision;
  const { device, pattern } = resolved(view, id, ['Decision']);
  throw new CasebackError(
    'NOT_FOUND',
    `No pattern suggests a decision "${id}": ${device.name} does not show "${pattern.name}"`,
  );
}

/**
 * The decision of one pattern in every visible device that may show it, by device id.
 * @throws CasebackError NOT_FOUND when no pattern has the id
 */
export async function decisionsByPattern(
  view: View,
  patternId: string,
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  const { thing: pattern } = resolved(view, patternId, ['Pattern']);
  const { text, scope } = pattern;
  const { devices } = await findPattern(view, { text, scope, signal });
  return devices.map((device) => withStanding(view, pattern, device));
}

function withStanding(view: View, pattern: NamedPattern, device: PatternDevice): Decision {
  const judgements = view.judgementsOf(decisionId(device.deviceId, pattern.id));
  return decisionOf(pattern, device, judgements, () => digestOf(view, pattern, device));
}

/** Digest of what supports a decision, as the view sees it. */
export function digestOf(
  view: View,
  pattern: NamedPattern,
  { matches }: Pick<PatternDevice, 'matches'>,
): string {
  return evidenceDigest(pattern, matches, (id) => view.specimen(id));
}

/** The same with its bindings looked up, so that what is kept does not keep the graph that was searched. */
function detached({ matches, ...device }: PatternDevice): PatternDevice {
  const plain = matches.map(({ specimenId, bindings, certain, probability }) => {
    return { specimenId, bindings, certain, probability };
  });
  return { ...device, matches: plain };
}

/** What each pattern that lies within one device finds in it; a search that is cut short is not kept. */
async function foundIn(view: View, deviceId: string, signal?: AbortSignal): Promise<readonly Finding[]> {
  const found = keptFoundIn(view, deviceId);
  const patterns = view.patterns().filter(({ scope }) => scope !== 'archive');
  let small: View | undefined;
  const findings: Finding[] = [];
  for (const pattern of patterns) {
    const kept = found.get(pattern.id);
    if (kept?.pattern === pattern) {
      findings.push(kept);
      continue;
    }
    small ??= excerptOf(view, [deviceId]);
    const { devices, complete } = await findPattern(small, { text: pattern.text, signal });
    const finding = { pattern, device: devices[0] && detached(devices[0]) };
    if (complete) found.set(pattern.id, finding);
    findings.push(finding);
  }
  return findings;
}

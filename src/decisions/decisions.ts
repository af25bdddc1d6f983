import { LRUCache } from 'lru-cache';
import type { NamedPattern } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { decisionId, parseDecisionId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import type { PatternDevice } from '../patterns/answer.ts';
import { findPattern } from '../patterns/find.ts';
import { searchablePatterns } from '../patterns/searchable.ts';
import { excerptOf } from '../state/excerpt.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { holdsUnnamed } from '../state/unnamed/unnamed-kinds.ts';
import { type Decision, decisionOf, evidenceDigest, joinedEvidence } from './decision.ts';

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
  readonly records: Pick<State['facts']['records'], 'parts' | 'makers' | 'productLines'>;
}

/**
 * What was found in devices lately asked about; found anew where the device, its specimens or the catalogue changed.
 */
const keptFindings = () => new LRUCache<string, Kept>({ max: KEPT_DEVICES });
/** What a change tried out would show is kept with its state: it must not take the place of what is so. */
const findingsOfWhatIf = (_: State) => keptFindings();

function keptFoundIn(state: State, deviceId: string): Found {
  const kept = state.whatIf ? state.derived(findingsOfWhatIf) : state.shared.kept(keptFindings);
  const specimens = state.specimensOf(deviceId);
  const learnt = specimens
    .flatMap(({ id, columns }) => (holdsUnnamed(columns) ? [...(state.specimen(id)?.learnt ?? [])] : []))
    .map(({ number }) => number)
    .join();
  const device = state.device(deviceId);
  const { parts, makers, productLines } = state.facts.records;
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
 * @throws CasebackError NOT_FOUND when the state holds no such device
 */
export async function decisionsOf(
  state: State,
  deviceId: string,
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  const decisions = [...(await ownDecisionsOf(state, deviceId, signal))];
  for (const pattern of searchablePatterns(state)) {
    if (pattern.scope !== 'archive') continue;
    const specimens = new Set(state.specimensOf(deviceId).map(({ id }) => id));
    const { devices } = await findPattern(state, { text: pattern.text, scope: 'archive', specimens, signal });
    const [device] = devices;
    if (device) decisions.push(withStanding(state, pattern, device));
  }
  return decisions.sort(byProbability);
}

/**
 * Those of {@link decisionsOf} whose pattern lies within the device: they follow from its own dossiers.
 * @throws CasebackError NOT_FOUND when the state holds no such device
 */
export async function ownDecisionsOf(
  state: State,
  deviceId: string,
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  resolved(state, deviceId, ['Device']);
  const found = await foundIn(state, deviceId, signal);
  return found
    .flatMap(({ pattern, device }) => (device ? [withStanding(state, pattern, device)] : []))
    .sort(byProbability);
}

function byProbability(a: Decision, b: Decision): number {
  return b.probability - a.probability || (a.id < b.id ? -1 : 1);
}

/**
 * One decision by its id; undefined when the pattern does not fit the device, or either is not visible.
 */
export async function decisionById(
  state: State,
  id: string,
  signal?: AbortSignal,
): Promise<Decision | undefined> {
  const read = parseDecisionId(id);
  const pattern = read && state.pattern(read.pattern);
  if (!pattern || !state.device(read.device)) return undefined;
  const all = pattern.scope === 'archive' ? decisionsOf : ownDecisionsOf;
  return (await all(state, read.device, signal)).find((one) => one.id === id);
}

/**
 * One decision by its id.
 * @throws CasebackError NOT_FOUND when the pattern does not fit the device, or there is no such device or pattern
 */
export async function decisionNamed(state: State, id: string, signal?: AbortSignal): Promise<Decision> {
  const decision = await decisionById(state, id, signal);
  if (decision) return decision;
  const { device, pattern } = resolved(state, id, ['Decision']);
  throw new CasebackError(
    'NOT_FOUND',
    `No pattern suggests a decision "${id}": ${device.name} does not show "${pattern.name}"`,
  );
}

/**
 * The decision of one pattern in every visible device that may show it, by device id.
 * @throws CasebackError NOT_FOUND when no pattern has the id, OUT_OF_BUDGET when the search was cut short
 */
export async function decisionsByPattern(
  state: State,
  patternId: string,
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  const { thing: pattern } = resolved(state, patternId, ['Pattern']);
  const { text, scope } = pattern;
  const { devices, complete, note } = await findPattern(state, { text, scope, signal });
  // Of a list that ends too early nothing would show what it lacks.
  if (!complete)
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `The decisions of ${patternId} take more work than is allowed at once; ask for those of one device. ${note ?? ''}`.trim(),
    );
  return devices.map((device) => withStanding(state, pattern, device));
}

function withStanding(state: State, pattern: NamedPattern, device: PatternDevice): Decision {
  const judgements = state.judgementsOf(decisionId(device.deviceId, pattern.id));
  return decisionOf(pattern, device, judgements, () => digestOf(state, pattern, device));
}

/** Digest of what supports a decision, as the state sees it. */
export function digestOf(
  state: State,
  pattern: NamedPattern,
  { matches }: Pick<PatternDevice, 'matches'>,
): string {
  return evidenceDigest(pattern, matches, (id) => state.specimen(id));
}

/**
 * The evidence that an editor who judges a decision has had before them: what the desk sees of it, and what readers see where that is
 * another version. A rejection of both holds for both, and does not tell readers that there is another one.
 */
export async function evidenceJudged(states: readonly State[], id: string): Promise<string> {
  const digests: string[] = [];
  for (const state of states) {
    const decision = await decisionById(state, id);
    const pattern = decision && state.pattern(decision.patternId);
    if (decision && pattern) digests.push(digestOf(state, pattern, decision));
  }
  return joinedEvidence(digests);
}

/** The same with its bindings looked up, so that what is kept does not keep the graph that was searched. */
function detached({ matches, ...device }: PatternDevice): PatternDevice {
  const plain = matches.map(({ specimenId, bindings, certain, probability }) => {
    return { specimenId, bindings, certain, probability };
  });
  return { ...device, matches: plain };
}

/** What each pattern that lies within one device finds in it; a search that is cut short is not kept. */
async function foundIn(state: State, deviceId: string, signal?: AbortSignal): Promise<readonly Finding[]> {
  const found = keptFoundIn(state, deviceId);
  const patterns = searchablePatterns(state).filter(({ scope }) => scope !== 'archive');
  let small: State | undefined;
  const findings: Finding[] = [];
  for (const pattern of patterns) {
    const kept = found.get(pattern.id);
    if (kept?.pattern === pattern) {
      findings.push(kept);
      continue;
    }
    small ??= excerptOf(state, [deviceId]);
    const { devices, complete } = await findPattern(small, { text: pattern.text, signal });
    const finding = { pattern, device: devices[0] && detached(devices[0]) };
    if (complete) found.set(pattern.id, finding);
    findings.push(finding);
  }
  return findings;
}

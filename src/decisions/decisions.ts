import type { NamedPattern } from '../model/catalogue.ts';
import { decisionId, parseDecisionId, recordOfId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import type { PatternDevice } from '../patterns/answer.ts';
import { findPattern } from '../patterns/find.ts';
import type { Touched } from '../state/fold.ts';
import type { Live } from '../state/live.ts';
import { relabelsOf } from '../state/relabels.ts';
import { resolved } from '../state/resolve.ts';
import { scratchOf } from '../state/scratch.ts';
import { View } from '../state/view.ts';
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

/** What was found in devices lately asked about; forgotten for the devices that an entry touches and for no others. */
class FoundInDevices {
  readonly #found = new Map<string, Found>();
  readonly #live: Live;

  constructor(live: Live) {
    this.#live = live;
    live.onTouched((touched) => this.#forget(touched));
  }

  /** @param key device and the specimens that the asker sees of it */
  of(device: string, key: string): Found {
    const name = `${device} ${key}`;
    const kept = this.#found.get(name) ?? new Map();
    // Taken out and put back, so that the map's order is the order of last use.
    this.#found.delete(name);
    this.#found.set(name, kept);
    for (const oldest of this.#found.keys()) {
      if (this.#found.size <= KEPT_DEVICES) break;
      this.#found.delete(oldest);
    }
    return kept;
  }

  #forget({ records, specimens }: Touched): void {
    const devices = new Set(specimens.map(({ id }) => recordOfId(id)));
    for (const { collection, id } of records) {
      // Makers and product lines stand in patterns by name and country: rare changes, and nobody indexes who asked.
      if (collection === 'makers' || collection === 'productLines') this.#found.clear();
      if (collection === 'parts') for (const device of this.#underOtherLabels(id)) devices.add(device);
    }
    if (devices.size === 0) return;
    for (const name of this.#found.keys())
      if (devices.has(name.slice(0, name.indexOf(' ')))) this.#found.delete(name);
  }

  /** Devices that may hold a part which other makers sell under labels of their own. */
  *#underOtherLabels(part: string): Generator<string> {
    const { holders } = this.#live.state;
    for (const label of relabelsOf(this.#live.state, part))
      for (const id of holders.get(label) ?? []) yield recordOfId(id);
  }
}

const foundInDevices = (live: Live) => new FoundInDevices(live);

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
  const judgements = view.state.decisions.get(decisionId(device.deviceId, pattern.id)) ?? [];
  return decisionOf(pattern, device, judgements, () => digestOf(view, pattern, device));
}

/** Digest of what a decision rests on, as the view sees it. */
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
  const specimens = view.specimensOf(deviceId);
  const key = specimens.map(({ id, version }) => `${id}@${version}`).join(' ');
  const found = view.derived(foundInDevices).of(deviceId, key);
  const patterns = view.patterns().filter(({ scope }) => scope !== 'archive');
  let small: View | undefined;
  const findings: Finding[] = [];
  for (const pattern of patterns) {
    const kept = found.get(pattern.id);
    if (kept?.pattern === pattern) {
      findings.push(kept);
      continue;
    }
    small ??= new View(scratchOf(view, [deviceId]), 'desk', view.now);
    const { devices, complete } = await findPattern(small, { text: pattern.text, signal });
    const finding = { pattern, device: devices[0] && detached(devices[0]) };
    if (complete) found.set(pattern.id, finding);
    findings.push(finding);
  }
  return findings;
}

// What is new in the archive: opened devices, judged decisions and corrections.

import { parseDecisionId } from '../model/ids.ts';
import type { State } from '../state/state.ts';
import { decisionById } from './decisions.ts';
import { correctionsMade } from './evidence.ts';

/** Something new, in words. */
export interface News {
  readonly kind: 'device' | 'decision' | 'correction';
  /** Id of the device, decision or correction. */
  readonly of: string;
  readonly title: string;
  readonly text: string;
  /** ISO 8601 in UTC; of a device midnight of the day on which a unit of it was first opened. */
  readonly published: string;
  /** Likewise of the last change to it. */
  readonly updated: string;
  /** Publications that it touches, by id. */
  readonly publications: readonly string[];
}

/** Items told: more than anybody misses between two looks. */
const MOST = 100;

/**
 * What is new, the newest first. Everything comes from the state alone, and each instant is one that its audience reads elsewhere, too: so
 * neither order nor date tells of an entry that is hidden. What was under embargo stands under its own day, not under that on which it ended.
 */
export async function newsIn(view: State, signal?: AbortSignal): Promise<readonly News[]> {
  const corrections = (await correctionsMade(view)).map(
    ({ id, summary, reason, on, publications }): News => ({
      kind: 'correction',
      of: id,
      title: `Corrected: ${summary}`,
      text: [
        `${reason}.`.replace(/([.?!])\.$/u, '$1'),
        ...publications.flatMap(({ notice }) => notice ?? []),
      ].join('\n'),
      published: on,
      updated: on,
      publications: publications.map(({ publication }) => publication),
    }),
  );
  const sorted = [...openedIn(view), ...judgedIn(view), ...corrections].toSorted(
    (a, b) => compare(b.updated, a.updated) || compare(a.of, b.of),
  );
  const news: News[] = [];
  for (const one of sorted) {
    if (news.length === MOST) break;
    // What was judged may rest on what this audience does not see: then there is no such decision for it.
    if (one.kind !== 'decision' || (await decisionById(view, one.of, signal))) news.push(one);
  }
  return news;
}

function openedIn(view: State): readonly News[] {
  return view.devices().flatMap((device): readonly News[] => {
    const days = view
      .specimensOf(device.id)
      .map(({ openedOn }) => openedOn)
      .toSorted();
    const [first, last] = [days.at(0), days.at(-1)];
    if (first === undefined || last === undefined) return [];
    const maker = view.maker(device.maker)?.name ?? device.maker;
    const units = days.length === 1 ? 'One unit was opened' : `${days.length} units were opened`;
    return [
      {
        kind: 'device',
        of: device.id,
        title: `Opened: ${device.name}`,
        text: `${device.name}, by ${maker}, released ${device.released}. ${units}.`,
        published: midnight(first),
        updated: midnight(last),
        publications: [],
      },
    ];
  });
}

const VERDICTS = { endorsed: 'Endorsed', doubted: 'Doubted', rejected: 'Rejected' } as const;

function judgedIn(view: State): readonly News[] {
  return [...view.facts.judgements].flatMap(([id, judgements]): readonly News[] => {
    const named = parseDecisionId(id);
    const device = named && view.device(named.device);
    const pattern = named && view.pattern(named.pattern);
    const [first, last] = [judgements.at(0), judgements.at(-1)];
    if (!device || !pattern || !first || !last) return [];
    return [
      {
        kind: 'decision',
        of: id,
        title: `${VERDICTS[last.verdict]}: ${pattern.name}, in ${device.name}`,
        text: `${pattern.idea} ${last.reason}`,
        published: first.on,
        updated: last.on,
        publications: [],
      },
    ];
  });
}

/** A date may be known to the month or year. */
function midnight(date: string): string {
  return `${`${date}-01-01`.slice(0, 10)}T00:00:00.000Z`;
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

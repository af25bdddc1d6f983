import type { VNode } from 'preact';
import type { Place } from '../../frame/page.ts';
import { counted, tidy } from '../../parts/facts.ts';
import { Probability } from '../../parts/probability.tsx';
import { inWords, percent } from '../../parts/words.ts';
import type { NearAnswer } from './near.ts';
import type { FoundFragment } from './pattern.graphql.ts';

type FoundDevice = FoundFragment['nodes'][number];

/** Devices that show a pattern, each with its surest match lit on the boards, and how they spread. */
export function FoundDevices({
  found,
  near,
  place,
}: {
  readonly found: FoundFragment;
  readonly near: NearAnswer | undefined;
  readonly place: Place;
}): VNode {
  const { totalCount, certainCount, expectedCount, isComplete, note, warnings, facets, nodes } = found;
  return (
    <section aria-labelledby="devices">
      <h2 id="devices">
        {counted(certainCount, 'device')} for certain, {tidy(expectedCount)} to expect, {totalCount} possible
      </h2>
      {!isComplete && <p class="notice">{note ?? 'The search ended early; there may be more.'}</p>}
      {warnings.map((warning) => (
        <p key={warning} class="notice">
          {warning}
        </p>
      ))}
      {nodes.length > 0 && (
        <div class="halves">
          <Spread title="By year of release" rows={facets.years} />
          <Spread title="By where it is worn" rows={facets.bodySites} words />
        </div>
      )}
      <ul class="cards wide">
        {nodes.map((one) => one.device && <DeviceCard key={one.device.id} found={one} />)}
      </ul>
      {totalCount > nodes.length && <p class="quiet">The first {nodes.length} are shown.</p>}
      <Near near={near} place={place} />
    </section>
  );
}

function DeviceCard({ found }: { readonly found: FoundDevice }): VNode | null {
  const { device, probability, method, low, high, matchCount, matches } = found;
  if (!device) return null;
  const [match] = matches?.nodes ?? [];
  const boards = match ? boardsOf(match) : [];
  return (
    <li class="card">
      <a href={`/devices/${device.id}`}>
        {boards.slice(0, 2).map(({ board, side, ids }) => (
          <img
            key={`${board} ${side}`}
            src={`/drawings/board/${board}.svg?plain=true&width=80${side ? `&side=${side.toLowerCase()}` : ''}&lit=${encodeURIComponent(ids.join(','))}`}
            alt=""
            loading="lazy"
            width="160"
            height="110"
          />
        ))}
        <strong>{device.name}</strong>
      </a>
      <span class="quiet">
        {device.year}, {inWords(device.bodySite)}
      </span>
      <span>
        <Probability value={probability} />
        {method === 'ESTIMATE' && (
          <span class="quiet">
            {' '}
            {percent(low)} to {percent(high)}
          </span>
        )}
      </span>
      <span class="quiet">{counted(matchCount, 'match', 'matches')}</span>
      {match && (
        <dl class="bindings">
          {match.bindings.map(({ variable, nodes }) => (
            <div key={variable}>
              <dt>
                <code>{variable}</code>
              </dt>
              <dd>
                {nodes.map((node, i) => (
                  <span key={node.id}>
                    {i > 0 && ', '}
                    {'designator' in node ? (
                      <a href={`/devices/${device.id}?picked=${encodeURIComponent(node.id)}`}>
                        {node.designator}
                      </a>
                    ) : (
                      ('name' in node && node.name) || 'something else'
                    )}
                  </span>
                ))}
              </dd>
            </div>
          ))}
        </dl>
      )}
    </li>
  );
}

/** Boards that a match touches, with what is to be lit on each side. */
function boardsOf({ bindings }: NonNullable<FoundDevice['matches']>['nodes'][number]) {
  const boards = new Map<string, { board: string; side: string | null; ids: string[] }>();
  for (const node of bindings.flatMap(({ nodes }) => nodes)) {
    if (!('designator' in node) || !node.board) continue;
    const { board, side, id } = node;
    const key = `${board.id} ${side}`;
    const one = boards.get(key) ?? { board: board.id, side, ids: [] };
    boards.set(key, one);
    if (!one.ids.includes(id)) one.ids.push(id);
  }
  return [...boards.values()];
}

function Spread({
  title,
  rows,
  words = false,
}: {
  readonly title: string;
  readonly rows: readonly { readonly value: string; readonly count: number; readonly expected: number }[];
  readonly words?: boolean;
}): VNode {
  const most = Math.max(...rows.map(({ count }) => count), 1);
  return (
    <table class="spread">
      <caption>{title}</caption>
      <thead>
        <tr>
          <th scope="col">{words ? 'Worn' : 'Year'}</th>
          <th scope="col" class="number">
            To expect
          </th>
          <th scope="col" class="number">
            Possible
          </th>
          <td />
        </tr>
      </thead>
      <tbody>
        {rows.map(({ value, count, expected }) => (
          <tr key={value}>
            <th scope="row">{words ? inWords(value) : value}</th>
            <td class="number">{tidy(expected)}</td>
            <td class="number">{count}</td>
            <td>
              <svg class="bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
                <rect width={(100 * count) / most} height="6" class="room" />
                <rect width={(100 * expected) / most} height="6" class="share" />
              </svg>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Near({ near, place }: { readonly near: NearAnswer | undefined; readonly place: Place }): VNode {
  if (!near) {
    const asked = new URLSearchParams(place.query);
    asked.set('near', 'true');
    return (
      <p>
        <a href={`${place.path}?${asked}`}>What nearly shows it, and what is missing</a>
      </p>
    );
  }
  return (
    <section aria-labelledby="near">
      <h2 id="near">{counted(near.totalCount, 'device')} but for one thing</h2>
      {!near.isComplete && <p class="notice">{near.note}</p>}
      <table>
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">Missing, each alone</th>
          </tr>
        </thead>
        <tbody>
          {near.nodes.map(
            ({ device, missing }) =>
              device && (
                <tr key={device.id}>
                  <th scope="row">
                    <a href={`/devices/${device.id}`}>{device.name}</a>
                  </th>
                  <td>{missing.join('; ')}</td>
                </tr>
              ),
          )}
        </tbody>
      </table>
    </section>
  );
}

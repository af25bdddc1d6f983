import type { VNode } from 'preact';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { Place } from '../../frame/page.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { Plan, type PlanItem } from '../../parts/plan.tsx';
import type { Shape } from '../../parts/shapes.tsx';
import { useAsked } from '../../parts/use-asked.ts';
import { capital, inWords } from '../../parts/words.ts';
import { LitNets, PickedComponent, type PickedComponentQuery } from './component.graphql.ts';
import { ComponentPanel } from './component-panel.tsx';
import { ComponentTable, sentenceOf } from './component-table.tsx';
import { type Device, type DeviceData, pickedIn } from './device.ts';
import { DeviceFrame } from './device-frame.tsx';

/** A device: what it is, its boards, and its components beside them. */
export function DeviceView({ data, place }: { readonly data: DeviceData; readonly place: Place }): VNode {
  const { device, picked } = data;
  return device ? (
    <Opened key={device.id} device={device} first={picked} place={place} />
  ) : (
    <NotFound what="device" list="/devices" />
  );
}

function Opened({
  device,
  first,
  place,
}: {
  readonly device: Device;
  readonly first: PickedComponentQuery | undefined;
  readonly place: Place;
}): VNode {
  const components = device.components?.nodes ?? [];
  const [picked, pick] = usePick(place);
  const items = useMemo(
    () => new Map(components.map((one): [string, PlanItem] => [one.id, { label: sentenceOf(one) }])),
    [components],
  );
  const { answer, isAsking } = useAsked(
    PickedComponent,
    picked === undefined ? undefined : { id: picked },
    first,
  );
  const lit = useLit(answer);
  const [strength, setStrength] = useState(0);
  const hasPhotos = device.boards.some((board) => board.planViews?.some(({ photo }) => photo));
  return (
    <DeviceFrame device={device} at="">
      <InOneLine device={device} />
      {device.invented && <p class="notice">Demo data: no such device exists.</p>}
      <div class="bench">
        <section class="boards" aria-label="Boards">
          {hasPhotos && (
            <label class="strength">
              Photo beneath, %
              <input
                type="range"
                min={0}
                max={100}
                step={10}
                value={strength}
                onInput={(event) => setStrength(Number(event.currentTarget.value))}
              />
              <output>{strength}</output>
            </label>
          )}
          {device.boards.length === 0 && <p>No board is recorded.</p>}
          {device.boards.map((board) => (
            <section key={board.id} aria-labelledby={`board-${board.id}`}>
              <h2 id={`board-${board.id}`}>
                {capital(board.name ?? 'board')} <small>{inWords(board.kind)}</small>
              </h2>
              {board.planViews?.map((view) => (
                <Plan
                  key={view.side}
                  view={view}
                  name={board.name ?? 'board'}
                  items={items}
                  picked={picked}
                  onPick={pick}
                  photoStrength={strength}
                  over={lit.get(`${board.id} ${view.side}`)}
                />
              )) ?? (
                <p class="quiet">
                  Neither its outline nor the place of a component is recorded, so it is not drawn.
                </p>
              )}
            </section>
          ))}
        </section>
        <div class="components">
          {picked !== undefined && answer && <ComponentPanel answer={answer} isAsking={isAsking} />}
          <section aria-labelledby="components">
            <h2 id="components">Components</h2>
            <ComponentTable components={components} picked={picked} onPick={pick} />
          </section>
        </div>
      </div>
    </DeviceFrame>
  );
}

/** Height of the head of a table, which stays in view, pixels. */
const HEAD = 32;

/** What is picked, which stands in the address, so that it can be sent to a colleague. */
function usePick({ query }: Place): [string | undefined, (id: string | undefined) => void] {
  const [picked, setPicked] = useState(query.get('picked') ?? undefined);
  const pick = useCallback((id: string | undefined) => {
    setPicked(id);
    const address = new URL(location.href);
    if (id === undefined) address.searchParams.delete('picked');
    else address.searchParams.set('picked', id);
    history.replaceState(history.state, '', address);
  }, []);
  // A row that was picked on a drawing comes into view in its table; the page stays where it is.
  useEffect(() => {
    const row = picked === undefined ? null : document.getElementById(`row-${picked}`);
    const table = row?.closest('.scroll');
    if (!row || !table) return;
    const [at, around] = [row.getBoundingClientRect(), table.getBoundingClientRect()];
    if (at.top < around.top + HEAD) table.scrollTop -= around.top + HEAD - at.top;
    else if (at.bottom > around.bottom) table.scrollTop += at.bottom - around.bottom;
  }, [picked]);
  return [picked, pick];
}

/** Nets of the component that is picked as lines on its board, by board and side; ground is everywhere, and left out. */
function useLit(answer: PickedComponentQuery | undefined): ReadonlyMap<string, readonly Shape[]> {
  const node = pickedIn(answer);
  const board = node?.board?.id;
  const nets = node?.pinout?.flatMap(({ net }) => (net && net.kind !== 'GROUND' ? [net.id] : [])) ?? [];
  const wanted =
    board !== undefined && nets.length > 0 ? { board, lit: [...new Set(nets)].slice(0, 100) } : undefined;
  const { answer: lit } = useAsked(LitNets, wanted);
  return useMemo(() => {
    const found = new Map<string, readonly Shape[]>();
    if (!lit?.node || !('planViews' in lit.node)) return found;
    for (const { side, shapes } of lit.node.planViews ?? [])
      found.set(
        `${board} ${side}`,
        (shapes as readonly Shape[]).filter(
          (shape) => 'stroke' in shape && /^picked-/u.test(shape.stroke?.ink ?? ''),
        ),
      );
    return found;
  }, [lit, board]);
}

/** The device in a line, with ways to its maker and line. */
function InOneLine({ device }: { readonly device: Device }): VNode {
  const { maker, productLine, released, bodySite, mass, price } = device;
  const rest = [
    `released ${released}`,
    `worn: ${inWords(bodySite)}`,
    mass?.text,
    price && `${price.amount} ${price.currency}`,
  ];
  return (
    <p class="lead">
      {maker && <a href={`/makers/${maker.id}`}>{maker.name}</a>}
      {productLine && (
        <>
          {' · '}
          <a href={`/lines/${productLine.id}`}>{productLine.name}</a>
        </>
      )}
      {rest.filter(Boolean).map((one) => ` · ${one}`)}
    </p>
  );
}

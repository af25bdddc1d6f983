import type { VNode } from 'preact';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import { NotFound } from '../../parts/not-found.tsx';
import { Plan, type PlanItem } from '../../parts/plan.tsx';
import { capital, inWords, percent, termInWords } from '../../parts/words.ts';
import type { DevicePageQuery } from './device.graphql.ts';

type Device = NonNullable<DevicePageQuery['device']>;
type Component = NonNullable<Device['components']>['nodes'][number];

/** A device: what it is, its boards, and its components beside them. */
export function DeviceView({ data: { device } }: { readonly data: DevicePageQuery }): VNode {
  return device ? <Opened device={device} /> : <NotFound what="device" list="/devices" />;
}

function Opened({ device }: { readonly device: Device }): VNode {
  const components = device.components?.nodes ?? [];
  const [picked, setPicked] = useState<string>();
  const items = useMemo(
    () => new Map(components.map((one): [string, PlanItem] => [one.id, { label: sentenceOf(one) }])),
    [components],
  );
  const pick = useCallback((id: string | undefined) => setPicked(id), []);
  // A row that was picked on a drawing comes into view without taking the focus from it.
  useEffect(() => {
    if (picked !== undefined)
      document.getElementById(`row-${picked}`)?.scrollIntoView({ block: 'nearest', behavior: 'instant' });
  }, [picked]);
  return (
    <>
      <h1 tabIndex={-1}>{device.name}</h1>
      <p class="lead">{inOneLine(device)}</p>
      {device.invented && <p class="notice">Demo data: no such device exists.</p>}
      <div class="bench">
        <section class="boards" aria-label="Boards">
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
                />
              )) ?? (
                <p class="quiet">
                  Neither its outline nor the place of a component is recorded, so it is not drawn.
                </p>
              )}
            </section>
          ))}
        </section>
        <section class="components" aria-labelledby="components">
          <h2 id="components">Components</h2>
          <ComponentTable components={components} picked={picked} onPick={pick} />
        </section>
      </div>
    </>
  );
}

function ComponentTable({
  components,
  picked,
  onPick,
}: {
  readonly components: readonly Component[];
  readonly picked: string | undefined;
  readonly onPick: (id: string | undefined) => void;
}): VNode {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard (axe: scrollable-region-focusable)
    <section class="scroll" tabIndex={0} aria-label="Table of components">
      <table>
        <thead>
          <tr>
            <th scope="col">Component</th>
            <th scope="col" class="seen">
              Seen
            </th>
            <th scope="col">Concluded</th>
            <th scope="col">Probability</th>
          </tr>
        </thead>
        <tbody>
          {components.map((one) => {
            const { words, probability } = concluded(one);
            return (
              <tr key={one.id} id={`row-${one.id}`} class={one.id === picked ? 'picked' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    class="pick"
                    aria-pressed={one.id === picked}
                    onClick={() => onPick(one.id === picked ? undefined : one.id)}
                  >
                    {one.designator}
                  </button>
                </th>
                <td class="seen">
                  {one.marking && <code>{one.marking}</code>} {one.package}
                </td>
                <td>{words}</td>
                <td class="number">{probability === undefined ? '' : percent(probability)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** What a component is concluded to be, likeliest first. */
function concluded({ identification, category }: Component): {
  words: string;
  probability: number | undefined;
} {
  const [first] = identification?.candidates ?? [];
  if (first?.part)
    return {
      words: [first.part.maker?.name, first.part.number].filter(Boolean).join(' '),
      probability: first.probability,
    };
  if (first?.category) return { words: termInWords(first.category), probability: first.probability };
  if (category) return { words: termInWords(category.term), probability: category.probability };
  return { words: 'unknown', probability: undefined };
}

function sentenceOf(component: Component): string {
  const { words, probability } = concluded(component);
  return [component.designator, words, probability === undefined ? '' : percent(probability)]
    .filter(Boolean)
    .join(', ');
}

function inOneLine({ maker, productLine, released, bodySite, mass, price }: Device): string {
  return [
    maker?.name,
    productLine?.name,
    `released ${released}`,
    `worn: ${inWords(bodySite)}`,
    mass?.text,
    price && `${price.amount} ${price.currency}`,
  ]
    .filter(Boolean)
    .join(' · ');
}

import type { VNode } from 'preact';
import { useId, useMemo } from 'preact/hooks';
import { type Hatch, HatchPatterns, type Shape, ShapeElement } from './shapes.tsx';
import { type Direction, nearest, type Spot } from './spatial.ts';
import { inWords } from './words.ts';

/** A side of a board as the API gives it. */
export interface PlanView {
  readonly side: string;
  readonly width: number;
  readonly height: number;
  readonly shapes: unknown;
  readonly photo: {
    readonly address: string;
    readonly note: string;
    readonly at: { readonly x: number; readonly y: number };
    readonly width: number;
    readonly height: number;
  } | null;
  readonly hatches: readonly (Hatch & { readonly subsystem: string })[];
}

/** What is said of a component when it is picked. */
export interface PlanItem {
  readonly label: string;
}

const KEYS: Readonly<Record<string, Direction>> = {
  ArrowLeft: 'left',
  ArrowRight: 'right',
  ArrowUp: 'up',
  ArrowDown: 'down',
};

/**
 * One side of a board, to scale. Components are picked by pressing them, or with the arrow keys, which go to the nearest one that way.
 * @param items what may be picked, by id
 */
export function Plan({
  view,
  name,
  items,
  picked,
  onPick,
  over = [],
  photoStrength = 0,
}: {
  readonly view: PlanView;
  readonly name: string;
  readonly items: ReadonlyMap<string, PlanItem>;
  /** Id. */
  readonly picked: string | undefined;
  readonly onPick: (id: string | undefined) => void;
  /** Shapes drawn over it. */
  readonly over?: readonly Shape[] | undefined;
  /** Of the photo beneath, percent. */
  readonly photoStrength?: number;
}): VNode {
  const key = useId();
  const shapes = view.shapes as readonly Shape[];
  const groups = useMemo(() => groupsOf(shapes, items), [shapes, items]);
  const centres = useMemo(
    () =>
      new Map(
        groups.flatMap(({ of, shapes: own }) => (of === undefined ? [] : [[of, centreOf(own)] as const])),
      ),
    [groups],
  );
  const press = (event: KeyboardEvent) => {
    const direction = KEYS[event.key];
    if (event.key === 'Escape') return onPick(undefined);
    if (!direction) return;
    event.preventDefault();
    const next = nearest(centres, picked, direction);
    if (next !== undefined) onPick(next);
  };
  const { photo } = view;
  const label = `${name}, ${inWords(view.side)} side: ${centres.size} components`;
  return (
    <figure class={photo && photoStrength > 0 ? 'plan see-through' : 'plan'}>
      <div
        class="plan-sheet"
        role="listbox"
        aria-label={`${label}. Arrow keys go from one to the next.`}
        aria-activedescendant={picked !== undefined && centres.has(picked) ? `${key}-${picked}` : undefined}
        tabIndex={0}
        onKeyDown={press}
        onClick={(event) => {
          const of = (event.target as Element).closest<SVGElement>('[data-of]')?.dataset.of;
          if (of !== undefined) onPick(of === picked ? undefined : of);
        }}
      >
        <svg viewBox={`0 0 ${view.width} ${view.height}`} role="none">
          {photo && photoStrength > 0 && (
            <image
              href={photo.address}
              x={photo.at.x}
              y={photo.at.y}
              width={photo.width}
              height={photo.height}
              preserveAspectRatio="none"
              opacity={photoStrength / 100}
            />
          )}
          <HatchPatterns hatches={view.hatches} of={key} />
          {groups.map(({ of, shapes: own }, i) => (
            <g
              // biome-ignore lint/suspicious/noArrayIndexKey: shapes have no names of their own and never move
              key={i}
              data-of={of}
              class={of === undefined ? undefined : of === picked ? 'item picked' : 'item'}
              {...(of !== undefined && isFirst(groups, i)
                ? {
                    id: `${key}-${of}`,
                    role: 'option',
                    'aria-selected': of === picked,
                    'aria-label': items.get(of)?.label,
                  }
                : {})}
            >
              {own.map((shape, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: as above
                <ShapeElement key={at} shape={shape} hatches={key} />
              ))}
            </g>
          ))}
          {over.length > 0 && (
            <g class="over">
              {over.map((shape, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: as above
                <ShapeElement key={at} shape={shape} hatches={key} />
              ))}
            </g>
          )}
        </svg>
      </div>
      <figcaption>
        {`${name}, ${inWords(view.side)} side`}
        {photo && photoStrength > 0 && ` · ${photo.note}`}
      </figcaption>
    </figure>
  );
}

interface Group {
  /** Id of the component that it draws; undefined for what is none. */
  readonly of: string | undefined;
  readonly shapes: readonly Shape[];
}

/** Shapes one after the other that draw the same thing. */
function groupsOf(shapes: readonly Shape[], items: ReadonlyMap<string, PlanItem>): readonly Group[] {
  const groups: { of: string | undefined; shapes: Shape[] }[] = [];
  for (const shape of shapes) {
    const of = shape.of !== undefined && items.has(shape.of) ? shape.of : undefined;
    const last = groups.at(-1);
    if (last && last.of === of) last.shapes.push(shape);
    else groups.push({ of, shapes: [shape] });
  }
  return groups;
}

const isFirst = (groups: readonly Group[], at: number) =>
  groups.findIndex(({ of }) => of === groups[at].of) === at;

/** Middle of what draws a thing. */
function centreOf(shapes: readonly Shape[]): Spot {
  const spots = shapes.flatMap((shape): readonly Spot[] =>
    shape.kind === 'area' ? shape.rings.flat() : shape.kind === 'line' ? shape.points : [shape.at],
  );
  const middle = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2;
  return [middle(spots.map(([x]) => x)), middle(spots.map(([, y]) => y))];
}

import type { ComponentChildren, VNode } from 'preact';

const PAGES = [
  ['', 'Boards'],
  ['/diagram', 'Block diagram'],
  ['/decisions', 'Decisions'],
  ['/record', 'Record'],
] as const;

/** What stands around every page of a device: its name, and the ways between its pages. */
export function DeviceFrame({
  device,
  at,
  children,
}: {
  readonly device: { readonly id: string; readonly name: string };
  /** Ending of the page's address. */
  readonly at: (typeof PAGES)[number][0];
  readonly children: ComponentChildren;
}): VNode {
  return (
    <>
      <h1 tabIndex={-1}>{device.name}</h1>
      <nav class="within" aria-label={`Pages of ${device.name}`}>
        <ul>
          {PAGES.map(([ending, name]) => (
            <li key={ending}>
              <a href={`/devices/${device.id}${ending}`} aria-current={ending === at ? 'page' : undefined}>
                {name}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      {children}
    </>
  );
}

import type { VNode } from 'preact';

/** In place of something that is not there, or not for this reader. */
export function NotFound({ what, list }: { readonly what: string; readonly list: string }): VNode {
  return (
    <>
      <h1 tabIndex={-1}>No such {what}</h1>
      <p>
        Nothing of that address is in the archive, or you may not see it. <a href={list}>See all</a>.
      </p>
    </>
  );
}

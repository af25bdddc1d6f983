import type { VNode } from 'preact';
import type { Trouble } from '../api/ask.ts';

/** In place of a page that could not be had. */
export function TroublePage({ trouble: { code, message } }: { readonly trouble: Trouble }): VNode {
  return (
    <>
      <h1 tabIndex={-1}>Something went wrong</h1>
      <p>{message}</p>
      <p class="quiet">
        Nothing that was recorded is lost by it. Load the page again; if it stays, tell whoever runs the
        service the code <code>{code}</code>.
      </p>
    </>
  );
}

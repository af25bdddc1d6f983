import type { VNode } from 'preact';
import { percent } from './words.ts';

/** A probability as a bar before its number. */
export function Probability({ value }: { readonly value: number }): VNode {
  return (
    <span class="probability">
      <svg viewBox="0 0 40 6" preserveAspectRatio="none" aria-hidden="true">
        <rect width="40" height="6" class="room" />
        <rect width={Math.round(value * 40 * 100) / 100} height="6" class="share" />
      </svg>
      {percent(value)}
    </span>
  );
}

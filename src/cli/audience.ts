import type { Audience } from '../state/view.ts';
import { choiceOf, type Values } from './command.ts';

export const AUDIENCE_OPTION = { audience: { type: 'string' } } as const;
export const AUDIENCE_HELP =
  '  --audience reader what is published (default); desk shows and learns from drafts and embargoed records too';

/** The audience as which a command reads the archive. */
export function audienceOf(values: Values): Audience {
  return choiceOf(values, 'audience', ['reader', 'desk'], 'reader');
}

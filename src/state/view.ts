// Until every caller says State.
export type { Audience } from './audience.ts';
export { State as View } from './state.ts';

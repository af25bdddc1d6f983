// Until every caller says Holder.
export { Holder as Live } from './holder.ts';

import type { Part } from '../model/catalogue.ts';
import { Live } from './live.ts';
import { emptyState, type State } from './state.ts';
import type { View } from './view.ts';

/**
 * A small live state with nothing but the devices named, as the view sees them, and the catalogue records they lean
 * on. It is folded by the same function as the whole archive, so that what a change does to a device can be tried out
 * in time that does not grow with the archive. What is folded into it is written nowhere.
 * @param parts ids of further parts that may come in, such as a new candidate
 */
export function scratchOf(view: View, devices: Iterable<string>, parts: Iterable<string> = []): Live {
  const { state } = view;
  const empty = emptyState();
  const small: State = {
    ...empty,
    sequence: state.sequence,
    instant: state.instant,
    records: { ...empty.records, patterns: new Map(state.records.patterns) },
    // Text is only ever added, and the columns that are shared refer to it by number.
    names: state.names,
    decisions: new Map(state.decisions),
  };
  for (const id of parts) addPart(small, state, id);
  for (const id of devices) addDevice(small, view, id);
  return new Live(small);
}

function addDevice(small: State, view: View, id: string): void {
  const { state } = view;
  const row = state.devices.get(id);
  if (!row || !view.device(id)) return;
  const specimens = view.specimensOf(id);
  const seen = specimens.map((one) => one.id);
  small.devices.set(id, { ...row, describedBy: seen[0], specimens: seen });
  const record = state.records.devices.get(id);
  if (record) small.records.devices.set(id, record);
  addMaker(small, state, row.device.maker);
  const productLine =
    row.device.productLine !== undefined && state.records.productLines.get(row.device.productLine);
  if (productLine) {
    small.records.productLines.set(productLine.id, productLine);
    addMaker(small, state, productLine.maker);
  }
  for (const specimen of specimens) {
    small.specimens.set(specimen.id, specimen);
    for (const number of specimen.parts) {
      const part = state.names.textOf(number);
      addPart(small, state, part);
      const holders = small.holders.get(part);
      if (holders) holders.add(specimen.id);
      else small.holders.set(part, new Set([specimen.id]));
    }
  }
}

/** The part, what it relabels, and the makers of both. */
function addPart(small: State, state: State, id: string): void {
  for (let at: string | undefined = id; at !== undefined && !small.records.parts.has(at); ) {
    const part: Part | undefined = state.records.parts.get(at);
    if (!part) return;
    small.records.parts.set(at, part);
    addMaker(small, state, part.maker);
    at = part.relabels;
  }
}

function addMaker(small: State, state: State, id: string): void {
  const maker = state.records.makers.get(id);
  if (maker) small.records.makers.set(id, maker);
}

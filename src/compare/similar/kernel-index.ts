import type { Device } from '../../model/dossier.ts';
import type { SpecimenRow } from '../../state/facts.ts';
import { compareText } from '../../state/lists/device-list.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { representative } from '../representative.ts';
import { componentGraph } from './component-graph.ts';
import { MIXED_NUMBERS, type SubtreeCounts, subtreeCounts, subtreeKernel } from './kernel.ts';

/** A specimen as the kernel sees it. */
export interface KernelEntry {
  readonly damaged: boolean;
  readonly counts: SubtreeCounts;
  /** Square root of the kernel with itself. */
  readonly norm: number;
}

/** A device with the specimen that represents it, as the kernel sees it. */
export interface KernelDevice {
  readonly device: Device;
  readonly specimenId: string;
  readonly entry: KernelEntry;
}

interface Kept extends Pick<OpenedSpecimen, 'learnt'> {
  readonly entry: KernelEntry;
}

/** Subtree counts of specimens, worked out when first asked for and again after a change; about 2 kB each. */
export class KernelIndex {
  readonly #entries = new WeakMap<SpecimenRow, Map<number, Kept>>();

  entryOf(state: State, row: SpecimenRow, iterations: number): KernelEntry {
    let entries = this.#entries.get(row);
    if (!entries) {
      entries = new Map();
      this.#entries.set(row, entries);
    }
    let kept = entries.get(iterations);
    // What nets join follows what unnamed components may be, too.
    if (!kept || !state.unnamedOf(row).areCurrent(kept.learnt)) {
      const specimen = state.peek(row);
      const { graph } = componentGraph(specimen, (part) => state.part(part));
      const counts = subtreeCounts(graph, iterations, MIXED_NUMBERS);
      const entry = {
        damaged: specimen.dossier.specimen.condition === 'damaged-in-opening',
        counts,
        norm: Math.sqrt(subtreeKernel(counts, counts)),
      };
      kept = { entry, learnt: specimen.learnt };
      entries.set(iterations, kept);
    }
    return kept.entry;
  }

  /** A device by the specimen that represents it in comparisons, among those a state may see. */
  deviceOf(state: State, device: Device, iterations: number): KernelDevice | undefined {
    const rows = [...state.specimensOf(device.id)].sort((a, b) => compareText(a.openedOn, b.openedOn));
    const row = representative(rows, (one) => this.entryOf(state, one, iterations).damaged);
    return row && { device, specimenId: row.id, entry: this.entryOf(state, row, iterations) };
  }
}

const make = () => new KernelIndex();

/** The index of a state's archive. */
export function kernelIndexOf(state: State): KernelIndex {
  return state.shared.kept(make);
}

/** Normalised kernel of two specimens, 0 to 1. */
export function similarityOf(a: KernelEntry, b: KernelEntry): number {
  const own = a.norm * b.norm;
  return own === 0 ? 0 : Math.min(1, subtreeKernel(a.counts, b.counts) / own);
}

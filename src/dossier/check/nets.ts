import { pinOf } from '../../model/ids.ts';
import { pinKey, pinsMeant } from '../../model/pinout.ts';
import type { DossierRule } from './context.ts';

/** A pin is in one net, and there once: two nets that share a pin are one conductor. */
export const pinsAreInOneNet: DossierRule = (document, report) => {
  const { components, nets = [] } = document.dossier;
  const byId = new Map(components.map((one) => [one.id, one]));
  const seen = new Map<string, { readonly net: number; readonly written: string }>();
  nets.forEach(({ id, pins }, i) => {
    pins.forEach((written, j) => {
      const { component, pin } = pinOf(written);
      const key = pin === undefined ? undefined : pinKey(byId.get(component)?.pinout, pin);
      // A component whose pin is not known may be in any number of nets, and so may pins that share a name.
      if (key === undefined) return;
      const same = `${component}.${key}`;
      const before = seen.get(same);
      if (!before) {
        seen.set(same, { net: i, written });
        return;
      }
      const path = ['nets', i, 'pins', j];
      const alias = before.written === written ? '' : `, as ${before.written}`;
      if (before.net === i) {
        report(document, path, `${written} is in net "${id}" twice${alias}`, 'list each pin once');
      } else {
        const { line } = document.locate(['nets', before.net, 'id']);
        const what = `${written} is in net "${id}" and, on line ${line}, in net "${nets[before.net].id}"${alias}`;
        report(document, path, what, 'take it out of one of them, or make one net of the two');
      }
    });
  });
};

/** Voltage and the power bus belong to supplies. */
export const netsAreWhatTheyAreCalled: DossierRule = (document, report) => {
  document.dossier.nets?.forEach(({ id, kind, voltage, bus }, i) => {
    const caution = (field: string, what: string, fix: string) =>
      report(document, ['nets', i, field], `net "${id}" ${what}`, fix, 'caution');
    if (kind === 'signal' && voltage)
      caution('voltage', 'is a signal with a voltage', 'write kind: power for a supply, or leave it out');
    if (kind === 'ground' && voltage && voltage.value !== 0)
      caution('voltage', 'is ground with a voltage', 'write kind: power for a supply, or leave it out');
    if (kind !== 'power' && bus === 'power')
      caution('bus', `is of kind ${kind}, but its bus is power`, 'write kind: power, or leave "bus" out');
  });
};

/** A net that joins a single pin, and nothing else, joins nothing. */
export const completeNetsJoinSomething: DossierRule = (document, report) => {
  const { nets = [], components, teardown } = document.dossier;
  // Design files list pins that lead nowhere as nets of their own.
  if (teardown.recordedFrom === 'design-files') return;
  const byId = new Map(components.map((one) => [one.id, one]));
  nets.forEach(({ id, pins, complete }, i) => {
    if (complete !== true || pins.length !== 1) return;
    const { component, pin } = pinOf(pins[0]);
    const known = pin === undefined ? undefined : pinsMeant(byId.get(component)?.pinout, pin)[0];
    if (known?.function === 'not-connected' || /^(?:N\/?C|DNC)\d*$/iu.test(known?.name ?? pin ?? '')) return;
    const what = `net "${id}" is called complete, but joins nothing but ${pins[0]}`;
    report(
      document,
      ['nets', i, 'complete'],
      what,
      'list what else hangs on it, or leave "complete" out',
      'caution',
    );
  });
};

/** Pins that meet are those of two components, and each meets one. */
export const matedPinsMeetOnce: DossierRule = (document, report) => {
  const { components, connections } = document.dossier;
  const byId = new Map(components.map((one) => [one.id, one]));
  connections.forEach(({ between, pins = [] }, i) => {
    if (pins.length === 0) return;
    const ends = between.map((id) => byId.get(id));
    const board = between.find((_, end) => !ends[end]);
    if (board !== undefined) {
      const what = `lists pins that meet, but "${board}" is no component`;
      report(document, ['connections', i, 'pins'], what, 'name the two connectors in "between"');
      return;
    }
    for (const end of [0, 1] as const) {
      const seen = new Set<string>();
      pins.forEach((pair, j) => {
        const key = pinKey(ends[end]?.pinout, pair[end]);
        if (key === undefined) return;
        if (seen.has(key)) {
          const what = `pin ${pair[end]} of ${between[end]} meets two pins`;
          report(document, ['connections', i, 'pins', j, end], what, 'list each pin of a connector once');
        }
        seen.add(key);
      });
    }
  });
};

import type { Part } from '../model/catalogue.ts';
import type { Component, Identification } from '../model/dossier.ts';
import { pinOf } from '../model/ids.ts';
import type { Net, Pin } from '../model/net.ts';
import { pinsMeant } from '../model/pinout.ts';
import type { OpenedSpecimen } from './specimen.ts';

/** The catalogue record of a part, if the state has it. */
export type PartOf = (id: string) => Part | undefined;

/** Least probability at which the pinout of a part stands for that of a component. */
const LIKELY = 0.5;

/** What components are identified as. */
export type Identified = ReadonlyMap<string, Pick<Identification, 'candidates'>>;

/** Pins of a component as far as they are known: its own pinout, else that of the part that it more likely than not is. */
export function pinoutOf(
  { identified }: { readonly identified: Identified },
  { id, pinout }: Pick<Component, 'id' | 'pinout'>,
  partOf: PartOf,
): readonly Pin[] | undefined {
  if (pinout) return pinout;
  const part = identified.get(id)?.candidates.find(({ probability }) => probability > LIKELY)?.part;
  return part === undefined ? undefined : partOf(part)?.pinout;
}

/** A pin with the net that it is on; without number and name where a net joins the component at a pin that is not known. */
export interface PinOnNet extends Partial<Pin> {
  readonly net?: Net;
}

/** Where nets join a component. */
interface Landing {
  readonly net: Net;
  /** Number or name; undefined where the pin is not known. */
  readonly pin: string | undefined;
}

const made = new WeakMap<OpenedSpecimen, ReadonlyMap<string, readonly Landing[]>>();

/** Where nets join each component, by local id; read off once for each opened specimen. */
function landingsIn(specimen: OpenedSpecimen): ReadonlyMap<string, readonly Landing[]> {
  let landings = made.get(specimen) as Map<string, Landing[]> | undefined;
  if (landings) return landings;
  landings = new Map();
  for (const net of specimen.nets) {
    for (const written of net.pins) {
      const { component, pin } = pinOf(written);
      const group = landings.get(component);
      if (group) group.push({ net, pin });
      else landings.set(component, [{ net, pin }]);
    }
  }
  made.set(specimen, landings);
  return landings;
}

/** Every pin that is known of a component, in the order of its pinout, then those that nets alone tell of. */
export function pinsOf(specimen: OpenedSpecimen, component: Component, partOf: PartOf): readonly PinOnNet[] {
  const pinout = pinoutOf(specimen, component, partOf) ?? [];
  const nets = new Map<Pin, Net>();
  const more: PinOnNet[] = [];
  for (const { net, pin } of landingsIn(specimen).get(component.id) ?? []) {
    const meant = pin === undefined ? [] : pinsMeant(pinout, pin);
    for (const one of meant) nets.set(one, net);
    if (meant.length === 0) more.push({ ...(pin === undefined ? {} : called(pin)), net });
  }
  return [...pinout.map((pin) => ({ ...pin, net: nets.get(pin) })), ...more];
}

/** One member of a net: a component, and the pin where it is known. */
export interface NetMember extends Partial<Pin> {
  readonly component: Component;
}

/** What a net joins, in its own order; what the dossier does not have is left out. A name that several pins share is one member. */
export function membersOf(
  specimen: Pick<OpenedSpecimen, 'components'> & { readonly identified: Identified },
  net: Pick<Net, 'pins'>,
  partOf: PartOf,
): readonly NetMember[] {
  return net.pins.flatMap((written) => {
    const { component: id, pin } = pinOf(written);
    const component = specimen.components.get(id);
    if (!component) return [];
    if (pin === undefined) return [{ component }];
    const meant = pinsMeant(pinoutOf(specimen, component, partOf), pin);
    return [{ component, ...(meant.length === 1 ? meant[0] : called(pin)) }];
  });
}

/** A pin of no known pinout, by what it is called: numbers are whole numbers, the rest names. */
function called(pin: string): Partial<Pin> {
  return /^\d+$/u.test(pin) ? { number: pin } : { name: pin };
}

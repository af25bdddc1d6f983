import { isFitted } from '../model/certainty.ts';
import { pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import type { Board } from './board.ts';

interface End {
  readonly net: Net;
  readonly pin: string | undefined;
}

/**
 * Nets that go on in others where two components meet pin by pin, as mated connectors do: by the pins that a connection lists, else
 * nets of one name. Linear in the pins of what is joined.
 */
export class Mates {
  readonly #of = new Map<Net, Net[]>();

  constructor({ nets, joined, components }: Board) {
    const isThere = (id: string) => {
      const one = components.get(id);
      return one !== undefined && isFitted(one);
    };
    const met = joined.filter(
      ({ medium, between }) => medium !== 'optical-path' && medium !== 'adhesive' && between.every(isThere),
    );
    if (met.length === 0) return;
    const ends = new Map<string, End[]>(met.flatMap(({ between }) => between.map((id) => [id, []] as const)));
    for (const net of nets)
      for (const { component, pin } of net.pins.map(pinOf)) ends.get(component)?.push({ net, pin });
    for (const { between, pins } of met) {
      const [from, to] = between.map((id) => ends.get(id) ?? []);
      const isByPin = pins !== undefined && pins.length > 0;
      const facing = new Map(isByPin ? pins : []);
      const key = ({ net: { label }, pin }: End) => (isByPin ? pin : label);
      const byKey = Map.groupBy(to, key);
      for (const one of from) {
        const own = key(one);
        const met = own === undefined ? undefined : isByPin ? facing.get(own) : own;
        if (met === undefined) continue;
        for (const { net } of byKey.get(met) ?? []) {
          if (one.net === net) continue;
          this.#add(one.net, net);
          this.#add(net, one.net);
        }
      }
    }
  }

  #add(from: Net, to: Net): void {
    const known = this.#of.get(from);
    if (known) known.push(to);
    else this.#of.set(from, [to]);
  }

  /** Nets that a net goes on in. */
  of(net: Net): readonly Net[] {
    return this.#of.get(net) ?? [];
  }
}

import { comparedOf } from '../../compare/representative.ts';
import type { Row } from '../../export/rows.ts';
import { BUSES } from '../../model/net.ts';
import type { Feed } from '../../nets/feeds.ts';
import type { SharedBus, SignalPath } from '../../nets/signal-paths.ts';
import { feedsIn, sharedBusesIn, signalPathsIn } from '../../questions/wiring.ts';
import { resolved } from '../../state/resolve.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { choice } from '../frame/options.ts';

/** At least as likely as not. */
const LIKELY = 0.5;
const ASPECTS = ['feeds', 'signal-paths', 'shared-buses'] as const;

export const command = defineCommand({
  name: 'wiring',
  about:
    'What follows from the nets and traced connections of a specimen, of the specimen that stands for a device, or of one component: who feeds whom, where signals go through series parts and connectors, which chips share a bus. The rules are in src/nets/README.md.',
  arguments: [{ name: 'ID', help: 'a device, a specimen or a component' }],
  options: {
    only: choice('ASPECT', ASPECTS, { help: `only this: ${ASPECTS.join(', ')}` }),
    bus: choice('BUS', BUSES, { help: `only paths and buses of this: ${BUSES.join(', ')}` }),
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['wiring tarn-sennit-3/a --only feeds', 'wiring tarn-sennit-3/a/U1 --bus I2C'],

  async run(call) {
    const view = await call.view();
    const { only, bus } = call.options;
    const found = resolved(view, call.arguments[0], ['Device', 'Specimen', 'Component']);
    const specimen = found.kind === 'Component' ? found.opened : comparedOf(view, found.id).specimen;
    const filter = { component: found.kind === 'Component' ? found.thing.id : undefined, bus };
    const wants = (aspect: (typeof ASPECTS)[number]) => only === undefined || only === aspect;
    const feeds = wants('feeds') && bus === undefined ? feedsIn(view, specimen, filter) : [];
    const paths = wants('signal-paths') ? signalPathsIn(view, specimen, filter) : [];
    const buses = wants('shared-buses') ? sharedBusesIn(view, specimen, filter) : [];
    // A protector hangs on a supply and draws nothing from it.
    const hangs = (id: string) => (specimen.named.get(id)?.get('Diode') ?? 0) >= LIKELY;
    const rows = () => [
      ...feeds.map((feed) => feedRow(feed, hangs(feed.load))),
      ...paths.map(pathRow),
      ...buses.map(busRow),
    ];
    return {
      table: rows,
      csv: rows,
      json: () => ({ specimen: specimen.id, feeds, signalPaths: paths, sharedBuses: buses }),
      messages: [
        `${specimen.id}: ${[
          counted(feeds.length, 'feed'),
          counted(paths.length, 'signal path'),
          counted(buses.length, 'shared bus', 'shared buses'),
        ].join(', ')}`,
      ],
    };
  },
});

function feedRow(
  { source, load, voltage, output, supply, switched, through }: Feed,
  onlyHangs: boolean,
): Row {
  const how = [
    supply ?? 'supply of a kind not known',
    voltage === undefined ? '' : `${voltage} V`,
    output === undefined ? '' : `from ${output}`,
    switched ? 'can be cut off' : '',
  ];
  return row(source, onlyHangs ? 'has on its supply' : 'feeds', load, how, through);
}

function pathRow({ ends: [a, b], bus, lines, through, ways, crosses }: SignalPath): Row {
  const direct = ways.reduce((sum, way) => sum + (way.through.length === 0 ? way.lines : 0), 0);
  const how = [
    bus ?? '',
    counted(lines, 'line'),
    direct > 0 && direct < lines ? `${direct} direct` : '',
    crosses ? 'from board to board' : '',
  ];
  return row(a, 'signals with', b, how, through);
}

function busRow({ ends: [a, b], bus, lines }: SharedBus): Row {
  return row(a, 'shares a bus with', b, [bus, counted(lines, 'line')], []);
}

function row(
  from: string,
  relation: string,
  to: string,
  how: readonly string[],
  through: readonly string[],
): Row {
  return { from, relation, to, how: how.filter((one) => one !== '').join(', '), through: through.join(', ') };
}

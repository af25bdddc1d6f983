import type { Row } from '../../export/rows.ts';
import { BUSES, NET_KINDS, type Net } from '../../model/net.ts';
import { formatQuantity } from '../../model/quantity.ts';
import { netMembers, netsUnder } from '../../questions/contents.ts';
import type { NetMember } from '../../state/pins.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { choice } from '../frame/options.ts';

/** Members that a table shows of one net. */
const SHOWN = 8;

export const command = defineCommand({
  name: 'nets',
  about:
    'What is joined to what: the nets of a specimen, or of the specimen that stands for a device, with the pins that they join, by number and, in brackets, name. A component without a pin is joined at one that is not known. One net by its id lists its pins one a row, as --format csv does of all.',
  arguments: [{ name: 'ID', help: 'a device, a specimen or a net (device/specimen/net)' }],
  options: {
    kind: choice('KIND', NET_KINDS, { help: `only these: ${NET_KINDS.join(', ')}` }),
    bus: choice('BUS', BUSES, { help: `only those that carry this: ${BUSES.join(', ')}` }),
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['nets tarn-sennit-3/a --kind power', 'nets tarn-sennit-3/a --format csv'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    const { specimen, nets, isOne } = netsUnder(view, id, call.options);
    const found = nets.map((net) => ({ net, members: netMembers(view, specimen, net) }));
    const pins = () => found.flatMap(({ net, members }) => members.map((one) => pinRow(net, one)));
    return {
      table: () => (isOne ? pins() : found.map(({ net, members }) => netRow(net, members))),
      csv: pins,
      json: () =>
        found.map(({ net, members }) => ({
          ...net,
          specimen: specimen.id,
          pins: members.map(({ component, ...pin }) => ({ component: component.id, ...pin })),
        })),
      messages: [
        `${specimen.id}: ${counted(nets.length, 'net')}, ${counted(
          found.reduce((sum, { members }) => sum + members.length, 0),
          'pin',
        )}`,
      ],
    };
  },
});

function netRow(net: Net, members: readonly NetMember[]): Row {
  const { id, label, kind, voltage, bus, complete } = net;
  const more = members.length > SHOWN ? ` and ${members.length - SHOWN} more` : '';
  return {
    net: id,
    label: label ?? '',
    kind,
    voltage: voltage ? formatQuantity(voltage) : '',
    bus: bus ?? '',
    complete: complete === true ? 'yes' : complete === false ? 'no' : 'not known',
    pins: `${members.slice(0, SHOWN).map(pinText).join(', ')}${more}`,
  };
}

/** `U3.4 (SDA)`, `R1.2`, `U2` */
function pinText({ component, number, name }: NetMember): string {
  const pin = number ?? name;
  const called = number !== undefined && name !== undefined ? ` (${name})` : '';
  return `${component.id}${pin === undefined ? '' : `.${pin}`}${called}${
    component.fitted === false ? ', not fitted' : ''
  }`;
}

function pinRow(net: Net, { component, number, name, direction, function: is, output }: NetMember): Row {
  return {
    net: net.id,
    label: net.label ?? '',
    kind: net.kind,
    voltage: net.voltage ? formatQuantity(net.voltage) : '',
    bus: net.bus ?? '',
    component: component.id,
    pin: number ?? '',
    name: name ?? '',
    direction: direction ?? '',
    function: is ?? '',
    output: output ?? '',
    value: component.value ?? '',
    fitted: component.fitted === false ? 'no' : 'yes',
  };
}

import { componentSource } from '../component-sources.ts';
import { observationsNamed } from '../node.ts';
import type { Resolvers } from '../resolver-types.ts';
import { netPinsOf, observationsOf } from '../specimens/contents.ts';
import { netSource, specimenSource } from '../specimens/sources.ts';
import { enumName } from '../words.ts';

/** Nets, and the pins that they join. */
export const nets: Resolvers = {
  Net: {
    specimen: ({ view, opened }) => specimenSource(view, opened),
    kind: ({ kind }) => enumName(kind),
    bus: ({ bus }) => enumName(bus),
    pins: (net, page) => netPinsOf(net, page),
    isComplete: ({ complete }) => complete === true,
    medium: ({ medium }) => enumName(medium),
    basis: ({ view, opened, basis }) => observationsNamed(view, opened, basis),
    observations: (net, page) => observationsOf(net, page, net.localId),
  },
  NetPin: {
    component: ({ view, opened, component }) => componentSource(view, opened, component),
    direction: ({ direction }) => enumName(direction),
    function: ({ function: is }) => enumName(is),
  },
  Pin: {
    direction: ({ direction }) => enumName(direction),
    function: ({ function: is }) => enumName(is),
    net: ({ view, opened, net }) => (view && opened && net ? netSource(view, opened, net) : null),
  },
};

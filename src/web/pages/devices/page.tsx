import { definePage } from '../../frame/page.ts';
import { askedIn, type DevicesData, ORDERS } from './asked.ts';
import { DeviceList } from './devices.graphql.ts';
import { DevicesView } from './view.tsx';

/** Devices on one page of the list. */
const PAGE = 60;

export const page = definePage<DevicesData>({
  async load(place, ask, signal) {
    const { bodySites, makers, has, from, to, order, after } = askedIn(place);
    const { field, direction } = ORDERS[order];
    const filter = {
      ...(bodySites.length > 0 ? { bodySites } : {}),
      ...(makers.length > 0 ? { makers } : {}),
      ...(has === '' ? {} : { hasCategory: has }),
      ...(from === '' ? {} : { releasedFrom: from }),
      ...(to === '' ? {} : { releasedTo: to }),
    };
    const variables = {
      filter,
      orderBy: { field, direction },
      first: PAGE,
      ...(after === '' ? {} : { after }),
    };
    const { data, troubles } = await ask(DeviceList, variables, signal);
    return { answer: data, trouble: troubles[0]?.message };
  },
  heading: () => ({ title: 'Devices' }),
  View: DevicesView,
});

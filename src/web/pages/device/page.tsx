import { definePage } from '../../frame/page.ts';
import { DevicePage, type DevicePageQuery } from './device.graphql.ts';
import { DeviceView } from './view.tsx';

export const page = definePage<DevicePageQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(DevicePage, { id: parts.device }, signal)).data;
  },
  heading: ({ device }) => (device ? { title: device.name } : { title: 'No such device', status: 404 }),
  View: DeviceView,
});

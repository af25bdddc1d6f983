import type { Ask } from '../../api/ask.ts';
import { definePage } from '../../frame/page.ts';
import { PickedComponent, type PickedComponentQuery } from './component.graphql.ts';
import { DevicePage } from './device.graphql.ts';
import { type DeviceData, pickedIn } from './device.ts';
import { DeviceView } from './view.tsx';

export const page = definePage<DeviceData>({
  async load({ parts, query }, ask, signal) {
    const picked = query.get('picked');
    const [{ data }, component] = await Promise.all([
      ask(DevicePage, { id: parts.device }, signal),
      picked === null ? undefined : componentOf(picked, ask, signal),
    ]);
    return { device: data.device, picked: component };
  },
  heading: ({ device }) => (device ? { title: device.name } : { title: 'No such device', status: 404 }),
  View: DeviceView,
});

/** What is picked may be gone; the rest of the page stands then all the same. */
async function componentOf(
  id: string,
  ask: Ask,
  signal?: AbortSignal,
): Promise<PickedComponentQuery | undefined> {
  const { data } = await ask(PickedComponent, { id }, signal);
  return pickedIn(data) && data;
}

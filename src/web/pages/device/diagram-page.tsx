import { definePage } from '../../frame/page.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { DeviceFrame } from './device-frame.tsx';
import { DeviceDiagram, type DeviceDiagramQuery } from './diagram.graphql.ts';

interface DiagramData {
  readonly device: DeviceDiagramQuery['device'];
  /** Why there is no diagram. */
  readonly trouble: string | undefined;
}

export const page = definePage<DiagramData>({
  async load({ parts }, ask, signal) {
    const { data, troubles } = await ask(DeviceDiagram, { id: parts.device }, signal);
    return { device: data.device, trouble: troubles[0]?.message };
  },
  heading: ({ device }) =>
    device ? { title: `${device.name}: block diagram` } : { title: 'No such device', status: 404 },
  View({ data: { device, trouble } }) {
    if (!device) return <NotFound what="device" list="/devices" />;
    const { specimen } = device;
    return (
      <DeviceFrame device={device} at="/diagram">
        {specimen?.blockDiagram ? (
          <figure class="diagram">
            <a href={`/drawings/diagram/${specimen.id}.svg`}>
              <img src={`/drawings/diagram/${specimen.id}.svg`} alt={specimen.blockDiagram.description} />
            </a>
            <figcaption>{specimen.blockDiagram.description}</figcaption>
          </figure>
        ) : (
          <p class="notice">{trouble ?? 'Nobody has opened it yet, so there is no diagram.'}</p>
        )}
      </DeviceFrame>
    );
  },
});

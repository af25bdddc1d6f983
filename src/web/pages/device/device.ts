import type { PickedComponentQuery } from './component.graphql.ts';
import type { DevicePageQuery } from './device.graphql.ts';

/** The device, and the component that the address picks. */
export interface DeviceData {
  readonly device: DevicePageQuery['device'];
  readonly picked: PickedComponentQuery | undefined;
}

export type Device = NonNullable<DevicePageQuery['device']>;
export type Component = NonNullable<Device['components']>['nodes'][number];

export type Picked = Extract<NonNullable<PickedComponentQuery['node']>, { readonly observations: unknown }>;

/** The component in an answer; undefined where the id is that of something else, or of nothing. */
export function pickedIn(answer: PickedComponentQuery | undefined): Picked | undefined {
  return answer?.node && 'designator' in answer.node ? (answer.node as Picked) : undefined;
}

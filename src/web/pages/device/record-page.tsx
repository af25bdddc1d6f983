import type { VNode } from 'preact';
import { definePage } from '../../frame/page.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { capital, inWords } from '../../parts/words.ts';
import { DeviceFrame } from './device-frame.tsx';
import { DeviceRecord, type DeviceRecordQuery } from './record.graphql.ts';

type Specimen = NonNullable<NonNullable<DeviceRecordQuery['device']>['specimens']>[number];

export const page = definePage<DeviceRecordQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(DeviceRecord, { id: parts.device }, signal)).data;
  },
  heading: ({ device }) =>
    device ? { title: `${device.name}: record` } : { title: 'No such device', status: 404 },
  View({ data: { device } }) {
    if (!device) return <NotFound what="device" list="/devices" />;
    const specimens = device.specimens ?? [];
    return (
      <DeviceFrame device={device} at="/record">
        {specimens.length === 0 && <p>Nobody has opened one yet.</p>}
        {specimens.map((one) => (
          <SpecimenSection key={one.id} specimen={one} device={device.id} />
        ))}
      </DeviceFrame>
    );
  },
});

function SpecimenSection({
  specimen,
  device,
}: {
  readonly specimen: Specimen;
  readonly device: string;
}): VNode {
  const { id, teardown, photos, observations } = specimen;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>
        Specimen {specimen.revision && `revision ${specimen.revision}`} <small>{id}</small>
      </h2>
      <p class="quiet">
        {[
          specimen.bought && `bought ${specimen.bought}`,
          specimen.region,
          inWords(specimen.condition),
          `opened ${teardown.on} by ${teardown.by}`,
          teardown.place,
        ]
          .filter(Boolean)
          .join(' · ')}
      </p>
      {specimen.note && <p>{specimen.note}</p>}
      {teardown.cautions.length > 0 && (
        <div class="notice">
          <ul>
            {teardown.cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </div>
      )}
      <Photos photos={photos} />
      <Steps steps={teardown.steps} />
      {observations && observations.totalCount > 0 && (
        <>
          <h3>Seen and measured</h3>
          <table class="observed">
            <thead>
              <tr>
                <th scope="col">Of</th>
                <th scope="col">What</th>
                <th scope="col">How</th>
                <th scope="col">By</th>
              </tr>
            </thead>
            <tbody>
              {observations.nodes.map((one) => (
                <tr key={one.id} class={one.correctedBy.length > 0 ? 'corrected' : undefined}>
                  <th scope="row">
                    {one.about.map((thing) =>
                      'designator' in thing ? (
                        <a key={thing.id} href={`/devices/${device}?picked=${encodeURIComponent(thing.id)}`}>
                          {thing.designator}{' '}
                        </a>
                      ) : (
                        <span key={thing.id}>{('name' in thing && thing.name) || 'specimen'} </span>
                      ),
                    )}
                  </th>
                  <td>
                    {one.marking && <code>{one.marking}</code>}{' '}
                    {[one.text, one.value?.text].filter(Boolean).join('; ')}
                    {one.correctedBy.length > 0 && (
                      <span class="quiet"> corrected by a later observation</span>
                    )}
                  </td>
                  <td class="quiet">{[inWords(one.kind), one.method].filter(Boolean).join(', ')}</td>
                  <td class="quiet">{[one.by, one.on].filter(Boolean).join(', ')}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </section>
  );
}

function Photos({ photos }: { readonly photos: Specimen['photos'] }): VNode | null {
  if (photos.length === 0) return null;
  return (
    <>
      <h3>Photos</h3>
      <ul class="photos">
        {photos.map(({ id, caption, credit, licence, picture }) => (
          <li key={id}>
            <figure>
              {picture ? (
                <a href={`${picture.address}/file`}>
                  <img
                    src={`${picture.address}/full/max/0/default.jpg`}
                    width={picture.widthPx}
                    height={picture.heightPx}
                    alt={caption ?? ''}
                    loading="lazy"
                  />
                </a>
              ) : (
                <p class="quiet">The file is not in the archive.</p>
              )}
              <figcaption>
                {caption && <>{capital(caption)} </>}
                <span class="quiet">
                  {credit}, {licence}
                </span>
              </figcaption>
            </figure>
          </li>
        ))}
      </ul>
    </>
  );
}

function Steps({ steps }: { readonly steps: Specimen['teardown']['steps'] }): VNode | null {
  if (steps.length === 0) return null;
  return (
    <>
      <h3>How it was opened</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">Step</th>
            <th scope="col">What</th>
            <th scope="col">Tool</th>
            <th scope="col" class="number">
              Time, min
            </th>
          </tr>
        </thead>
        <tbody>
          {steps.map(({ number, do: what, tool, minutes, isDestructive, cautions }) => (
            <tr key={number}>
              <th scope="row">{number}</th>
              <td>
                {what}
                {isDestructive && <strong> Destructive.</strong>}
                {cautions.map((caution) => (
                  <p key={caution} class="caution">
                    {caution}
                  </p>
                ))}
              </td>
              <td>{tool}</td>
              <td class="number">{minutes}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

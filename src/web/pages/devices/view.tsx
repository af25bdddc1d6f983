import type { VNode } from 'preact';
import { useNavigation } from '../../frame/navigation.ts';
import type { Place } from '../../frame/page.ts';
import { capital, inWords } from '../../parts/words.ts';
import { askedIn, BODY_SITES, type DevicesData, ORDERS } from './asked.ts';

/** All devices, narrowed down by what the address asks for. */
export function DevicesView({ data, place }: { readonly data: DevicesData; readonly place: Place }): VNode {
  const { devices, makers } = data.answer;
  const asked = askedIn(place);
  return (
    <>
      <h1 tabIndex={-1}>Devices</h1>
      <div class="beside">
        <Narrowing place={place} makers={makers?.nodes ?? []} />
        <section aria-labelledby="found">
          <h2 id="found">
            {devices
              ? `${devices.totalCount.toLocaleString('en')} ${devices.totalCount === 1 ? 'device' : 'devices'}`
              : 'No answer'}
          </h2>
          {data.trouble !== undefined && (
            <p class="notice" role="alert">
              {data.trouble}
            </p>
          )}
          {devices?.totalCount === 0 && <p>None fits all of that. Leave a condition out.</p>}
          <ul class="cards">
            {devices?.nodes.map(({ id, name, year, bodySite, maker, productLine, boards, specimens }) => (
              <li key={id} class="card">
                <a href={`/devices/${id}`}>
                  {boards.length > 0 ? (
                    <img
                      src={`/drawings/board/${boards[0].id}.svg?plain=true&width=80`}
                      alt=""
                      loading="lazy"
                      width="160"
                      height="110"
                    />
                  ) : (
                    <span class="blank">{specimens?.length ? 'No board recorded' : 'Not opened'}</span>
                  )}
                  <strong>{name}</strong>
                </a>
                <span>{productLine?.name ?? maker?.name}</span>
                <span class="quiet">
                  {year}, {inWords(bodySite)}
                </span>
              </li>
            ))}
          </ul>
          {devices?.pageInfo.hasNextPage && (
            <p>
              <a href={nextPage(place, devices.pageInfo.endCursor ?? '')}>More</a>
            </p>
          )}
          {asked.after !== '' && (
            <p>
              <a href={nextPage(place, '')}>Back to the first</a>
            </p>
          )}
        </section>
      </div>
    </>
  );
}

function nextPage({ path, query }: Place, after: string): string {
  const next = new URLSearchParams(query);
  if (after === '') next.delete('after');
  else next.set('after', after);
  return `${path}?${next}`;
}

/** Conditions of the list; a form, so that it works before any script has run. */
function Narrowing({
  place,
  makers,
}: {
  readonly place: Place;
  readonly makers: readonly { readonly id: string; readonly name: string }[];
}): VNode {
  const { go } = useNavigation();
  const { bodySites, makers: picked, has, from, to, order } = askedIn(place);
  const change = (event: Event) => {
    event.preventDefault();
    const form = (event.currentTarget as HTMLFormElement) ?? undefined;
    const given = [...new FormData(form)].filter(([, value]) => value !== '') as [string, string][];
    go(`${place.path}?${new URLSearchParams(given)}`, 'replace');
  };
  return (
    <form
      class="narrowing"
      method="get"
      action="/devices"
      onChange={change}
      onSubmit={change}
      aria-label="Conditions"
    >
      <fieldset>
        <legend>Worn</legend>
        {BODY_SITES.map((site) => (
          <label key={site}>
            <input type="checkbox" name="worn" value={site} defaultChecked={bodySites.includes(site)} />{' '}
            {capital(inWords(site))}
          </label>
        ))}
      </fieldset>
      <label>
        Maker
        <select name="maker" defaultValue={picked[0] ?? ''}>
          <option value="">All</option>
          {makers.map(({ id, name }) => (
            <option key={id} value={id} selected={picked[0] === id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        Has a
        <input name="has" defaultValue={has} placeholder="PressureSensor" autocomplete="off" />
      </label>
      <label>
        Released from
        <input
          name="from"
          defaultValue={from}
          placeholder="2019"
          inputMode="numeric"
          pattern="\d{4}(-\d{2}){0,2}"
        />
      </label>
      <label>
        to
        <input
          name="to"
          defaultValue={to}
          placeholder="2024-06"
          inputMode="numeric"
          pattern="\d{4}(-\d{2}){0,2}"
        />
      </label>
      <label>
        Order
        <select name="order" defaultValue={order}>
          {Object.entries(ORDERS).map(([key, { name }]) => (
            <option key={key} value={key} selected={key === order}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <button type="submit">Show</button>
    </form>
  );
}

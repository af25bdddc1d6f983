import { definePage } from '../../frame/page.ts';
import { counted } from '../../parts/facts.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { inWords, termInWords } from '../../parts/words.ts';
import { MakerPage, type MakerPageQuery } from './makers.graphql.ts';

export const page = definePage<MakerPageQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(MakerPage, { id: parts.maker }, signal)).data;
  },
  heading: ({ maker }) => (maker ? { title: maker.name } : { title: 'No such maker', status: 404 }),
  View({ data: { maker } }) {
    if (!maker) return <NotFound what="maker" list="/devices" />;
    const { devices, parts, productLines } = maker;
    return (
      <>
        <h1 tabIndex={-1}>{maker.name}</h1>
        <p class="lead">
          {[`makes ${maker.makes.map(inWords).join(' and ')}`, maker.country, maker.note]
            .filter(Boolean)
            .join(' · ')}
        </p>
        {maker.invented && <p class="notice">Demo data: no such maker exists.</p>}
        {productLines && productLines.nodes.length > 0 && (
          <section>
            <h2>Product lines</h2>
            <ul class="list">
              {productLines.nodes.map(({ id, name }) => (
                <li key={id}>
                  <a href={`/lines/${id}`}>{name}</a>
                </li>
              ))}
            </ul>
          </section>
        )}
        {devices && devices.totalCount > 0 && (
          <section>
            <h2>{counted(devices.totalCount, 'device')}</h2>
            <ul class="list">
              {devices.nodes.map(({ id, name, year }) => (
                <li key={id}>
                  <a href={`/devices/${id}`}>{name}</a>
                  <span class="quiet">{year}</span>
                </li>
              ))}
            </ul>
          </section>
        )}
        {parts && parts.totalCount > 0 && (
          <section>
            <h2>{counted(parts.totalCount, 'part')}</h2>
            <ul class="list">
              {parts.nodes.map(({ id, number, name, categories }) => (
                <li key={id}>
                  <a href={`/parts/${id}`}>{number}</a>
                  <span class="quiet">{name ?? categories.map(termInWords).join(', ')}</span>
                </li>
              ))}
            </ul>
            {parts.totalCount > parts.nodes.length && (
              <p class="quiet">The first {parts.nodes.length} are listed.</p>
            )}
          </section>
        )}
      </>
    );
  },
});

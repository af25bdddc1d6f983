import { definePage } from '../../frame/page.ts';
import { Chart } from '../../parts/chart.tsx';
import { NotFound } from '../../parts/not-found.tsx';
import { LinePage, type LinePageQuery } from './makers.graphql.ts';

export const page = definePage<LinePageQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(LinePage, { id: parts.line }, signal)).data;
  },
  heading: ({ generations }) =>
    generations ? { title: generations.productLine.name } : { title: 'No such product line', status: 404 },
  View({ data: { generations } }) {
    if (!generations) return <NotFound what="product line" list="/devices" />;
    const { productLine, generations: all, chart, figures } = generations;
    const ids = all.map(({ device }) => ['device', device.id]);
    return (
      <>
        <h1 tabIndex={-1}>{productLine.name}</h1>
        <p class="lead">
          A product line of{' '}
          {productLine.maker && <a href={`/makers/${productLine.maker.id}`}>{productLine.maker.name}</a>}
        </p>
        <ol class="cards">
          {all.map(({ number, device }) => (
            <li key={device.id} class="card">
              <a href={`/devices/${device.id}`}>
                {device.boards.length > 0 && (
                  <img
                    src={`/drawings/board/${device.boards[0].id}.svg?plain=true&width=80`}
                    alt=""
                    loading="lazy"
                    width="160"
                    height="110"
                  />
                )}
                <strong>{device.name}</strong>
              </a>
              <span class="quiet">
                generation {number}, {device.released}
              </span>
            </li>
          ))}
        </ol>
        {all.length > 1 && (
          <p>
            <a href={`/compare?${new URLSearchParams(ids.slice(-20))}`}>Compare them side by side</a>
          </p>
        )}
        {chart && <Chart chart={chart} name={`${productLine.id}-steps`} />}
        {figures && <Chart chart={figures} name={`${productLine.id}-figures`} />}
      </>
    );
  },
});

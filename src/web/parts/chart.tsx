import type { VNode } from 'preact';

/** A chart as the API gives it. */
export interface ChartAnswer {
  readonly title: string;
  readonly subtitle: string;
  readonly n: string;
  readonly description: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly cautions: readonly string[];
  readonly vegaLite: unknown;
  readonly svg: string | null;
}

/** A chart with its table beside it, what must be said with it, and the ways to take it along. */
export function Chart({ chart, name }: { readonly chart: ChartAnswer; readonly name: string }): VNode {
  const { title, subtitle, n, description, columns, rows, cautions, vegaLite, svg } = chart;
  return (
    <figure class="chart">
      {svg !== null ? (
        <img src={dataAddress('image/svg+xml', svg)} alt={description} />
      ) : (
        <p>
          <strong>{title}</strong> {subtitle}
        </p>
      )}
      <figcaption class="quiet">{n}</figcaption>
      {cautions.map((caution) => (
        <p key={caution} class="quiet">
          {caution}
        </p>
      ))}
      <p class="take">
        {svg !== null && (
          <a download={`${name}.svg`} href={dataAddress('image/svg+xml', svg)}>
            SVG
          </a>
        )}
        <a download={`${name}.csv`} href={dataAddress('text/csv', csvOf([columns, ...rows]))}>
          CSV
        </a>
        <a download={`${name}.vl.json`} href={dataAddress('application/json', JSON.stringify(vegaLite))}>
          Vega-Lite
        </a>
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard */}
      <section class="scroll" tabIndex={0} aria-label={`Table: ${title}`}>
        <table>
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column} scope="col">
                  {column}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.join(' ')}>
                {row.map((cell, i) =>
                  i === 0 ? (
                    <th key={columns[i]} scope="row">
                      {cell}
                    </th>
                  ) : (
                    <td key={columns[i]}>{cell}</td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </figure>
  );
}

const dataAddress = (type: string, text: string) => `data:${type};charset=utf-8,${encodeURIComponent(text)}`;

/** RFC 4180; a cell that a spreadsheet would calculate begins with an apostrophe. */
function csvOf(rows: readonly (readonly string[])[]): string {
  const cell = (text: string) => {
    const safe = /^[=+@\t\r]|^-(?![\d.])/u.test(text) ? `'${text}` : text;
    return /[",\r\n]/u.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return `${rows.map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`;
}

import type { VNode } from 'preact';
import type { Place } from '../../frame/page.ts';
import { textIn, tidy } from '../../parts/facts.ts';
import { capital, inWords, percent, termInWords } from '../../parts/words.ts';
import type { AlignedQuery, CompareQuery, DevicesToChooseQuery } from './compare.graphql.ts';

type Comparison = NonNullable<CompareQuery['compareDevices']>;
type Section = NonNullable<Comparison['sections']>[number];
type Row = Section['rows'][number];
type Alignment = NonNullable<NonNullable<AlignedQuery['compareDevices']>['alignment']>;

/** What the address asked for. */
export interface CompareData {
  readonly answer: CompareQuery | undefined;
  readonly aligned: AlignedQuery | undefined;
  /** Devices that the search for one more found. */
  readonly choice: DevicesToChooseQuery | undefined;
  readonly trouble: string | undefined;
}

/** Devices side by side: figures, and components with what plays the same role in one row. */
export function CompareView({ data, place }: { readonly data: CompareData; readonly place: Place }): VNode {
  const comparison = data.answer?.compareDevices;
  const ids = place.query.getAll('device').filter((id) => id !== '');
  return (
    <>
      <h1 tabIndex={-1}>Compare devices</h1>
      <Choosing data={data} ids={ids} place={place} />
      {data.trouble !== undefined && (
        <p class="notice" role="alert">
          {data.trouble}
        </p>
      )}
      {comparison && (
        <>
          <ul class="cards wide">
            {comparison.columns.map(({ device, otherSpecimens }) => (
              <li key={device.id} class="card">
                <a href={`/devices/${device.id}`}>
                  <strong>{device.name}</strong>
                </a>
                <span class="quiet">
                  {device.year}
                  {otherSpecimens > 0 && `, ${otherSpecimens} more opened, which may differ`}
                </span>
                <a href={without(ids, device.id)}>Leave out</a>
              </li>
            ))}
          </ul>
          <Figures comparison={comparison} />
        </>
      )}
      {comparison && data.aligned?.compareDevices?.alignment && (
        <Components comparison={comparison} alignment={data.aligned.compareDevices.alignment} />
      )}
    </>
  );
}

const addressOf = (ids: readonly string[]) =>
  `/compare${ids.length > 0 ? `?${new URLSearchParams(ids.map((id) => ['device', id]))}` : ''}`;
const without = (ids: readonly string[], id: string) => addressOf(ids.filter((one) => one !== id));

function Choosing({
  data: { choice },
  ids,
  place,
}: {
  readonly data: CompareData;
  readonly ids: readonly string[];
  readonly place: Place;
}): VNode {
  const found = choice?.search?.nodes.filter(({ id }) => !ids.includes(id)) ?? [];
  return (
    <form method="get" action="/compare" class="choosing">
      {ids.map((id) => (
        <input key={id} type="hidden" name="device" value={id} />
      ))}
      <label for="search">{ids.length === 0 ? 'A device' : 'One more device'}</label>
      <input id="search" name="search" defaultValue={textIn(place.query, 'search')} autocomplete="off" />
      <button type="submit">Search</button>
      {choice && (
        <ul class="list">
          {found.length === 0 && <li>None found.</li>}
          {found.map(({ id, title }) => (
            <li key={id}>
              <a href={addressOf([...ids, id])}>{title}</a>
            </li>
          ))}
        </ul>
      )}
    </form>
  );
}

function Figures({ comparison: { columns, sections } }: { readonly comparison: Comparison }): VNode {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard
    <section class="scroll" tabIndex={0} aria-label="Figures">
      <table class="figures">
        <thead>
          <tr>
            <th scope="col">Figure</th>
            {columns.map(({ device }) => (
              <th key={device.id} scope="col" class="number">
                {device.name}
              </th>
            ))}
          </tr>
        </thead>
        {sections
          ?.filter(({ rows }) => rows.length > 0)
          .map(({ key, label, rows }) => (
            <tbody key={key}>
              <tr>
                <th scope="rowgroup" colSpan={columns.length + 1} class="group">
                  {label}
                </th>
              </tr>
              {rows.map((row) => (
                <tr key={row.key} class={differs(row) ? 'differs' : undefined}>
                  <th scope="row">
                    <abbr title={row.meaning}>{capital(termInWords(row.label))}</abbr>
                    {row.unit !== '1' && <span class="quiet"> {row.unit}</span>}
                  </th>
                  {row.cells.map((cell, i) => (
                    <td key={columns[i].device.id} class="number" title={cell.note ?? undefined}>
                      <Figure cell={cell} />
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          ))}
      </table>
    </section>
  );
}

/** Whether what stands in a row is not the same for all. */
const differs = ({ cells }: Row) => new Set(cells.map((cell) => inFigure(cell).join())).size > 1;

function Figure({ cell }: { readonly cell: Row['cells'][number] }): VNode {
  const [number, beside] = inFigure(cell);
  return (
    <>
      {number} {beside !== '' && <span class="quiet">{beside}</span>}
    </>
  );
}

/** A bare number is certain; what is doubtful has the number to expect beside it, and what nobody saw is no 0. */
function inFigure({ certain, expected, possible, missing }: Row['cells'][number]): readonly [string, string] {
  if (missing === 'NOT_OBSERVED') return ['', 'not observed'];
  if (expected === null) return ['', '–'];
  // A quantity has nothing possible beside it.
  if (possible === null) return [tidy(expected, 3), ''];
  if (possible === certain) return [tidy(certain, 3), ''];
  return [tidy(certain ?? 0, 3), `expect ${tidy(expected)}`];
}

function Components({
  comparison: { columns },
  alignment: { rows },
}: {
  readonly comparison: Comparison;
  readonly alignment: Alignment;
}): VNode {
  return (
    <>
      <h2 id="aligned">Components, what plays the same role in one row</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard */}
      <section class="scroll" tabIndex={0} aria-labelledby="aligned">
        <table>
          <thead>
            <tr>
              <th scope="col">Role</th>
              {columns.map(({ device }) => (
                <th key={device.id} scope="col">
                  {device.name}
                </th>
              ))}
              <th scope="col">From one to the next</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ role, cells, changes }) => (
              <tr key={cells.map((cell) => cell?.component.id).join(' ')}>
                <th scope="row">{role === null ? 'unknown' : termInWords(role)}</th>
                {cells.map((cell, i) => (
                  <td key={columns[i].device.id}>
                    {cell ? (
                      <>
                        <a
                          href={`/devices/${columns[i].device.id}?picked=${encodeURIComponent(cell.component.id)}`}
                        >
                          {cell.component.designator}
                        </a>{' '}
                        {cell.part && `${cell.part.maker?.name ?? ''} ${cell.part.number}`}{' '}
                        {cell.probability !== null && <span class="quiet">{percent(cell.probability)}</span>}
                      </>
                    ) : (
                      <span class="quiet">–</span>
                    )}
                  </td>
                ))}
                <td>
                  {changes.map(
                    (change, i) =>
                      change && (
                        <span key={columns[i].device.id} title={change.reason}>
                          {i > 0 && '; '}
                          {inWords(change.change)} <span class="quiet">{percent(change.certainty)}</span>
                        </span>
                      ),
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}

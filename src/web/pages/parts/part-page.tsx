import { definePage } from '../../frame/page.ts';
import { counted } from '../../parts/facts.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { Probability } from '../../parts/probability.tsx';
import { termInWords } from '../../parts/words.ts';
import { PartPage, type PartPageQuery } from './parts.graphql.ts';

type Part = NonNullable<PartPageQuery['part']>;

export const page = definePage<PartPageQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(PartPage, { id: parts.part }, signal)).data;
  },
  heading: ({ part }) =>
    part
      ? { title: `${part.maker?.name ?? ''} ${part.number}`.trim() }
      : { title: 'No such part', status: 404 },
  View({ data: { part } }) {
    if (!part) return <NotFound what="part" list="/parts" />;
    const uses = part.specimens;
    return (
      <>
        <h1 tabIndex={-1}>
          {part.maker?.name} {part.number}
        </h1>
        <p class="lead">
          {[part.name, part.categories.map(termInWords).join(', ')].filter(Boolean).join(' · ')}
        </p>
        {part.note && <p>{part.note}</p>}
        <div class="halves">
          <section>
            <h2>From the catalogue</h2>
            <dl class="figures">
              {factsOf(part).map(([name, value]) => (
                <div key={name}>
                  <dt>{name}</dt>
                  <dd>{value}</dd>
                </div>
              ))}
            </dl>
          </section>
          <section>
            <h2>{uses ? `In ${counted(uses.totalCount, 'specimen')}` : 'In specimens'}</h2>
            <ul class="list">
              {uses?.nodes.map(({ specimen, probability }) => (
                <li key={specimen.id}>
                  <a href={`/devices/${specimen.device?.id}`}>{specimen.device?.name}</a>
                  <span class="quiet">{specimen.device?.year}</span>
                  <Probability value={probability} />
                </li>
              ))}
            </ul>
          </section>
        </div>
      </>
    );
  },
});

/** What the catalogue says, name and value. */
function factsOf(part: Part): readonly (readonly [string, string])[] {
  const { body, parameters, relabels, relabelledAs } = part;
  const facts: readonly (readonly [string, string | null | undefined])[] = [
    ['Package', part.package],
    ['Pins', part.pins?.toString()],
    ['Body', body && `${body.length} × ${body.width}${body.height ? ` × ${body.height}` : ''} mm`],
    ['Markings', part.markings.join(', ')],
    ['First delivered', part.introduced],
    ['Last delivered', part.discontinued],
    ['Same as', [relabels, ...relabelledAs].flatMap((one) => one?.number ?? []).join(', ')],
    ...parameters.map(
      ({ name, quantity, text, flag, count }) =>
        [
          name,
          quantity?.text ?? text ?? count?.toString() ?? (flag === null ? null : flag ? 'yes' : 'no'),
        ] as const,
    ),
  ];
  return facts.flatMap(([name, value]) => (value ? [[name, value] as const] : []));
}

import type { VNode } from 'preact';
import { Probability } from '../../parts/probability.tsx';
import { inWords, percent } from '../../parts/words.ts';
import type { PickedComponentQuery } from './component.graphql.ts';
import { type Picked, pickedIn } from './device.ts';

type Candidates = NonNullable<PickedComponentQuery['candidates']>;

/** The component that is picked: what was seen of it beside what is concluded, and what to look at next. */
export function ComponentPanel({
  answer,
  isAsking,
}: {
  readonly answer: PickedComponentQuery;
  readonly isAsking: boolean;
}): VNode | null {
  const { candidates } = answer;
  // What would tell nothing that a number with two decimals can show is no advice.
  const nextObservations = answer.nextObservations?.filter(({ bits }) => bits >= 0.005);
  const node = pickedIn(answer);
  if (!node) return null;
  return (
    <section class="panel" aria-labelledby="picked" aria-busy={isAsking}>
      <h2 id="picked">
        {node.designator}
        {!node.printed && <small> named at the bench</small>}
      </h2>
      <div class="halves">
        <Seen component={node} />
        <Concluded component={node} candidates={candidates} />
      </div>
      <Nets component={node} />
      {nextObservations && nextObservations.length > 0 && (
        <>
          <h3>Look at next</h3>
          <ol class="next">
            {nextObservations.map(({ action, bits, minutes, isDestructive, cautions }) => (
              <li key={action}>
                {action}{' '}
                <span class="quiet">
                  {bits.toFixed(2)} bits, {minutes} min
                </span>
                {isDestructive && <strong> Destructive.</strong>}
                {cautions.map((caution) => (
                  <p key={caution} class="caution">
                    {caution}
                  </p>
                ))}
              </li>
            ))}
          </ol>
        </>
      )}
    </section>
  );
}

function Seen({ component }: { readonly component: Picked }): VNode {
  const { marking, reading, body, pins, value, observations, note } = component;
  return (
    <section aria-labelledby="seen" class="seen">
      <h3 id="seen">Seen</h3>
      {marking && (
        <pre class="marking" title={reading === null ? undefined : `read with certainty ${percent(reading)}`}>
          {marking}
        </pre>
      )}
      <dl>
        <Fact name="Package" value={component.package} />
        <Fact
          name="Body"
          value={body && `${body.length} × ${body.width}${body.height ? ` × ${body.height}` : ''} mm`}
        />
        <Fact name="Pins" value={pins} />
        <Fact name="Value" value={value} />
        <Fact
          name="Board"
          value={
            component.board &&
            `${component.board.name ?? ''}${component.side ? `, ${inWords(component.side)} side` : ''}`
          }
        />
      </dl>
      {observations && observations.totalCount > 0 && (
        <ul class="observations">
          {observations.nodes.map((one) => (
            <li key={one.id}>
              {[one.text, one.marking, one.value?.text].filter(Boolean).join('; ') || inWords(one.kind)}{' '}
              <span class="quiet">
                {[inWords(one.kind), one.method, one.by, one.on].filter(Boolean).join(', ')}
              </span>
            </li>
          ))}
        </ul>
      )}
      {note && <p class="quiet">{note}</p>}
    </section>
  );
}

function Fact({
  name,
  value,
}: {
  readonly name: string;
  readonly value: string | number | null | undefined;
}) {
  if (value === null || value === undefined || value === '') return null;
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </div>
  );
}

function Concluded({
  component: { identification },
  candidates,
}: {
  readonly component: Picked;
  readonly candidates: Candidates | null;
}): VNode {
  return (
    <section aria-labelledby="concluded" class="concluded">
      <h3 id="concluded">Concluded</h3>
      {candidates && (
        <>
          {candidates.sentence && <p class="quiet">By what hangs on it alone: {candidates.sentence}.</p>}
          <ul class="candidates">
            {candidates.parts?.map(({ part, probability, evidence }) => (
              <li key={part.id}>
                <details>
                  <summary>
                    <Probability value={probability} /> {part.maker?.name} {part.number}
                  </summary>
                  <table>
                    <thead>
                      <tr>
                        <th scope="col">Clue</th>
                        <th scope="col" class="number">
                          Weight, decibans
                        </th>
                      </tr>
                    </thead>
                    <tbody>
                      {evidence.map(({ kind, description, decibans }) => (
                        <tr key={kind + description}>
                          <th scope="row">
                            {inWords(kind)}: {description}
                          </th>
                          <td class="number">{signed(decibans)}</td>
                        </tr>
                      ))}
                    </tbody>
                  </table>
                </details>
              </li>
            ))}
            <li>
              <Probability value={candidates.none} /> none in the catalogue
            </li>
          </ul>
          {candidates.disagreement && (
            <p class="notice">
              Recorded with {percent(candidates.disagreement.recordedProbability)}, by the evidence{' '}
              {percent(candidates.disagreement.probability)}: record and evidence contradict each other.
            </p>
          )}
        </>
      )}
      {identification && (
        <>
          <h4>On record</h4>
          <p>
            {identification.candidates
              .map(
                ({ part, partId, category, probability }) =>
                  `${part?.number ?? partId ?? category}, ${percent(probability)}`,
              )
              .join('; ')}{' '}
            <span class="quiet">
              {[inWords(identification.state), identification.by, identification.on, identification.reason]
                .filter(Boolean)
                .join(', ')}
            </span>
          </p>
        </>
      )}
    </section>
  );
}

function Nets({ component: { pinout } }: { readonly component: Picked }): VNode | null {
  const joined = pinout?.filter(({ net }) => net) ?? [];
  if (joined.length === 0) return null;
  return (
    <>
      <h3>Joined</h3>
      <ul class="pins">
        {joined.map(({ number, name, net }) => (
          <li key={`${number} ${name} ${net?.id}`}>
            <code>{[number, name].filter(Boolean).join(' ') || 'a pin'}</code>{' '}
            {net?.label ?? inWords(net?.kind ?? 'NET')}
            {net?.bus && <span class="quiet"> {net.bus}</span>}
          </li>
        ))}
      </ul>
      <p class="quiet">
        Lit on the drawing as the shortest tree between the components of each net, which is not its copper.
      </p>
    </>
  );
}

const signed = (decibans: number) =>
  `${decibans > 0 ? '+' : decibans < 0 ? '−' : ''}${Math.abs(decibans).toFixed(1)}`;

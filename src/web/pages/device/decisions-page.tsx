import type { VNode } from 'preact';
import { definePage } from '../../frame/page.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { Probability } from '../../parts/probability.tsx';
import { capital, inWords, percent } from '../../parts/words.ts';
import { DeviceDecisions, type DeviceDecisionsQuery } from './decisions.graphql.ts';
import { DeviceFrame } from './device-frame.tsx';

type Decision = NonNullable<NonNullable<DeviceDecisionsQuery['device']>['decisions']>['nodes'][number];

export const page = definePage<DeviceDecisionsQuery>({
  async load({ parts }, ask, signal) {
    return (await ask(DeviceDecisions, { id: parts.device }, signal)).data;
  },
  heading: ({ device }) =>
    device ? { title: `${device.name}: decisions` } : { title: 'No such device', status: 404 },
  View({ data: { device } }) {
    if (!device) return <NotFound what="device" list="/devices" />;
    const decisions = device.decisions?.nodes ?? [];
    return (
      <DeviceFrame device={device} at="/decisions">
        <p class="lead">
          Design decisions that named patterns suggest, likeliest first: conclusions, never something seen.
        </p>
        {decisions.length === 0 && <p>No named pattern fits what is recorded.</p>}
        {decisions.map((one) => (
          <DecisionSection key={one.id} decision={one} device={device.id} />
        ))}
      </DeviceFrame>
    );
  },
});

function DecisionSection({
  decision,
  device,
}: {
  readonly decision: Decision;
  readonly device: string;
}): VNode {
  const { id, name, idea, probability, shape, strength, likelihood, standing, matchCount, reasons, against } =
    decision;
  const parts = decision.supportedBy ?? [];
  return (
    <section class="decision" aria-labelledby={id}>
      <h2 id={id}>
        {capital(name)} <Probability value={probability} /> <small>{likelihood}</small>
      </h2>
      <p>{idea}</p>
      <p class="quiet">
        That the shape is there: {percent(shape)}. That it means this, by the editor of the pattern:{' '}
        {percent(strength)}. {matchCount === 1 ? 'It fits in one way' : `It fits in ${matchCount} ways`};{' '}
        {inWords(standing)}.
      </p>
      <div class="halves">
        <List title="Reasons a designer may have had" items={reasons} />
        <List title="Other explanations" items={against} />
      </div>
      <Check check={decision.check} />
      {parts.length > 0 && (
        <p>
          Made of:{' '}
          {parts.map((one, i) => (
            <span key={one.id}>
              {i > 0 && ', '}
              {'designator' in one ? (
                <a href={`/devices/${device}?picked=${encodeURIComponent(one.id)}`}>{one.designator}</a>
              ) : (
                ('name' in one && one.name) || 'a board'
              )}
            </span>
          ))}
        </p>
      )}
    </section>
  );
}

function List({ title, items }: { readonly title: string; readonly items: readonly string[] }): VNode | null {
  if (items.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul>
        {items.map((item) => (
          <li key={item}>{item}</li>
        ))}
      </ul>
    </section>
  );
}

/** The arithmetic that tests a decision. */
function Check({ check }: { readonly check: Decision['check'] }): VNode | null {
  if (!check) return null;
  const { result, missing, problem, probability } = check;
  return (
    <section class="check">
      <h3>{check.check.title}</h3>
      {result && (
        <p>
          {result.sentence} <strong>{capital(inWords(result.verdict))}.</strong>
        </p>
      )}
      {result?.notes.map((note) => (
        <p key={note} class="quiet">
          {note}
        </p>
      ))}
      {missing.length > 0 && (
        <p class="quiet">Not known yet: {missing.map(({ name }) => name).join(', ')}.</p>
      )}
      {problem && <p class="notice">{problem}</p>}
      {result && (
        <p class="quiet">Components it depends on are identified rightly with {percent(probability)}.</p>
      )}
    </section>
  );
}

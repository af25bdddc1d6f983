import { setTimeout as pause } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import { dossier } from '../invented.ts';

// Clients of a service that may be killed at any moment: what each asks, what it was told, and what is to be in the journal then.

/** A change as a client asks for it: its name stands in the journal as the reason. */
export interface Change {
  readonly name: string;
  readonly query: string;
  readonly input: Readonly<Record<string, unknown>>;
  /** Entries that it writes, all or none. */
  readonly kinds: readonly string[];
  /** Under which it may be asked again. */
  readonly key: string | undefined;
}

/** What a client knows of a change in the end. */
export interface Known extends Change {
  /** The answer that said it was done; undefined where the answer was lost and there was no key to ask again under. */
  readonly data: Answered | undefined;
}

interface Answered {
  readonly done: { readonly entry: { readonly sequence: number; readonly id: string } };
}

/** What a service made of a request. */
export interface Told {
  /** Undefined when no answer came. */
  readonly status: number | undefined;
  readonly data?: unknown;
  readonly errors?: readonly { readonly message: string; readonly extensions?: { readonly code?: string } }[];
  readonly retryAfter?: string | null;
}

/** A service, as a client sees it: asking waits until it is there. */
export interface Asked {
  ask(body: object, headers?: Readonly<Record<string, string>>): Promise<Told>;
}

const ENTRY = 'entry { sequence id instant reason kind hash }';
const mutation = (field: string, input: string, selected: string) =>
  `mutation ($input: ${input}!) { done: ${field}(input: $input) { ${selected} ${ENTRY} } }`;
const IMPORT = mutation(
  'importDossier',
  'ImportDossierInput',
  'entries records dossiers specimens { id components { totalCount } }',
);
const RECORD = mutation('recordObservation', 'RecordObservationInput', 'observation { id text }');
const IDENTIFY = mutation(
  'setIdentification',
  'SetIdentificationInput',
  'component { id identification { candidates { partId probability } } }',
);
const CORRECT = mutation('correct', 'CorrectInput', 'correction { id summary by on }');
const RECALL = mutation('recall', 'RecallInput', 'ids');

/** Repeats of a change that was done long ago, one in so many. */
const OFTEN = 25;

/**
 * Goes on changing the archive through a service until told to stop: imports, observations, identifications, corrections and
 * recalls, half of them under an idempotency key. Whoever lost the answer asks again under the key, or never knows.
 */
export class Client {
  readonly known: Known[] = [];
  /** Every change that it asked for so far, by name. */
  readonly asked = new Map<string, Change>();
  /** What should not have happened, in words. */
  readonly wrong: string[] = [];
  /** How often no answer came, how often UNAVAILABLE, and how often a change of before was asked again. */
  readonly counts = { lost: 0, refused: 0, repeated: 0 };
  readonly #name: string;
  readonly #services: readonly Asked[];
  #service: number;
  readonly #random: () => number;
  #isOver = false;
  #next = 0;
  #devices: string[] = [];
  #parts: string[] = [];

  /** @param services any of which it asks, the next one when an answer was lost */
  constructor(number: number, services: readonly Asked[], random: () => number) {
    this.#name = `client-${number}`;
    this.#services = services;
    this.#service = number % services.length;
    this.#random = random;
  }

  /** Resolves once it was told to stop and knows what became of its last change, as far as it can. */
  async run(): Promise<void> {
    while (!this.#isOver) {
      const change = this.#draw();
      this.asked.set(change.name, change);
      const known = { ...change, data: await this.#done(change) };
      this.known.push(known);
      if (known.data) this.#remember(known);
      if (this.#random() < 1 / OFTEN) await this.#askAgain();
    }
  }

  stop(): void {
    this.#isOver = true;
  }

  /** Asks until it is done; undefined where that will never be known. */
  async #done({ name, query, input, key }: Change): Promise<Answered | undefined> {
    for (;;) {
      const told = await this.#services[this.#service].ask(
        { query, variables: { input } },
        key === undefined ? {} : { 'idempotency-key': `"${key}"` },
      );
      if (told.status === undefined) {
        this.counts.lost++;
        this.#service = (this.#service + 1) % this.#services.length;
        if (key === undefined) return undefined;
        continue;
      }
      if (!told.errors) return told.data as Answered;
      const [{ message, extensions }] = told.errors;
      if (extensions?.code !== 'UNAVAILABLE' || told.retryAfter === null) {
        this.wrong.push(`${name}: ${told.status} ${extensions?.code} ${message}`);
        return undefined;
      }
      this.counts.refused++;
      if (key === undefined && message.includes('is not known')) return undefined;
      await pause(50);
    }
  }

  /** The same answer comes again, whichever process gives it. */
  async #askAgain(): Promise<void> {
    const keyed = this.known.filter(({ key, data }) => key !== undefined && data !== undefined);
    if (keyed.length === 0) return;
    const change = this.#oneOf(keyed);
    const data = await this.#done(change);
    this.counts.repeated++;
    if (!isDeepStrictEqual(data, change.data))
      this.wrong.push(
        `${change.name}, asked again: ${JSON.stringify(data)}, not ${JSON.stringify(change.data)}`,
      );
  }

  #draw(): Change {
    const name = `${this.#name}-${this.#next++}`;
    const key = this.#random() < 0.5 ? `key of ${name}` : undefined;
    const change = (query: string, input: object, ...kinds: string[]): Change => ({
      ...{ name, key, query, kinds },
      input: { ...input, reason: name },
    });
    const file = (content: object) => ({ files: [{ name: `${name}.json`, text: JSON.stringify(content) }] });
    const drawn = this.#random();
    if (drawn < 0.15 || this.#devices.length === 0) {
      const device = { ...dossier({ id: `made-${name}`, name: `Made ${name}`, released: '2021' }) };
      return change(IMPORT, file(device), 'record-put', 'dossier-put');
    }
    if (drawn < 0.3 || this.#parts.length === 0) {
      const parts = [1, 2, 3].map((n) => ({
        ...{ number: `K${name}-${n}`, maker: 'quistle', categories: ['Accelerometer'], package: 'LGA-12' },
      }));
      const puts = parts.map(() => 'record-put');
      return change(IMPORT, file({ caseback: 'catalogue/1', parts }), ...puts);
    }
    const specimen = `${this.#oneOf(this.#devices)}/a`;
    if (drawn < 0.55) {
      const observation = { id: `o-${name}`, about: ['U2'], kind: 'APPEARANCE', text: `Seen as ${name}.` };
      return change(RECORD, { specimen, observation }, 'observation-recorded');
    }
    if (drawn < 0.75) {
      const probability = 0.05 + Math.floor(this.#random() * 900) / 1_000;
      const candidates = [{ part: 'quistle/QWR4T10', probability }];
      return change(
        IDENTIFY,
        { specimen, identification: { component: 'U10', candidates } },
        'identification-set',
      );
    }
    if (drawn < 0.92) {
      const value = { of: this.#oneOf(this.#parts), field: 'package', text: `LGA-${100 + this.#next}` };
      return change(CORRECT, { change: { value } }, 'record-put', 'correction-made');
    }
    // Whether it is recalled or not, it is not used again.
    const id = this.#parts.pop() as string;
    return change(RECALL, { id }, 'recalled');
  }

  #remember({ query, name, kinds }: Change): void {
    if (query !== IMPORT) return;
    if (kinds.includes('dossier-put')) this.#devices.push(`made-${name}`);
    else this.#parts.push(...[1, 2, 3].map((n) => `quistle/K${name}-${n}`));
  }

  #oneOf<T>(of: readonly T[]): T {
    return of[Math.floor(this.#random() * of.length)];
  }
}

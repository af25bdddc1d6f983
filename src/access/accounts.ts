import { randomUUID } from 'node:crypto';
import { CasebackError } from '../model/problems.ts';
import { personName } from './names.ts';
import type { Role, Who } from './roles.ts';
import { digestOf, equalDigests, isTokenShaped, newSecret, newToken } from './secrets.ts';
import type { AccountStore, Credential, Person, Token } from './store.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** Days for which a token is valid. */
export const TOKEN_DAYS = { default: 90, max: 366 } as const;
/** When a session ends: without use, and in any case; in ms. */
export const SESSION = { idle: 8 * HOUR, absolute: 24 * HOUR } as const;
/** How long a token stays listed when it has expired, in ms. */
const LISTED_AFTER = 30 * DAY;
/** Characters of a label or a display name. */
const LONGEST = 100;

/** Whoever has signed in. */
export interface SignedIn extends Who {
  readonly name: string;
  readonly displayName: string | null;
  readonly by: 'token' | 'session';
  /** When they are signed out if nothing else happens, ISO 8601 in UTC. */
  readonly expires: string;
}

/** A secret as it is shown once, and what is kept of it. */
export interface MadeToken {
  readonly secret: string;
  readonly token: Token;
}

export interface BegunSession {
  readonly secret: string;
  readonly who: SignedIn;
}

/** Who signs in elsewhere, as single sign-on tells it. */
export interface Identity {
  /** Issuer and subject, which alone stay (OpenID Connect Core 1.0, section 5.7). */
  readonly subject: string;
  readonly name: string;
  readonly displayName: string | null;
  readonly role: Role;
}

/**
 * People and what they sign in with. Each question goes to the store, so that what is revoked, disabled or expired is so at
 * once. Changes throw CasebackError: BAD_INPUT, NOT_FOUND for a person or token that there is not, CONFLICT.
 */
export class Accounts {
  readonly #store: AccountStore;
  readonly #clock: () => Date;

  constructor(store: AccountStore, clock: () => Date = () => new Date()) {
    this.#store = store;
    this.#clock = clock;
  }

  hasPeople(): Promise<boolean> {
    return this.#store.hasPeople();
  }

  people(): Promise<readonly Person[]> {
    return this.#store.people();
  }

  /** @throws CasebackError NOT_FOUND */
  async person(name: string): Promise<Person> {
    const person = await this.#store.person(name);
    if (person) return person;
    throw new CasebackError('NOT_FOUND', `there is nobody of the name "${shortened(name)}"`);
  }

  /**
   * Adds a person.
   * @param isReturning whether a name that was removed may be taken up again, by the one who had it
   * @throws CasebackError CONFLICT when somebody has or had a name that reads like it
   */
  async add(
    written: string,
    {
      role,
      displayName = null,
      isReturning = false,
    }: {
      readonly role: Role;
      readonly displayName?: string | null;
      readonly isReturning?: boolean;
    },
  ): Promise<Person> {
    const name = personName(written);
    const added = this.#now();
    const person: Person = {
      name,
      displayName: displayName === null ? null : line(displayName, 'the display name'),
      role,
      state: 'enabled',
      subject: null,
      added,
    };
    const before = await this.#store.person(name);
    if (before?.state === 'removed' && isReturning && before.name === name) {
      await this.#store.changePerson(name, { role, displayName: person.displayName, state: 'enabled' });
      return { ...person, added: before.added };
    }
    if (before?.state === 'removed')
      throw new CasebackError(
        'CONFLICT',
        `"${before.name}" was removed and the journal may have entries of that name; for the same person add it as returning, for another choose another name`,
      );
    if (before || !(await this.#store.addPerson(person)))
      throw new CasebackError('CONFLICT', `"${before?.name ?? name}" has an account already`);
    return person;
  }

  /** Changes role or display name. */
  async change(
    name: string,
    changes: { readonly role?: Role | undefined; readonly displayName?: string | undefined },
  ): Promise<Person> {
    const { role, displayName } = changes;
    const person = await this.#present(name);
    await this.#store.changePerson(name, {
      ...(role === undefined ? {} : { role }),
      ...(displayName === undefined ? {} : { displayName: line(displayName, 'the display name') }),
    });
    return (await this.#store.person(name)) ?? person;
  }

  /** Lets nobody in by this name, at once; sessions end, tokens stay for when it is enabled again. */
  async disable(name: string): Promise<Person> {
    await this.#present(name);
    await this.#store.changePerson(name, { state: 'disabled' });
    await this.#store.removeSessions(name);
    return this.person(name);
  }

  async enable(name: string): Promise<Person> {
    await this.#present(name);
    await this.#store.changePerson(name, { state: 'enabled' });
    return this.person(name);
  }

  /** Removes a person with everything but the name (and who it is elsewhere), which stays theirs, as it does in the journal. */
  async remove(name: string): Promise<void> {
    await this.#present(name);
    await this.#store.changePerson(name, { state: 'removed', displayName: null });
    await this.#store.removeSessions(name);
    await this.#store.removeTokens(name);
  }

  /** Makes a token; its secret is told here and never again. */
  async makeToken(
    name: string,
    {
      label,
      days = TOKEN_DAYS.default,
    }: { readonly label?: string | undefined; readonly days?: number } = {},
  ): Promise<MadeToken> {
    if (!Number.isInteger(days) || days < 1 || days > TOKEN_DAYS.max)
      throw new CasebackError(
        'BAD_INPUT',
        `a token cannot be valid for ${days} days; give a whole number from 1 to ${TOKEN_DAYS.max}`,
      );
    const person = await this.#present(name);
    if (person.state === 'disabled')
      throw new CasebackError('CONFLICT', `"${person.name}" is disabled; enable the account first`);
    const now = this.#clock().getTime();
    await this.#store.sweep(instant(now), instant(now - LISTED_AFTER));
    const secret = newToken();
    const token: Token = {
      id: randomUUID(),
      person: person.name,
      label: label === undefined ? null : line(label, 'the label'),
      created: instant(now),
      expires: instant(now + days * DAY),
      lastUsed: null,
    };
    await this.#store.addToken(token, digestOf(secret));
    return { secret, token };
  }

  /** Tokens of a person, or all. */
  async tokens(name?: string): Promise<readonly Token[]> {
    if (name !== undefined) await this.person(name);
    return this.#store.tokens(name);
  }

  /** Takes a token away; sessions begun with it end at once. */
  async revoke(id: string): Promise<void> {
    if (!(await this.#store.removeToken(id)))
      throw new CasebackError('NOT_FOUND', `there is no token with the id "${shortened(id)}"`);
  }

  /** Whoever a token lets in; undefined for one that is unknown, expired or revoked, and for a disabled person. */
  async bearer(secret: string): Promise<SignedIn | undefined> {
    const found = await this.#token(secret);
    return found && whoIs(found.person, 'token', found.token.expires);
  }

  /**
   * Begins a session with a token. The secret is always new, so that no one can know it beforehand (session fixation); a session
   * of the same browser ends.
   * @param before secret of the browser's session until now
   */
  async signIn(secret: string, before?: string): Promise<BegunSession | undefined> {
    const found = await this.#token(secret);
    if (before !== undefined) await this.signOut(before);
    return found && this.#begin(found.person, found.token);
  }

  /**
   * Begins a session for somebody who has signed in elsewhere, making the account where there is none.
   * @throws CasebackError NOT_ALLOWED when the account is disabled, or the name is another person's
   */
  async signInAs(identity: Identity, before?: string): Promise<BegunSession> {
    const { subject, role, displayName } = identity;
    let person = await this.#store.personOfSubject(subject);
    if (!person) {
      const name = personName(identity.name);
      const added = this.#now();
      person = { name, displayName, role, state: 'enabled', subject, added };
      if (!(await this.#store.addPerson(person)))
        throw new CasebackError(
          'NOT_ALLOWED',
          `"${name}" is the name of an account that single sign-on does not belong to; ask an administrator`,
        );
    }
    if (person.state !== 'enabled') throw new CasebackError('NOT_ALLOWED', 'this account is disabled');
    if (person.role !== role || person.displayName !== displayName)
      await this.#store.changePerson(person.name, { role, displayName });
    if (before !== undefined) await this.signOut(before);
    return this.#begin({ ...person, role, displayName });
  }

  /** Whoever a session is of; undefined when it has ended. */
  async session(secret: string): Promise<SignedIn | undefined> {
    const now = this.#clock().getTime();
    const digest = digestOf(secret);
    const found = await this.#store.sessionOf(digest);
    if (!found?.session || !equalDigests(found.digest, digest)) return undefined;
    const { person, session, token } = found;
    const idleEnd = Date.parse(session.lastSeen) + SESSION.idle;
    const end = Math.min(idleEnd, Date.parse(session.expires));
    const isWithout = session.token !== null && (!token || Date.parse(token.expires) <= now);
    if (end <= now || isWithout || person.state !== 'enabled') return undefined;
    if (now - Date.parse(session.lastSeen) >= MINUTE)
      await this.#store.touchSession(digest, instant(now)).catch(() => undefined);
    return whoIs(person, 'session', instant(Math.min(now + SESSION.idle, Date.parse(session.expires))));
  }

  signOut(secret: string): Promise<void> {
    return this.#store.removeSession(digestOf(secret));
  }

  /** Ends every session of a person, in whatever browser; answers how many. */
  async signOutEverywhere(name: string): Promise<number> {
    await this.person(name);
    return this.#store.removeSessions(name);
  }

  close(): Promise<void> {
    return this.#store.close();
  }

  async #token(secret: string): Promise<(Credential & { readonly token: Token }) | undefined> {
    if (!isTokenShaped(secret)) return undefined;
    const now = this.#clock().getTime();
    const digest = digestOf(secret);
    const found = await this.#store.tokenOf(digest);
    if (!found?.token || !equalDigests(found.digest, digest)) return undefined;
    const { person, token } = found;
    if (Date.parse(token.expires) <= now || person.state !== 'enabled') return undefined;
    const hour = instant(now - (now % HOUR));
    // When it was used is a courtesy; where it cannot be written, the token is as good.
    if (token.lastUsed !== hour) await this.#store.touchToken(token.id, hour).catch(() => undefined);
    return { ...found, token };
  }

  async #begin(person: Person, token?: Token): Promise<BegunSession> {
    const now = this.#clock().getTime();
    await this.#store.sweep(instant(now), instant(now - LISTED_AFTER));
    const secret = newSecret();
    const end = Math.min(
      now + SESSION.absolute,
      token ? Date.parse(token.expires) : Number.POSITIVE_INFINITY,
    );
    await this.#store.addSession(
      {
        person: person.name,
        token: token?.id ?? null,
        created: instant(now),
        lastSeen: instant(now),
        expires: instant(end),
      },
      digestOf(secret),
    );
    return { secret, who: whoIs(person, 'session', instant(Math.min(now + SESSION.idle, end))) };
  }

  /** Somebody who was not removed. */
  async #present(name: string): Promise<Person> {
    const person = await this.person(name);
    if (person.state !== 'removed') return person;
    throw new CasebackError('NOT_FOUND', `"${person.name}" was removed`);
  }

  #now(): string {
    return this.#clock().toISOString();
  }
}

function whoIs({ name, displayName, role }: Person, by: SignedIn['by'], expires: string): SignedIn {
  return { name, displayName, role, by, expires };
}

const instant = (ms: number) => new Date(ms).toISOString();

/** @throws CasebackError BAD_INPUT */
function line(written: string, what: string): string {
  const text = written.normalize('NFC').trim();
  if (text.length > LONGEST || /[\p{C}\p{Zl}\p{Zp}]/u.test(text))
    throw new CasebackError('BAD_INPUT', `${what} must be one line of at most ${LONGEST} characters`);
  return text;
}

const shortened = (text: string) => {
  const seen = text.replaceAll(/\p{C}/gu, '?');
  return seen.length > 80 ? `${seen.slice(0, 79)}…` : seen;
};

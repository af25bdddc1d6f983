import type { Role } from './roles.ts';

// People, their tokens and their sessions are kept apart from the journal: what is kept for ever must hold no secrets, and
// whoever leaves takes their tokens along. Instants are ISO 8601 in UTC with milliseconds, so that they sort as text.

/** `removed`: of the person only the name is left, so that nobody else gets the name under which the journal has their entries. */
export const PERSON_STATES = ['enabled', 'disabled', 'removed'] as const;

export interface Person {
  /** What the journal has as actor; it never changes. */
  readonly name: string;
  readonly displayName: string | null;
  readonly role: Role;
  readonly state: (typeof PERSON_STATES)[number];
  /** Whose account it is elsewhere: issuer and subject of single sign-on, joined by a blank. */
  readonly subject: string | null;
  readonly added: string;
}

export interface Token {
  /** What it is called when it is listed and revoked; no secret. */
  readonly id: string;
  /** Name of its person. */
  readonly person: string;
  readonly label: string | null;
  readonly created: string;
  readonly expires: string;
  /** The hour in which it was last used. */
  readonly lastUsed: string | null;
}

export interface Session {
  /** Name of its person. */
  readonly person: string;
  /** Id of the token that it was begun with, whose end is its own; null after single sign-on. */
  readonly token: string | null;
  readonly created: string;
  readonly lastSeen: string;
  /** When it ends however much it is used. */
  readonly expires: string;
}

/** What a digest of a secret leads to. */
export type Credential = {
  readonly person: Person;
  readonly token: Token | undefined;
  readonly session: Session | undefined;
  /** The digest as it is stored. */
  readonly digest: string;
};

/** Where accounts are kept. Two implementations: a SQLite file in the data folder, and tables in PostgreSQL. */
export interface AccountStore {
  hasPeople(): Promise<boolean>;
  /** Everybody, by name. */
  people(): Promise<readonly Person[]>;
  /** Whoever has a name, or one that reads like it. */
  person(name: string): Promise<Person | undefined>;
  personOfSubject(subject: string): Promise<Person | undefined>;
  /** Answers false, and writes nothing, when the name or the subject is taken. */
  addPerson(person: Person): Promise<boolean>;
  /** Answers false when there is no such person, or the subject is taken. */
  changePerson(
    name: string,
    changes: Partial<Pick<Person, 'displayName' | 'role' | 'state' | 'subject'>>,
  ): Promise<boolean>;
  /** Tokens of a person, or all, the newest first. */
  tokens(name?: string): Promise<readonly Token[]>;
  addToken(token: Token, digest: string): Promise<void>;
  /** Takes a token away, and the sessions begun with it. Answers whether there was one. */
  removeToken(id: string): Promise<boolean>;
  removeTokens(name: string): Promise<void>;
  /** The token of a digest, with its person. */
  tokenOf(digest: string): Promise<Credential | undefined>;
  touchToken(id: string, instant: string): Promise<void>;
  addSession(session: Session, digest: string): Promise<void>;
  /** The session of a digest, with its person and the token that it was begun with. */
  sessionOf(digest: string): Promise<Credential | undefined>;
  touchSession(digest: string, instant: string): Promise<void>;
  removeSession(digest: string): Promise<void>;
  /** Answers how many there were. */
  removeSessions(name: string): Promise<number>;
  /** Takes away what has ended before an instant: sessions, and tokens of which nobody asks any more. */
  sweep(sessionsBefore: string, tokensBefore: string): Promise<void>;
  close(): Promise<void>;
}

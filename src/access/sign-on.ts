import type { Configuration } from 'openid-client';
import * as oidc from 'openid-client';
import { CasebackError } from '../model/problems.ts';
import type { Identity } from './accounts.ts';
import { highestRole, ROLES, type Role } from './roles.ts';

/** How single sign-on by OpenID Connect is set up. */
export interface SignOnSettings {
  readonly issuer: URL;
  readonly clientId: string;
  readonly clientSecret: string;
  /** The address of ours that the issuer leads back to. */
  readonly redirectUri: URL;
  /** Groups of the issuer, each with the role that it gives. */
  readonly roles: ReadonlyMap<string, Role>;
  /** The claim that has the groups. @default groups */
  readonly groupsClaim?: string;
  /** The claim that has the name under which the journal knows a person. @default preferred_username */
  readonly nameClaim?: string;
  /** For tests alone: an issuer on this machine without TLS. @default false */
  readonly allowInsecureLoopback?: boolean;
}

/** What a browser keeps while it is away signing in; no use to anybody else. */
export interface Underway {
  readonly state: string;
  readonly nonce: string;
  readonly verifier: string;
}

/** How long the issuer may take to answer, in s. */
const TIMEOUT = 10;

/**
 * Single sign-on by OpenID Connect: authorization code with PKCE (RFC 7636, S256), state and nonce. The tokens of the issuer are
 * read and forgotten; what follows is a session of ours.
 */
export class SignOn {
  /** What the page that signs in calls it. */
  readonly label = 'Sign in with single sign-on';
  readonly #settings: SignOnSettings;
  #found: Promise<Configuration> | undefined;

  /** @throws RangeError for an issuer without TLS, but on this machine where a test allows it */
  constructor(settings: SignOnSettings) {
    const { issuer, allowInsecureLoopback } = settings;
    const isLoopback = ['127.0.0.1', 'localhost', '[::1]'].includes(issuer.hostname);
    if (issuer.protocol !== 'https:' && !(allowInsecureLoopback && isLoopback))
      throw new RangeError(`the issuer of single sign-on is ${issuer}; it must be an https address`);
    this.#settings = settings;
  }

  /**
   * Where to send a browser, and what it must bring back.
   * @throws CasebackError UNAVAILABLE when the issuer does not answer
   */
  async begin(): Promise<{ readonly url: URL; readonly underway: Underway }> {
    const issuer = await this.#issuer();
    const underway = {
      state: oidc.randomState(),
      nonce: oidc.randomNonce(),
      verifier: oidc.randomPKCECodeVerifier(),
    };
    const url = oidc.buildAuthorizationUrl(issuer, {
      redirect_uri: this.#settings.redirectUri.href,
      scope: 'openid profile',
      state: underway.state,
      nonce: underway.nonce,
      code_challenge: await oidc.calculatePKCECodeChallenge(underway.verifier),
      code_challenge_method: 'S256',
    });
    return { url, underway };
  }

  /**
   * Who has signed in, by what the issuer sent along. The ID token is checked as OpenID Connect Core 1.0 has it (section 3.1.3.7).
   * @param query of the address that the browser came back to
   * @throws CasebackError NOT_ALLOWED when the answer is not valid, names nobody, or is of nobody with a role
   */
  async end(query: URLSearchParams, { state, nonce, verifier }: Underway): Promise<Identity> {
    const issuer = await this.#issuer();
    const address = new URL(this.#settings.redirectUri);
    address.search = query.toString();
    let claims: Readonly<Record<string, unknown>>;
    try {
      const tokens = await oidc.authorizationCodeGrant(issuer, address, {
        expectedState: state,
        expectedNonce: nonce,
        pkceCodeVerifier: verifier,
        idTokenExpected: true,
      });
      const told = tokens.claims();
      if (!told) throw new Error('no ID token');
      // An issuer may keep groups and names out of the ID token; who it is never comes from there.
      const more = this.#isWhole(told) ? {} : await this.#userInfo(issuer, tokens.access_token, told.sub);
      claims = { ...more, ...told };
    } catch {
      // What went wrong may quote codes and tokens, and so is not passed on.
      throw new CasebackError('NOT_ALLOWED', 'Single sign-on did not succeed; try again');
    }
    return this.#identity(claims);
  }

  #identity(claims: Readonly<Record<string, unknown>>): Identity {
    const { nameClaim = 'preferred_username', groupsClaim = 'groups', roles } = this.#settings;
    const name = claims[nameClaim];
    if (typeof name !== 'string' || name.trim() === '')
      throw new CasebackError('NOT_ALLOWED', `Single sign-on tells no name (claim ${nameClaim})`);
    const groups = [claims[groupsClaim] ?? []].flat();
    const role = highestRole(groups.flatMap((group) => roles.get(String(group)) ?? []));
    if (role === undefined)
      throw new CasebackError(
        'NOT_ALLOWED',
        'You are in none of the groups that have a role here; ask an administrator',
      );
    const full = claims.name;
    return {
      subject: `${claims.iss} ${claims.sub}`,
      name,
      displayName: typeof full === 'string' && full !== name ? full.slice(0, 100) : null,
      role,
    };
  }

  #isWhole(claims: Readonly<Record<string, unknown>>): boolean {
    const { nameClaim = 'preferred_username', groupsClaim = 'groups' } = this.#settings;
    return claims[nameClaim] !== undefined && claims[groupsClaim] !== undefined;
  }

  async #userInfo(issuer: Configuration, token: string, subject: string): Promise<object> {
    if (issuer.serverMetadata().userinfo_endpoint === undefined) return {};
    return oidc.fetchUserInfo(issuer, token, subject);
  }

  /** What the issuer says of itself (OpenID Connect Discovery 1.0), asked for when first needed, and again after a failure. */
  async #issuer(): Promise<Configuration> {
    const { issuer, clientId, clientSecret, allowInsecureLoopback } = this.#settings;
    this.#found ??= oidc.discovery(issuer, clientId, clientSecret, undefined, {
      timeout: TIMEOUT,
      execute: allowInsecureLoopback ? [oidc.allowInsecureRequests] : [],
    });
    try {
      return await this.#found;
    } catch {
      this.#found = undefined;
      throw new CasebackError('UNAVAILABLE', 'Single sign-on cannot be reached just now; try again');
    }
  }
}

/**
 * The roles that groups give, from `group=role` joined by commas.
 * @throws RangeError for any other text
 */
export function rolesOfGroups(written: string): ReadonlyMap<string, Role> {
  return new Map(
    written.split(',').map((pair) => {
      const at = pair.lastIndexOf('=');
      const [group, role] = [pair.slice(0, at).trim(), pair.slice(at + 1).trim()];
      const known = ROLES.find((one) => one === role);
      if (at < 0 || group === '' || !known)
        throw new RangeError(
          `"${pair}" is not a group with its role; write group=role, a role of ${ROLES.join(', ')}`,
        );
      return [group, known] as const;
    }),
  );
}

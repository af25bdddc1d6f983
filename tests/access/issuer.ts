import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';

/** Somebody whom the issuer knows. */
export interface Known {
  readonly sub: string;
  readonly preferred_username?: string;
  readonly name?: string;
  readonly groups?: readonly string[];
}

export interface Issuer {
  readonly url: URL;
  /** Whoever signs in next; the issuer asks nothing. */
  person: Known;
  /** Whether groups stand in the ID token; else they are asked for. */
  inIdToken: boolean;
  close(): Promise<void>;
}

/** What of oidc-provider is used here; the package has no types of its own. */
interface Provider {
  callback(): (request: unknown, response: unknown) => void;
  interactionDetails(
    request: unknown,
    response: unknown,
  ): Promise<{ readonly prompt: { readonly name: string } }>;
  interactionFinished(request: unknown, response: unknown, result: object): Promise<void>;
}

/**
 * An issuer of OpenID Connect on 127.0.0.1: oidc-provider, an implementation certified by the OpenID Foundation, with one client
 * and a person who consents to everything.
 */
export async function startIssuer(client: {
  readonly id: string;
  readonly secret: string;
  readonly redirectUri: string;
}): Promise<Issuer> {
  // @ts-expect-error: the package has no types
  const { Provider: Made } = await import('oidc-provider');
  const server: Server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const url = new URL(`http://127.0.0.1:${(server.address() as AddressInfo).port}`);
  const issuer: Issuer = {
    url,
    person: { sub: 'nobody' },
    inIdToken: false,
    close: async () => {
      server.closeAllConnections();
      server.close();
    },
  };
  const provider: Provider = new Made(url.origin, {
    clients: [
      {
        client_id: client.id,
        client_secret: client.secret,
        redirect_uris: [client.redirectUri],
        response_types: ['code'],
        grant_types: ['authorization_code'],
      },
    ],
    claims: { openid: ['sub'], profile: ['name', 'preferred_username', 'groups'] },
    conformIdTokenClaims: false,
    features: { devInteractions: { enabled: false } },
    pkce: { required: () => true },
    findAccount: (_context: unknown, sub: string) => ({
      accountId: sub,
      // Told in one place and not in the other.
      claims: async (use: string) =>
        (use === 'id_token') === issuer.inIdToken ? { ...issuer.person, sub } : { sub },
    }),
    interactions: { url: (_context: unknown, { uid }: { uid: string }) => `/interaction/${uid}` },
    async loadExistingGrant(context: {
      oidc: {
        provider: { Grant: new (of: object) => { addOIDCScope(scope: string): void; save(): Promise<void> } };
        session: { accountId: string };
        client: { clientId: string };
      };
    }) {
      const { provider: by, session, client: to } = context.oidc;
      const grant = new by.Grant({ accountId: session.accountId, clientId: to.clientId });
      grant.addOIDCScope('openid profile');
      await grant.save();
      return grant;
    },
    cookies: { keys: ['test'] },
  });
  const answer = provider.callback();
  server.on('request', async (request, response) => {
    if (!request.url?.startsWith('/interaction/')) return answer(request, response);
    try {
      await provider.interactionDetails(request, response);
      const login = { accountId: issuer.person.sub };
      await provider.interactionFinished(request, response, { login });
    } catch (error) {
      response.statusCode = 500;
      response.end(String(error));
    }
  });
  return issuer;
}

/** Follows an issuer from the address that begins a sign-on to the one that leads back, as a browser with its own cookies does. */
export async function goThrough(start: string, backTo: string): Promise<URL> {
  const cookies = new Map<string, string>();
  let address = start;
  for (let steps = 0; steps < 10; steps++) {
    if (address.startsWith(backTo)) return new URL(address);
    const response = await fetch(address, {
      redirect: 'manual',
      headers: { cookie: [...cookies].map(([name, value]) => `${name}=${value}`).join('; ') },
    });
    for (const written of response.headers.getSetCookie()) {
      const [pair] = written.split(';');
      const at = pair.indexOf('=');
      cookies.set(pair.slice(0, at), pair.slice(at + 1));
    }
    const next = response.headers.get('location');
    if (!next) throw new Error(`the issuer leads nowhere from ${address}: ${await response.text()}`);
    address = new URL(next, address).href;
  }
  throw new Error('the issuer leads in circles');
}

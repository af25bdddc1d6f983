import { CasebackError } from '../model/problems.ts';
import { rolesOfGroups, SignOn } from './sign-on.ts';

/** Variables of the surroundings that set single sign-on up. */
type Surroundings = Readonly<Record<string, string | undefined>>;

/**
 * Single sign-on as OIDC_ISSUER, OIDC_CLIENT_ID, OIDC_CLIENT_SECRET and OIDC_ROLES set it up; OIDC_GROUPS_CLAIM and OIDC_NAME_CLAIM
 * may name other claims. Undefined without an issuer.
 * @param publicUrl the address under which browsers reach the service
 * @throws CasebackError BAD_INPUT that names the variable that is missing or not valid
 */
export function signOnFrom(surroundings: Surroundings, publicUrl: URL): SignOn | undefined {
  const issuer = surroundings.OIDC_ISSUER;
  if (!issuer) return undefined;
  const needed = (name: string): string => {
    const value = surroundings[name];
    if (value) return value;
    throw new CasebackError('BAD_INPUT', `${name} is missing; single sign-on needs it beside OIDC_ISSUER`);
  };
  const { OIDC_GROUPS_CLAIM: groupsClaim, OIDC_NAME_CLAIM: nameClaim } = surroundings;
  try {
    return new SignOn({
      issuer: new URL(issuer),
      clientId: needed('OIDC_CLIENT_ID'),
      clientSecret: needed('OIDC_CLIENT_SECRET'),
      redirectUri: new URL('/sign-in/return', publicUrl),
      roles: rolesOfGroups(needed('OIDC_ROLES')),
      ...(groupsClaim ? { groupsClaim } : {}),
      ...(nameClaim ? { nameClaim } : {}),
    });
  } catch (error) {
    if (error instanceof CasebackError) throw error;
    const what =
      error instanceof RangeError ? error.message : `OIDC_ISSUER is ${issuer}; it must be an https address`;
    throw new CasebackError('BAD_INPUT', what);
  }
}

import { deviceChecks } from '../../decisions/check-device.ts';
import { checkOfDecision } from '../../decisions/decision-check.ts';
import { decisionById } from '../../decisions/decisions.ts';
import { CHECKS, checkNamed } from '../../design-checks/table.ts';
import { decisionId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { notFound, resolved } from '../../state/resolve.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { schema } from './schema.ts';
import { boundCheckSource, checkSource, type Given, givenInputs, mended, resultSource } from './sources.ts';

interface DeviceChecksArguments {
  readonly device: string;
  readonly check?: string | null;
  readonly given: readonly Given[];
}

interface PatternCheckArguments {
  readonly pattern: string;
  readonly device: string;
  readonly given: readonly Given[];
}

async function patternCheck(
  root: Root,
  { pattern: id, device: deviceId, given }: PatternCheckArguments,
  context: Context,
) {
  const view = viewOf(root, context);
  const { thing: pattern } = resolved(view, id, ['Pattern']);
  resolved(view, deviceId, ['Device']);
  if (!pattern.check) return null;
  const decision = await decisionById(view, decisionId(deviceId, id), context.signal());
  return decision
    ? boundCheckSource(mended(() => checkOfDecision(view, decision, givenInputs(given))))
    : null;
}

function checksOfDevice(root: Root, args: DeviceChecksArguments, context: Context) {
  const view = viewOf(root, context);
  const device = view.device(args.device);
  const [row] = view.specimensOf(args.device);
  const specimen = row && view.specimen(row.id);
  if (!device || !specimen) throw notFound(view, args.device, ['Device']);
  const only =
    typeof args.check === 'string' ? mended(() => checkNamed(args.check as string).name) : undefined;
  if (only === undefined && args.given.length > 0)
    throw new CasebackError('BAD_INPUT', 'inputs are given, but no check that they belong to');
  const partOf = (id: string) => view.part(id);
  return deviceChecks(specimen, device, partOf, only, givenInputs(args.given)).map(boundCheckSource);
}

export const checks: Domain = {
  schema,
  resolvers: {
    Query: {
      designChecks: () => Object.values(CHECKS).map(checkSource),
      reckon: (_root: Root, { check: name, inputs }: { check: string; inputs: readonly Given[] }) =>
        mended(() => {
          const check = checkNamed(name);
          return resultSource(check, check.run(givenInputs(inputs)));
        }),
      patternCheck,
      deviceChecks: checksOfDevice,
    },
    Pattern: {
      check: ({ check }: { readonly check?: { readonly name: string } | null }) =>
        check && Object.hasOwn(CHECKS, check.name) ? checkSource(CHECKS[check.name]) : null,
    },
  },
  weights: {
    'Query.designChecks': 50,
    'Query.reckon': 200,
    'Query.patternCheck': 2_000,
    'Query.deviceChecks': 300,
  },
};

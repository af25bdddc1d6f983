import { CHECKS, checkNamed } from '../../checks/table.ts';
import { boundCheck } from '../../infer/checkInputs.ts';
import { CasebackError } from '../../model/problems.ts';
import type { PatternQuestion } from '../../patterns/answer.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { schema } from './schema.ts';
import { boundCheckSource, checkSource, type Given, givenInputs, mended, resultSource } from './sources.ts';

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
  const pattern = view.pattern(id);
  if (!pattern) throw new CasebackError('NOT_FOUND', `No named pattern "${id}" is in the archive`);
  const device = view.device(deviceId);
  if (!device) throw new CasebackError('NOT_FOUND', `No device "${deviceId}" is in the archive`);
  if (!pattern.check) return null;
  const { text, scope } = pattern;
  const question: PatternQuestion = { text, scope, signal: context.signal() };
  const { devices } = await context.archive.findPattern(view, question);
  const match = devices.find((one) => one.deviceId === deviceId)?.matches[0];
  const specimen = match && view.specimen(match.specimenId);
  if (!match || !specimen) return null;
  const partOf = (part: string) => view.part(part);
  return boundCheckSource(boundCheck(pattern, match, specimen, device, partOf, givenInputs(given)));
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
  },
};

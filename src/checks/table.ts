import { altitudeFromPressure } from './altitudeFromPressure.ts';
import { averaging } from './averaging.ts';
import { boardArea } from './boardArea.ts';
import { boostInputCurrent } from './boostInputCurrent.ts';
import { chargeRate } from './chargeRate.ts';
import { CheckInputError, type CheckInputs, type CheckResult, type DesignCheck } from './check.ts';
import { converterStep } from './converterStep.ts';
import { displayPower } from './displayPower.ts';
import { hapticStart } from './hapticStart.ts';
import { inputReferredNoise } from './inputReferredNoise.ts';
import { johnsonNoise } from './johnsonNoise.ts';
import { linearRegulator } from './linearRegulator.ts';
import { massShare } from './massShare.ts';
import { noiseOfAChain } from './noiseOfAChain.ts';
import { opticalPulse } from './opticalPulse.ts';
import { quarterWave } from './quarterWave.ts';
import { rateFromTwoAccelerometers } from './rateFromTwoAccelerometers.ts';
import { runTime } from './runTime.ts';
import { sampling } from './sampling.ts';

/** Every design check by the name that patterns use (`check: { name: … }`). */
export const CHECKS: Readonly<Record<string, DesignCheck>> = Object.freeze(
  Object.fromEntries(
    [
      noiseOfAChain,
      averaging,
      rateFromTwoAccelerometers,
      altitudeFromPressure,
      converterStep,
      johnsonNoise,
      sampling,
      boostInputCurrent,
      linearRegulator,
      runTime,
      quarterWave,
      opticalPulse,
      boardArea,
      chargeRate,
      hapticStart,
      displayPower,
      massShare,
      inputReferredNoise,
    ].map((check) => [check.name, check]),
  ),
);

/**
 * Runs the check of that name.
 * @throws CheckInputError for an unknown check, and as {@link DesignCheck.run} does
 */
export function runCheck(name: string, inputs: CheckInputs): CheckResult {
  if (!Object.hasOwn(CHECKS, name)) {
    throw new CheckInputError(`no check is named "${name}"; there are ${Object.keys(CHECKS).join(', ')}`);
  }
  return CHECKS[name].run(inputs);
}

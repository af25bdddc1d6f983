import { didYouMean } from '../text/near.ts';
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
import { powerShare } from './powerShare.ts';
import { quarterWave } from './quarterWave.ts';
import { rateFromTwoAccelerometers } from './rateFromTwoAccelerometers.ts';
import { recordingTime } from './recordingTime.ts';
import { runTime } from './runTime.ts';
import { sampling } from './sampling.ts';
import { smallOneAwake } from './smallOneAwake.ts';
import { switchedOff } from './switchedOff.ts';
import { volumeShare } from './volumeShare.ts';

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
      powerShare,
      volumeShare,
      switchedOff,
      smallOneAwake,
      recordingTime,
    ].map((check) => [check.name, check]),
  ),
);

/** Names as people type them: capitals and hyphens do not count, so that `chargeRate` is `charge-rate`. */
const BY_LOOSE_NAME = new Map(Object.values(CHECKS).map((check) => [loose(check.name), check]));

function loose(name: string): string {
  return name.toLowerCase().replaceAll(/[-_ ]/gu, '');
}

/**
 * The check of a name as typed.
 * @throws CheckInputError with near names when there is none
 */
export function checkNamed(name: string): DesignCheck {
  const check = BY_LOOSE_NAME.get(loose(name));
  if (check) return check;
  const names = Object.keys(CHECKS);
  throw new CheckInputError(
    `no check is named "${name}"; ${didYouMean(name, names) ?? `there are ${names.join(', ')}`}`,
  );
}

/**
 * Runs the check of that name.
 * @throws CheckInputError for an unknown check, and as {@link DesignCheck.run} does
 */
export function runCheck(name: string, inputs: CheckInputs): CheckResult {
  return checkNamed(name).run(inputs);
}

import { didYouMean } from '../text/near.ts';
import { altitudeFromPressure } from './altitude-from-pressure.ts';
import { averaging } from './averaging.ts';
import { boardArea } from './board-area.ts';
import { boostInputCurrent } from './boost-input-current.ts';
import { chargeRate } from './charge-rate.ts';
import { CheckInputError, type CheckInputs, type CheckResult, type DesignCheck } from './check.ts';
import { converterStep } from './converter-step.ts';
import { displayPower } from './display-power.ts';
import { hapticStart } from './haptic-start.ts';
import { inputReferredNoise } from './input-referred-noise.ts';
import { johnsonNoise } from './johnson-noise.ts';
import { linearRegulator } from './linear-regulator.ts';
import { massShare } from './mass-share.ts';
import { noiseOfAChain } from './noise-of-a-chain.ts';
import { opticalPulse } from './optical-pulse.ts';
import { powerShare } from './power-share.ts';
import { quarterWave } from './quarter-wave.ts';
import { rateFromTwoAccelerometers } from './rate-from-two-accelerometers.ts';
import { recordingTime } from './recording-time.ts';
import { runTime } from './run-time.ts';
import { sampling } from './sampling.ts';
import { smallOneAwake } from './small-one-awake.ts';
import { switchedOff } from './switched-off.ts';
import { volumeShare } from './volume-share.ts';

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

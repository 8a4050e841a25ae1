/** What is asked about temperatures: units that look wrong, and ageing reckoned far from the data behind its activation energy. */
import type { Warning } from '../findings.js';
import { amount, percent } from '../numeric/words.js';
import type { ActivationEnergy } from './activationEnergy.js';

/** Degrees C beyond the data of an activation energy from which on its use is warned of. */
export const FARTHEST_CELSIUS = 25;

/** Steam at 116 to 149 degrees C reads so in degrees F. */
const LIKE_FAHRENHEIT = [240, 300] as const;
/** Steam at 107 to 157 degrees C reads so in kelvin. */
const LIKE_KELVIN = [380, 430] as const;
/** No elastomer of such valves is used above this, degrees C. */
const HOTTEST_CELSIUS = 200;

/** Coldest and hottest of what was given. */
export interface CelsiusSpan {
  lowest: number;
  highest: number;
}

/** Asks about a temperature that looks like Fahrenheit or kelvin, or is hotter than an elastomer stands. */
export function unitWarnings({ highest }: CelsiusSpan): Warning[] {
  if (highest <= HOTTEST_CELSIUS) return [];
  const within = ([low, high]: readonly [number, number]): boolean => highest >= low && highest <= high;
  const given = `A temperature of ${amount(highest, 4)} degrees C was given`;
  if (within(LIKE_FAHRENHEIT)) {
    const celsius = amount(((highest - 32) * 5) / 9, 3);
    const text = `${given}: hotter than an elastomer stands. In degrees Fahrenheit it would be steam of ${celsius} degrees C.`;
    const todo =
      'Is it in degrees Fahrenheit? Then give (F - 32) x 5 / 9; until then the equivalent hours are far too many.';
    return [{ code: 'temperature-like-fahrenheit', text, todo }];
  }
  if (within(LIKE_KELVIN)) {
    const text = `${given}: hotter than an elastomer stands. In kelvin it would be steam of ${amount(highest - 273.15, 3)} degrees C.`;
    return [{ code: 'temperature-like-kelvin', text, todo: 'Is it in kelvin? Then take 273.15 off.' }];
  }
  const text = `${given}: hotter than an elastomer of such a valve stands.`;
  return [{ code: 'temperature-too-hot', text, todo: 'Check unit and sensor.' }];
}

/** The span in which an activation energy may be used without a warning; none where its data are not known. */
export function supportedSpan({ lowestCelsius, highestCelsius }: ActivationEnergy): CelsiusSpan | null {
  if (lowestCelsius === null || highestCelsius === null) return null;
  return { lowest: lowestCelsius - FARTHEST_CELSIUS, highest: highestCelsius + FARTHEST_CELSIUS };
}

/**
 * Warns where temperatures or the reference lie beyond the data of the activation energy by more than 25 degrees C, and where those
 * data are not known. `shareBeyond`: share of the equivalent hours that come from temperatures that far away.
 */
export function supportWarnings(
  energy: ActivationEnergy,
  given: CelsiusSpan,
  referenceCelsius: number,
  shareBeyond: number,
): Warning[] {
  const span = supportedSpan(energy);
  if (energy.kJPerMol === 0 && energy.high === 0) return [];
  if (span === null) return [temperaturesUnknown(energy)];
  const data = `data at ${amount(energy.lowestCelsius as number, 4)} to ${amount(energy.highestCelsius as number, 4)} degrees C`;
  const warnings: Warning[] = [];
  if (given.lowest < span.lowest || given.highest > span.highest) {
    const text = `Temperatures of ${amount(given.lowest, 4)} to ${amount(given.highest, 4)} degrees C go more than ${FARTHEST_CELSIUS} degrees beyond the ${data} behind the activation energy; ${percent(shareBeyond)} of the equivalent hours come from there.`;
    warnings.push({ code: 'temperature-beyond-data', text, todo: BEYOND });
  }
  if (referenceCelsius < span.lowest || referenceCelsius > span.highest) {
    const text = `The reference of ${amount(referenceCelsius, 4)} degrees C lies more than ${FARTHEST_CELSIUS} degrees beyond the ${data} behind the activation energy.`;
    warnings.push({
      code: 'reference-beyond-data',
      text,
      todo: 'Choose a reference near the temperatures that age the diaphragms.',
    });
  }
  return warnings;
}

const BEYOND =
  'Do not carry hours over so far: ageing may follow another law there. Use an activation energy found nearer, or compare lives at like temperatures.';

function temperaturesUnknown({ source }: ActivationEnergy): Warning {
  return {
    code: 'activation-energy-temperatures-unknown',
    text: `It is not known at which temperatures the activation energy was found (${source}).`,
    todo: `Find out, and give lowestCelsius and highestCelsius; beyond ${FARTHEST_CELSIUS} degrees C from them do not trust it.`,
  };
}

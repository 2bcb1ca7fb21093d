import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

/** The smallest and largest seasonal percentage advised (computation guide, section 2; common practice, no source). */
export const SEASONAL_PERCENT_MIN = 10;
export const SEASONAL_PERCENT_MAX = 200;

/**
 * Minutes rounded half up to a multiple of the controller's step. Everyone who rounds minutes rounds here, so that the
 * water week, the review and the printed sheet never show three different figures.
 * `minutes` ≥ 0; `stepMinutes` 1/60 to 5. Throws bad-input outside these.
 */
export function roundMinutes(minutes: number, stepMinutes: number): number {
  const { steps, toMinutes } = stepsOf(minutes, stepMinutes);
  // The sliver keeps a half that arithmetic left just below (1.15 × 50 = 57.49999…) a half.
  return toMinutes(Math.floor(steps + 0.5 + 1e-9));
}

/** As `roundMinutes`, but up to the next step: for lengths that must not be shorter. */
export function roundMinutesUp(minutes: number, stepMinutes: number): number {
  const { steps, toMinutes } = stepsOf(minutes, stepMinutes);
  return toMinutes(Math.ceil(steps - 1e-9));
}

/** As `roundMinutes`, but down to the step before: for lengths that must not be longer. */
export function roundMinutesDown(minutes: number, stepMinutes: number): number {
  const { steps, toMinutes } = stepsOf(minutes, stepMinutes);
  return toMinutes(Math.floor(steps + 1e-9));
}

/**
 * Minutes a zone runs under a seasonal percentage: base × percent / 100, rounded half up to the step.
 * A base above 0 never becomes 0 while the percentage is above 0: a controller opens a valve that has a time set, and a
 * zone that silently drops out of a program is how plants die. Percent 0 is the one way to say "off".
 * `baseMinutes` ≥ 0, `percent` 0 to 300, `stepMinutes` 1/60 to 5; throws bad-input outside these. 20 min at 150 % = 30 min.
 */
export function scaledMinutes(baseMinutes: number, percent: number, stepMinutes: number): number {
  if (!(percent >= 0 && percent <= 300)) {
    throw new BookError('bad-input', fact('agronomy.percentage', { percent }), 'seasonalPercent');
  }
  const rounded = roundMinutes((baseMinutes * percent) / 100, stepMinutes);
  return rounded === 0 && baseMinutes > 0 && percent > 0 ? stepMinutes : rounded;
}

function stepsOf(minutes: number, stepMinutes: number): { steps: number; toMinutes: (steps: number) => number } {
  if (!(minutes >= 0 && Number.isFinite(minutes)))
    throw new BookError('bad-input', fact('agronomy.runMinutes', { minutes }), 'runMinutes');
  if (!(stepMinutes >= 1 / 60 - 1e-12 && stepMinutes <= 5)) {
    throw new BookError('bad-input', fact('agronomy.roundingStep', { stepMinutes }), 'roundToMinutes');
  }
  // A step of seconds (1/60, 1/6 …) is divided back by a whole number, so that 30 steps of 1/60 are 0.5 and not 0.49999….
  const perMinute = Math.round(1 / stepMinutes);
  const isFraction = perMinute > 1 && Math.abs(perMinute * stepMinutes - 1) < 1e-9;
  return {
    steps: isFraction ? minutes * perMinute : minutes / stepMinutes,
    toMinutes: (steps) => (isFraction ? steps / perMinute : steps * stepMinutes),
  };
}

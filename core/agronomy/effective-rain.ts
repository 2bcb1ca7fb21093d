import { requireRange } from './check.ts';

/**
 * Rain of a month that the planting can use, inches: never more than fell, nor than the planting needs.
 * USDA Soil Conservation Service Technical Release 21 (1970), as in National Engineering Handbook part 623 chapter 2:
 * SF × (0.70917 P^0.82416 − 0.11556) × 10^(0.02426 ET), with SF from the usable soil storage. Made for monthly means
 * of many years; a single month may be far from it.
 * @param rainInches 0…60 in the month. @param needInches 0…20 in the month. @param storageInches usable soil storage 0.3…7.5.
 * @throws BookError bad-input naming the field.
 */
export function effectiveRainOfMonth(rainInches: number, needInches: number, storageInches = 3): number {
  requireRange(rainInches, 'rainInches', 0, 60, 'inches');
  requireRange(needInches, 'needInches', 0, 20, 'inches');
  // Outside 0.75…3 in the release's own fit was not made; the cubic bends the wrong way there, so it is held at the ends.
  const depth = Math.min(3, Math.max(0.75, storageInches));
  const storage = 0.531747 + 0.295164 * depth - 0.057697 * depth ** 2 + 0.003804 * depth ** 3;
  const effective = storage * (0.70917 * rainInches ** 0.82416 - 0.11556) * 10 ** (0.02426 * needInches);
  return Math.max(0, Math.min(effective, rainInches, needInches));
}

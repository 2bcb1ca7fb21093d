import { plantFactor, plantKindRow, soilBalance, soilRow } from '../agronomy/index.ts';
import type { Zone } from '../properties/contract.ts';
import type { OutputOf } from '../contract/index.ts';
import { expandPrograms, type ProgramOnController } from './expand.ts';
import { zoneNeed } from './zone-need.ts';

/** One day of weather as the balance needs it. */
export interface TraceDay {
  date: string;
  etoInches: number;
  rainInches: number;
}

/** Which programs ran from which day to which; spells in order, without gaps or overlaps. */
export interface ProgramSpell {
  fromDate: string;
  toDate: string;
  programs: readonly ProgramOnController[];
}

/** Minutes a zone really ran on each date, from the programs of each spell. */
export function minutesByDate(
  zone: Zone,
  zonesOfController: readonly Zone[],
  spells: readonly ProgramSpell[],
  stepMinutes: number,
): Map<string, number> {
  const minutes = new Map<string, number>();
  for (const spell of spells) {
    const here = spell.programs.filter((program) => program.controllerId === zone.controllerId);
    if (here.length === 0) continue;
    for (const block of expandPrograms(here, zonesOfController, spell.fromDate, spell.toDate, stepMinutes)) {
      if (block.zoneId === zone.id) minutes.set(block.date, (minutes.get(block.date) ?? 0) + block.runMinutes);
    }
  }
  return minutes;
}

/**
 * A zone's soil moisture by day (FAO-56 eq. 85), starting full; what is applied is the mean depth over the zone.
 */
export function traceZone(
  zone: Zone,
  days: readonly TraceDay[],
  minutesOf: ReadonlyMap<string, number>,
): Pick<OutputOf<'zone.trace'>, 'availableWaterInches' | 'allowedDepletionInches' | 'days' | 'totals'> {
  const plant = plantKindRow(zone.plantKind);
  const rootDepth = zone.rootDepthInches ?? plant.rootDepthInches;
  const total = soilRow(zone.soil).availableWaterInPerIn * rootDepth;
  const rateOf = zoneNeed(zone, { etoInches: 0, effectiveRainInches: 0, daysInMonth: 30 });
  // One inch of ETo asked for one inch of reference shows the share this planting uses, its sun included.
  const share =
    zoneNeed(zone, { etoInches: 1, effectiveRainInches: 0, daysInMonth: 1 }).dailyNeedInches ||
    plantFactor(zone.plantKind, zone.plantFactor);
  const needInches = Float64Array.from(days, (day) => day.etoInches * share);
  const rainInches = Float64Array.from(days, (day) => day.rainInches);
  const irrigationInches = Float64Array.from(
    days,
    (day) => ((minutesOf.get(day.date) ?? 0) / 60) * rateOf.prInchesPerHour,
  );
  const balance = soilBalance({
    totalAvailableInches: total,
    allowedDepletion: plant.allowedDepletion,
    startDepletionInches: 0,
    needInches,
    rainInches,
    irrigationInches,
  });
  let daysBelowRefill = 0;
  for (const depletion of balance.depletionInches)
    if (depletion > balance.readilyAvailableInches + 1e-9) daysBelowRefill++;
  return {
    availableWaterInches: total,
    allowedDepletionInches: balance.readilyAvailableInches,
    days: days.map((day, index) => ({
      date: day.date,
      depletionInches: balance.depletionInches[index]!,
      etInches: balance.actualEtInches[index]!,
      rainInches: day.rainInches,
      irrigationInches: irrigationInches[index]!,
      drainageInches: balance.drainageInches[index]!,
    })),
    totals: {
      etInches: balance.totals.actualEtInches,
      rainInches: balance.totals.rainInches,
      irrigationInches: balance.totals.irrigationInches,
      drainageInches: balance.totals.drainageInches,
      storeChangeInches: balance.totals.storeChangeInches,
      daysBelowRefill,
    },
  };
}

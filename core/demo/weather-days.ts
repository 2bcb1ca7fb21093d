import weather from '../../assets/demo/weather.json' with { type: 'json' };
import type { BookTables } from '../store/tables.ts';
import { dateOf, dayOn } from './days.ts';
import { chance } from './random.ts';
import type { World } from './world.ts';

const PERSISTENCE = 0.65;
const round = (value: number, decimals: number) => Math.round(value * 10 ** decimals) / 10 ** decimals;

/** Synthetic daily weather for a station over the demo's three years: normals between mid-months, warm and cold spells, wet and dry spells. */
export function weatherDaysOf(world: World, index: number): BookTables['weatherDay'][] {
  const station = weather.stations[index]!;
  const { id } = world.stations[index]!;
  const rng = chance(world.seed, 'weather', index);
  const days: BookTables['weatherDay'][] = [];
  let warmth = 0;
  let night = 0;
  let wet = false;
  for (let day = world.start; day < world.today; day += 1) {
    const date = dateOf(day);
    const month = Number(date.slice(5, 7)) - 1;
    const between = (list: readonly number[]) => seasonal(list, day, date);
    warmth = PERSISTENCE * warmth + Math.sqrt(1 - PERSISTENCE ** 2) * rng.normal(0, 1);
    night = 0.5 * night + Math.sqrt(0.75) * rng.normal(0, 1);
    // Two-state chain: a wet day follows a wet one more often, with the month's share of wet days kept.
    const share = station.wetDays[month]! / 30.4;
    const stay = Math.min(0.9, share + 0.28);
    wet = rng.yes(wet ? stay : (share * (1 - stay)) / (1 - share));
    const rain = wet
      ? Math.max(0.01, -Math.log(1 - rng.next()) * (station.rainInches[month]! / station.wetDays[month]!))
      : 0;
    const spread = month >= 4 && month <= 8 ? 6.5 : 9;
    const tmax = between(station.tmaxF) + spread * warmth - (wet ? 6 : -0.8);
    const tmin = Math.min(between(station.tminF) + 0.6 * spread * warmth + 4 * night + (wet ? 2 : -0.4), tmax - 4);
    days.push({
      stationId: id,
      date,
      tmaxF: round(tmax, 1),
      tminF: round(tmin, 1),
      rainInches: round(rain, 2),
      rhMeanPct: round(
        Math.min(97, Math.max(12, between(station.rhMeanPct) + (wet ? 16 : -3) - 3 * warmth + rng.normal(0, 5))),
        0,
      ),
      windMph: round(Math.max(0.8, between(station.windMph) * Math.exp(rng.normal(-0.05, 0.32))), 1),
      solarMjM2: round(Math.max(2, between(station.solarMjM2) * (wet ? rng.range(0.4, 0.8) : rng.range(0.9, 1.12))), 1),
    });
  }
  return days;
}

/** A monthly figure read between the middles of two months. */
function seasonal(list: readonly number[], day: number, date: string): number {
  const year = Number(date.slice(0, 4));
  const month = Number(date.slice(5, 7)) - 1;
  const middle = (at: number) => (dayOn(year, at + 1, 1) + dayOn(year, at + 2, 1)) / 2;
  const from = day < middle(month) ? month - 1 : month;
  const share = (day - middle(from)) / (middle(from + 1) - middle(from));
  return list[(from + 12) % 12]! * (1 - share) + list[(from + 13) % 12]! * share;
}

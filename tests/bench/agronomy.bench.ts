/** Agronomy against its aims, each beside the same arithmetic as a bare typed-array loop; the two take turns and medians are compared. */
import { advanceZones, checkZoneColumns, etoSeries, makeZoneColumns } from '../../core/agronomy/index.ts';
import type { EtoColumns } from '../../core/agronomy/index.ts';
import type { BenchRow } from './bench-row.ts';

const STATION_DAYS = 1_000_000;
const ZONES = 60_000;
const DAYS = 365;
const ROUNDS = 7;
const LATITUDE = 37.3;
const ELEVATION = 50;

/** Measures ours and the bare loop in turns. Warmed first, so that neither pays for the other's compilation. */
function compare(
  name: string,
  unit: string,
  aim: string,
  ours: () => Float64Array,
  bare: () => Float64Array,
): BenchRow {
  assertSame(ours(), bare(), name);
  const times: [number[], number[]] = [[], []];
  for (let round = -1; round < ROUNDS; round++) {
    [ours, bare].forEach((work, side) => {
      const start = performance.now();
      work();
      if (round >= 0) times[side]!.push((performance.now() - start) / 1000);
    });
  }
  const [value, bareValue] = times.map(median) as [number, number];
  return { name, value, unit, aim, bare: bareValue, ratio: value / bareValue };
}

function median(values: number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

/** Cheap repeatable noise, 0…1, so that no branch is always taken. */
function noise(i: number): number {
  const x = Math.sin(i * 12.9898) * 43758.5453;
  return x - Math.floor(x);
}

function weather(): Required<
  Pick<EtoColumns, 'tmaxC' | 'tminC' | 'rhMaxPct' | 'rhMinPct' | 'windMps' | 'sunshineHours'>
> & { dayOfYear: Int16Array } {
  const column = (make: (i: number) => number) => Float64Array.from({ length: STATION_DAYS }, (_, i) => make(i));
  const tminC = column((i) => 5 + 10 * noise(i));
  return {
    dayOfYear: Int16Array.from({ length: STATION_DAYS }, (_, i) => (i % 365) + 1),
    tminC,
    tmaxC: column((i) => tminC[i]! + 5 + 15 * noise(i + 1)),
    rhMaxPct: column((i) => 70 + 30 * noise(i + 2)),
    rhMinPct: column((i) => 20 + 40 * noise(i + 3)),
    windMps: column((i) => 1 + 4 * noise(i + 4)),
    sunshineHours: column((i) => 9 * noise(i + 5)),
  };
}

function etoRows(): BenchRow[] {
  const all = weather();
  const { dayOfYear: day, tmaxC, tminC, rhMaxPct, rhMinPct, windMps, sunshineHours } = all;
  const site = { latitudeDeg: LATITUDE, elevationM: ELEVATION };
  const out = new Float64Array(STATION_DAYS);
  const ra = new Float64Array(367);
  const daylight = new Float64Array(367);
  for (let j = 1; j <= 366; j++) {
    const phi = (LATITUDE * Math.PI) / 180;
    const delta = 0.409 * Math.sin(((2 * Math.PI) / 365) * j - 1.39);
    const omega = Math.acos(-Math.tan(phi) * Math.tan(delta));
    ra[j] =
      ((24 * 60 * 0.082) / Math.PI) *
      (1 + 0.033 * Math.cos(((2 * Math.PI) / 365) * j)) *
      (omega * Math.sin(phi) * Math.sin(delta) + Math.cos(phi) * Math.cos(delta) * Math.sin(omega));
    daylight[j] = (24 / Math.PI) * omega;
  }
  const gamma = 0.000665 * 101.3 * ((293 - 0.0065 * ELEVATION) / 293) ** 5.26;
  const clear = 0.75 + 2e-5 * ELEVATION;

  const bareOut = new Float64Array(STATION_DAYS);
  /** The bare Penman–Monteith loop; `measured` picks between readings and the estimates for missing ones, outside the loop. */
  const barePenman = (measured: boolean) => {
    for (let i = 0; i < STATION_DAYS; i++) {
      const tx = tmaxC[i]!,
        tn = tminC[i]!,
        r = ra[day[i]!]!,
        tm = (tx + tn) / 2;
      const ex = 0.6108 * Math.exp((17.27 * tx) / (tx + 237.3)),
        en = 0.6108 * Math.exp((17.27 * tn) / (tn + 237.3));
      const ea = measured ? (en * rhMaxPct[i]! + ex * rhMinPct[i]!) / 200 : en;
      const rs = measured
        ? (0.25 + (0.5 * sunshineHours[i]!) / daylight[day[i]!]!) * r
        : Math.min(clear * r, 0.16 * Math.sqrt(tx - tn) * r);
      const kx = (tx + 273.16) ** 2,
        kn = (tn + 273.16) ** 2;
      const share = Math.min(1, Math.max(0.3, rs / (clear * r)));
      const rn =
        0.77 * rs - 4.903e-9 * ((kx * kx + kn * kn) / 2) * (0.34 - 0.14 * Math.sqrt(ea)) * (1.35 * share - 0.35);
      const slope = (2503.0584 * Math.exp((17.27 * tm) / (tm + 237.3))) / ((tm + 237.3) * (tm + 237.3));
      const u = windMps[i]!;
      bareOut[i] = Math.max(
        0,
        (0.408 * slope * rn + gamma * (900 / (tm + 273)) * u * ((ex + en) / 2 - ea)) / (slope + gamma * (1 + 0.34 * u)),
      );
    }
    return bareOut;
  };
  const bareHargreaves = () => {
    for (let i = 0; i < STATION_DAYS; i++) {
      const tx = tmaxC[i]!,
        tn = tminC[i]!;
      bareOut[i] = Math.max(0, 0.0023 * ((tx + tn) / 2 + 17.8) * Math.sqrt(tx - tn) * 0.408 * ra[day[i]!]!);
    }
    return bareOut;
  };
  const temperatures = { dayOfYear: day, tmaxC, tminC };
  return [
    compare(
      'ETo Penman–Monteith, 1,000,000 station-days',
      's',
      '≤ 1.0 s, ≤ 2× bare',
      () => etoSeries(site, all, out),
      () => barePenman(true),
    ),
    compare(
      'ETo Penman–Monteith, estimates for humidity and sun',
      's',
      '≤ 1.0 s, ≤ 2× bare',
      () => etoSeries(site, { ...temperatures, windMps }, out),
      () => barePenman(false),
    ),
    compare(
      'ETo Hargreaves, 1,000,000 station-days',
      's',
      '≤ 1.0 s, ≤ 2× bare',
      () => etoSeries(site, temperatures, out),
      bareHargreaves,
    ),
  ];
}

function balanceRow(): BenchRow {
  const eto = Float64Array.from({ length: DAYS }, (_, d) => 0.12 + 0.1 * Math.sin((d - 80) / 58));
  const rain = Float64Array.from({ length: DAYS }, (_, d) => (noise(d) > 0.8 ? noise(d + 9) : 0));
  const dry = new Float64Array(ZONES);
  const given = Float64Array.from({ length: ZONES }, (_, i) => 0.2 + 0.3 * noise(i));
  const zones = makeZoneColumns(ZONES);
  for (let i = 0; i < ZONES; i++) {
    zones.totalInches[i] = 0.5 + 2 * noise(i + 3);
    zones.readilyInches[i] = zones.totalInches[i]! * 0.5;
    zones.plantFactor[i] = 0.3 + 0.5 * noise(i + 4);
  }
  checkZoneColumns(zones, 1);
  const etoDay = new Float64Array(1);
  const rainDay = new Float64Array(1);
  const ours = () => {
    zones.depletionInches.fill(0);
    for (let d = 0; d < DAYS; d++) {
      etoDay[0] = eto[d]!;
      rainDay[0] = rain[d]!;
      advanceZones(zones, { etoInches: etoDay, rainInches: rainDay, irrigationInches: d % 3 === 0 ? given : dry });
    }
    return zones.depletionInches;
  };
  const depletion = new Float64Array(ZONES),
    used = new Float64Array(ZONES),
    drained = new Float64Array(ZONES);
  const { totalInches: total, readilyInches: readily, plantFactor: factor } = zones;
  const bare = () => {
    depletion.fill(0);
    for (let d = 0; d < DAYS; d++) {
      const e = eto[d]!,
        p = rain[d]!,
        water = d % 3 === 0 ? given : dry;
      for (let i = 0; i < ZONES; i++) {
        const t = total[i]!,
          at = depletion[i]! - p - water[i]!;
        const ks = at <= readily[i]! ? 1 : at >= t ? 0 : (t - at) / (t - readily[i]!);
        const et = Math.min(ks * (e * factor[i]!), t - at);
        used[i] = used[i]! + et;
        if (at + et < 0) {
          drained[i] = drained[i]! - (at + et);
          depletion[i] = 0;
        } else depletion[i] = at + et;
      }
    }
    return depletion;
  };
  return compare(
    'Soil-water balance, 60,000 zones × 365 days (one core)',
    's',
    '≤ 4 s on two cores, ≤ 2× bare',
    ours,
    bare,
  );
}

/** A bare loop that computes something else would be no measure at all. */
function assertSame(ours: Float64Array, bare: Float64Array, name: string): void {
  for (let i = 0; i < ours.length; i++) {
    if (!(Math.abs(ours[i]! - bare[i]!) < 1e-9))
      throw new Error(`${name}: row ${i} is ${ours[i]} against ${bare[i]} in the bare loop`);
  }
}

/** Runs all agronomy measurements; takes a few seconds. */
export async function run(): Promise<BenchRow[]> {
  return [...etoRows(), balanceRow()];
}

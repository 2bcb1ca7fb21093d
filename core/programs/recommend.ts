import type { ProgramSettings } from './contract.ts';
import type { Settings } from '../settings/contract.ts';
import { minutesOfClock } from '../dates.ts';
import { BookError } from '../errors.ts';
import type { Told } from '../contract/parts.ts';
import { fact, type GivenOf } from '../text/say.ts';
import { adviceDays, adviceSpells, type AdviceDays } from './advice-days.ts';
import type { ProgramOnController } from './expand.ts';
import { longestFreeMinutes, placeWindow, type NightPlace } from './night-window.ts';
import { nameProposals, type GroupOnController, type ProposedProgram } from './proposals.ts';
import { isExempt, type RuleInForce } from './restrictions.ts';
import { startPattern } from './start-pattern.ts';
import { freeGroup, groupZones, keepsDepletion, schedulesOf, type DayWishes, type ZoneGroup } from './schedules.ts';
import type { ZoneNeed } from './zone-need.ts';
import { MAX_RUN_MINUTES, zoneRun, type ZoneRun } from './zone-run.ts';

/** Why a figure is what it is, or what stands in the way. */
export interface Reason {
  code: string;
  text: Told;
}

export interface RecommendInput {
  /** Every zone of the property that is not retired; `zoneNeed` makes them from the book. */
  zones: readonly ZoneNeed[];
  /** What is set now: names and ids are kept where they can be, and days where they are as good as others. */
  programs: readonly ProgramOnController[];
  rule: RuleInForce | null;
  settings: Pick<Settings, 'waterEndsBy' | 'roundToMinutes'>;
  /** The day from which the advice holds; programs by intervals of weeks count from it. */
  fromDate: string;
}

/** The advice for one zone, at 100 %. */
export interface ZoneAdvice {
  zoneId: string;
  runMinutes: number;
  lowerMinutes: number;
  upperMinutes: number;
  daysPerWeek: number;
  minutesPerWeek: number;
  /** Depth on the ground: rate × time, unevenness included. */
  inchesPerWeek: number;
  gallonsPerWeek: number | null;
  cycles: number;
  cycleMinutes: number | null;
  soakMinutes: number | null;
  programName: string;
  reasons: Reason[];
}

export interface Recommendation {
  /** Everything to set, controller by controller; programs no longer wanted are in it too, switched off. */
  programs: ProposedProgram[];
  zones: ZoneAdvice[];
  findings: Reason[];
}

const MAX_PROGRAMS = 3;
/** How often more waterings are tried to shorten the night: from once in four weeks to every day. */
const MAX_DENSER = 9;

interface Layout {
  groups: GroupOnController[];
  findings: Reason[];
  /** Minutes by which watering ends after the hour wished for, worst controller; Infinity where it fits nowhere. */
  lateness: number;
}

/**
 * The program physics would set. Days: within the rule, the fewest that keep every zone's depletion within what is allowed, with
 * the most even gaps; zones that need water much less often get a second or third program on some of those days. Minutes: need
 * between waterings over rate × scheduling multiplier, in cycles that do not run off, interleaved. One start a program, so
 * that all ends before `waterEndsBy` and outside forbidden hours; a night too short gets more days, and where that is not
 * enough, findings say so. No advice breaks the rule. Throws conflict (naming restriction and stage) where the rule leaves
 * nothing to advise, and bad-input where a zone's figures make no sense.
 */
export function recommend(input: RecommendInput): Recommendation {
  const findings: Reason[] = [];
  const thirsty = input.zones.filter((zone) => zone.dailyNeedInches > 0);
  if (thirsty.length === 0) {
    findings.push({ code: 'no-need', text: fact('finding.rainCovers') });
    return finish(input, [], findings);
  }
  const { allowed, zones } = zonesToWater(input, thirsty, findings);
  const wishes: DayWishes = { prefer: currentWeekdays(input.programs), fromDate: input.fromDate };

  const found = shortestNight(input, zones, allowed, wishes);
  const best = found.layout.lateness === Infinity ? cutToFit(input, zones, allowed, wishes) : found.layout;
  findings.push(...best.findings);
  if (found.denser > 0 && best.lateness === 0) {
    findings.push({
      code: 'more-days-for-night',
      text: fact('finding.moreDays', { endsBy: minutesOfClock(input.settings.waterEndsBy) }),
    });
  }
  return finish(input, best.groups, findings);
}

/**
 * The first layout that ends in time, with more waterings step by step; where none does, also with all zones in one program
 * (interleaved with the others, a program's soaks cost no time of their own), and then the one that ends least late.
 */
function shortestNight(
  input: RecommendInput,
  zones: ZoneNeed[],
  allowed: AdviceDays | null,
  wishes: DayWishes,
): { layout: Layout; denser: number } {
  let best: { layout: Layout; denser: number } | undefined;
  for (const maxPrograms of [MAX_PROGRAMS, 1]) {
    for (let denser = 0; denser <= MAX_DENSER; denser += 1) {
      const layout = layOut(input, zones, allowed, wishes, { denser, maxPrograms });
      if (best === undefined || layout.lateness < best.layout.lateness) best = { layout, denser };
      if (best.layout.lateness === 0) return best;
    }
  }
  return best!;
}

/** Which zones get water at all under the rule, and on which days those inside it may. */
function zonesToWater(
  input: RecommendInput,
  thirsty: ZoneNeed[],
  findings: Reason[],
): { allowed: AdviceDays | null; zones: ZoneNeed[] } {
  try {
    return { allowed: adviceDays(input.rule), zones: thirsty };
  } catch (error) {
    const exempt = thirsty.filter((zone) => input.rule !== null && isExempt(input.rule.stage, zone.emissionDevice));
    if (exempt.length === 0 || !(error instanceof BookError) || error.code !== 'conflict') throw error;
    const why = error.text as GivenOf<'finding.dripOnly'>['why'];
    findings.push({ code: 'rule-allows-drip-only', text: fact('finding.dripOnly', { why }) });
    return { allowed: null, zones: exempt };
  }
}

interface Ways {
  /** Steps more waterings than depletion asks for. */
  denser: number;
  maxPrograms: number;
}

/** Groups, minutes and starts for one way of sharing the week. */
function layOut(
  input: RecommendInput,
  zones: ZoneNeed[],
  allowed: AdviceDays | null,
  wishes: DayWishes,
  ways: Ways,
  share = 1,
): Layout {
  const findings: Reason[] = [];
  const groups = makeGroups(input.rule, zones, allowed, wishes, ways);
  const dry = groups.flatMap((group) => group.zones.filter((zone) => !keepsDepletion(group.schedule, zone)));
  if (dry.length > 0) {
    const tooDry = input.rule === null ? 'finding.tooDryDaily' : 'finding.tooDryByRule';
    const names = dry.map(({ station, zoneName }) => ({ station, zoneName }));
    findings.push({ code: 'cannot-keep-depletion', text: fact(tooDry, { zones: names }) });
  }
  if (groups.some((group) => group.schedule.days.kind === 'odd' || group.schedule.days.kind === 'even')) {
    findings.push({
      code: 'alternate-dates',
      text: fact('finding.alternateDates', { days: groups[0]!.schedule.days }),
    });
  }
  const placed: GroupOnController[] = [];
  let lateness = 0;
  for (const controllerId of new Set(zones.map((zone) => zone.controllerId))) {
    const here = groups
      .map((group) => ({ ...group, zones: group.zones.filter((zone) => zone.controllerId === controllerId) }))
      .filter((group) => group.zones.length > 0)
      .map((group) => withWindow(controllerId, group, input.settings.roundToMinutes, share));
    const total = here.reduce((sum, group) => sum + group.windowMinutes, 0);
    const isInsideRule = here.some((group) =>
      group.zones.some((zone) => input.rule !== null && !isExempt(input.rule.stage, zone.emissionDevice)),
    );
    const place = placeWindow(
      total,
      minutesOfClock(input.settings.waterEndsBy),
      isInsideRule ? adviceSpells(input.rule) : [],
    );
    if (place?.endsLate === true) findings.push(endsLate(place, total, input.settings.waterEndsBy));
    lateness = Math.max(
      lateness,
      place === null
        ? Infinity
        : place.endsLate
          ? place.startMinute + total - minutesOfClock(input.settings.waterEndsBy)
          : 0,
    );
    // Programs follow one another, so that none has to wait in the controller's queue and each start says when its water comes.
    let start = place?.startMinute ?? 0;
    for (const group of here) {
      placed.push({ ...group, startMinute: start });
      start += group.windowMinutes;
    }
  }
  return { groups: placed, findings, lateness };
}

function makeGroups(
  rule: RuleInForce | null,
  zones: ZoneNeed[],
  allowed: AdviceDays | null,
  wishes: DayWishes,
  { denser, maxPrograms }: Ways,
): ZoneGroup[] {
  if (allowed === null) return freeGroup(zones, wishes, denser);
  // A zone outside the rule joins the others where their days are enough for it: fewer programs to look after.
  const densest = schedulesOf(allowed, wishes).at(-1)!;
  const free = zones.filter(
    (zone) => rule !== null && isExempt(rule.stage, zone.emissionDevice) && !keepsDepletion(densest, zone),
  );
  const others = zones.filter((zone) => !free.includes(zone));
  return [
    ...groupZones(others, allowed, free.length > 0 ? Math.max(1, maxPrograms - 1) : maxPrograms, wishes, denser),
    ...freeGroup(free, wishes, denser),
  ];
}

function withWindow(
  controllerId: string,
  group: ZoneGroup,
  stepMinutes: number,
  share: number,
): Omit<GroupOnController, 'startMinute'> {
  const runs = [...group.zones]
    .sort((a, b) => a.station - b.station)
    .map((zone) => zoneRun(zone, group.schedule.wateringsPerWeek, stepMinutes, share));
  const settings: Pick<ProgramSettings, 'runs' | 'seasonalPercent'> = {
    runs: runs.map((item) => item.run),
    seasonalPercent: 100,
  };
  const { windowMinutes } = startPattern(
    settings,
    new Map(group.zones.map((zone) => [zone.zoneId, zone.station])),
    stepMinutes,
  );
  return {
    controllerId,
    zones: group.zones,
    schedule: group.schedule,
    runs,
    windowMinutes: Math.ceil(windowMinutes - 1e-6),
  };
}

/** The most days there are, and runs cut to the longest spell of the day that is free: less than the plants need, and said so. */
function cutToFit(input: RecommendInput, zones: ZoneNeed[], allowed: AdviceDays | null, wishes: DayWishes): Layout {
  for (let share = 0.95; share > 0.02; share *= 0.93) {
    const layout = layOut(input, zones, allowed, wishes, { denser: MAX_DENSER, maxPrograms: MAX_PROGRAMS }, share);
    if (layout.lateness === Infinity) continue;
    layout.findings.push({
      code: 'minutes-cut',
      text: fact('finding.minutesCut', { percent: Math.round(share * 100) }),
    });
    return layout;
  }
  const law = input.rule && { stage: input.rule.stage.title, restriction: input.rule.restrictionName };
  const freeMinutes = longestFreeMinutes(adviceSpells(input.rule));
  throw new BookError('conflict', fact('advice.tooFewMinutes', { law, freeMinutes }), 'restrictionId');
}

function finish(input: RecommendInput, groups: GroupOnController[], findings: Reason[]): Recommendation {
  const programs = nameProposals(groups, input.programs, input.zones);
  const zones: ZoneAdvice[] = input.zones.map((zone) => {
    const group = groups.find((item) => item.zones.some((member) => member.zoneId === zone.zoneId));
    const run = group?.runs.find((item) => item.run.zoneId === zone.zoneId);
    const programName =
      programs.find(
        (program) =>
          program.settings.enabled &&
          program.settings.runs.some((item) => item.zoneId === zone.zoneId && item.runMinutes > 0),
      )?.name ?? '';
    return adviceOf(zone, group?.schedule.wateringsPerWeek ?? 0, run, programName);
  });
  return { programs, zones, findings };
}

function adviceOf(
  zone: ZoneNeed,
  daysPerWeek: number,
  zoneRunOf: ZoneRun | undefined,
  programName: string,
): ZoneAdvice {
  const runMinutes = zoneRunOf?.run.runMinutes ?? 0;
  const minutesPerWeek = runMinutes * daysPerWeek;
  const reasons: Reason[] = [];
  if (zoneRunOf?.runsOffAnyway === true) {
    reasons.push({
      code: 'runs-off-anyway',
      text: fact('advice.runsOffAnyway', { safeMinutes: zone.longestCycleMinutes! }),
    });
  }
  if (zoneRunOf?.isCapped === true) {
    reasons.push({
      code: 'run-too-long',
      text: fact('advice.runTooLong', { minutes: Math.round(zoneRunOf.upperMinutes), most: MAX_RUN_MINUTES }),
    });
  }
  return {
    zoneId: zone.zoneId,
    runMinutes,
    lowerMinutes: zoneRunOf?.lowerMinutes ?? 0,
    upperMinutes: zoneRunOf?.upperMinutes ?? 0,
    daysPerWeek: zoneRunOf ? daysPerWeek : 0,
    minutesPerWeek,
    inchesPerWeek: (zone.prInchesPerHour * minutesPerWeek) / 60,
    gallonsPerWeek: zone.flowGpm === null ? null : zone.flowGpm * minutesPerWeek,
    cycles: zoneRunOf?.cycles ?? 0,
    cycleMinutes: zoneRunOf?.run.cycleMinutes ?? null,
    soakMinutes: zoneRunOf?.run.soakMinutes ?? null,
    programName,
    reasons,
  };
}

function endsLate(place: NightPlace, windowMinutes: number, endsBy: string): Reason {
  return {
    code: 'ends-late',
    text: fact('finding.endsLate', {
      windowMinutes,
      endsBy: minutesOfClock(endsBy),
      startMinute: place.startMinute,
      endMinute: place.startMinute + windowMinutes,
    }),
  };
}

function currentWeekdays(programs: readonly ProgramOnController[]): number[] {
  return [
    ...new Set(
      programs.flatMap(({ settings }) =>
        settings.enabled && settings.days.kind === 'weekdays' ? settings.days.weekdays : [],
      ),
    ),
  ];
}

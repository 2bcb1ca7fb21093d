import type { ProgramSettings } from './contract.ts';
import { clockOfMinutes } from '../dates.ts';
import type { ProgramOnController } from './expand.ts';
import type { Schedule } from './schedules.ts';
import type { ZoneNeed } from './zone-need.ts';
import type { ZoneRun } from './zone-run.ts';

/** A program to set: an existing one by its id, or a new one. */
export interface ProposedProgram {
  /** null = a new program. */
  programId: string | null;
  controllerId: string;
  name: string;
  settings: ProgramSettings;
}

/** The zones of a group on one controller, with their runs and their start. */
export interface GroupOnController {
  controllerId: string;
  zones: ZoneNeed[];
  schedule: Schedule;
  runs: ZoneRun[];
  /** Whole minutes from start to last water. */
  windowMinutes: number;
  startMinute: number;
}

/**
 * Gives each group the program that runs most of its zones now, else one that is left over, else a new one with the next free
 * letter. Programs left over at the end are proposed switched off: a forgotten one would water its zones twice. Zones that are to
 * get nothing stand in the controller's first program at 0 minutes, so that the sheet shows them as off and not as forgotten.
 */
export function nameProposals(
  groups: readonly GroupOnController[],
  current: readonly ProgramOnController[],
  zones: readonly ZoneNeed[],
): ProposedProgram[] {
  const controllers = new Set([
    ...groups.map((group) => group.controllerId),
    ...current.map((program) => program.controllerId),
  ]);
  return [...controllers].flatMap((controllerId) => {
    const here = groups.filter((group) => group.controllerId === controllerId);
    const unused = current.filter((program) => program.controllerId === controllerId);
    const takenNames = new Set(unused.map((program) => program.name));
    const watered = new Set(here.flatMap((group) => group.zones.map((zone) => zone.zoneId)));
    const off = zones.filter((zone) => zone.controllerId === controllerId && !watered.has(zone.zoneId));
    const proposals = here.map((group, index): ProposedProgram => {
      const kept = takeBest(group, unused);
      const name = kept?.name ?? freeLetter(takenNames);
      takenNames.add(name);
      return {
        programId: kept?.programId ?? null,
        controllerId,
        name,
        settings: settingsOf(group, index === 0 ? off : []),
      };
    });
    const leftOver = unused
      .filter((program) => program.settings.enabled)
      .map((program): ProposedProgram => ({
        programId: program.programId,
        controllerId,
        name: program.name,
        settings: { ...program.settings, enabled: false },
      }));
    return [...proposals, ...leftOver];
  });
}

function settingsOf(group: GroupOnController, off: readonly ZoneNeed[]): ProgramSettings {
  const stationOf = new Map([...group.zones, ...off].map((zone) => [zone.zoneId, zone.station]));
  const offRuns = off.map((zone) => ({ zoneId: zone.zoneId, runMinutes: 0, cycleMinutes: null, soakMinutes: null }));
  return {
    days: group.schedule.days,
    startTimes: [clockOfMinutes(group.startMinute)],
    seasonalPercent: 100,
    runs: [...group.runs.map((item) => item.run), ...offRuns].sort(
      (a, b) => stationOf.get(a.zoneId)! - stationOf.get(b.zoneId)!,
    ),
    enabled: true,
  };
}

/** Takes the program that runs most of the group's zones out of `unused`. */
function takeBest(group: GroupOnController, unused: ProgramOnController[]): ProgramOnController | undefined {
  const members = new Set(group.zones.map((zone) => zone.zoneId));
  let best = -1;
  let bestShared = -1;
  for (const [index, program] of unused.entries()) {
    const shared = program.settings.runs.filter((run) => run.runMinutes > 0 && members.has(run.zoneId)).length;
    if (shared > bestShared) {
      best = index;
      bestShared = shared;
    }
  }
  return best < 0 ? undefined : unused.splice(best, 1)[0];
}

function freeLetter(taken: ReadonlySet<string>): string {
  for (let code = 65; code <= 90; code += 1) {
    const letter = String.fromCharCode(code);
    if (!taken.has(letter)) return letter;
  }
  return `Program ${taken.size + 1}`;
}

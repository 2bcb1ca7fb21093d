import { useState } from 'react';
import { programSettingsSchema } from '../../../core/programs/contract.ts';
import type { Program, ProgramRevision, ProgramRun, ProgramSettings } from '../../../core/programs/contract.ts';
import { newId } from '../../state/write.ts';
import { say } from '../../state/say.ts';
import type { OpenProperty } from './use-property-editor.ts';

/** What a revision says beside its settings; no day = none chosen yet. */
export interface RevisionNote {
  effectiveDate: string | null;
  madeBy: string;
  reason: string;
}

const zonesOf = (data: OpenProperty, controllerId: string) =>
  data.zones
    .filter((zone) => zone.controllerId === controllerId && !zone.retired)
    .sort((a, b) => a.station - b.station);

function firstSettings(data: OpenProperty, controllerId: string): ProgramSettings {
  return {
    days: { kind: 'weekdays', weekdays: [1, 3, 5] },
    startTimes: ['04:00'],
    seasonalPercent: 100,
    enabled: true,
    runs: zonesOf(data, controllerId).map((zone) => ({
      zoneId: zone.id,
      runMinutes: 10,
      cycleMinutes: null,
      soakMinutes: null,
    })),
  };
}
const settingsOf = ({ days, startTimes, seasonalPercent, runs, enabled }: ProgramSettings): ProgramSettings => ({
  days,
  startTimes,
  seasonalPercent,
  runs,
  enabled,
});

/** A program as it is being set: what it was begun from, its settings so far, and whether they could be saved. */
export function useProgramDraft(data: OpenProperty, program: Program | null, firstController: string) {
  const [ids] = useState(() => ({ programId: program?.id ?? newId(), revisionId: newId(), writeId: newId() }));
  const [controllerId, setControllerId] = useState(firstController);
  // What these settings were begun from; somebody else's where that is taken over meanwhile.
  const [begun, setBegun] = useState(() => program?.revision ?? null);
  const before = begun === null ? null : settingsOf(begun);
  const [settings, setSettings] = useState<ProgramSettings>(() => before ?? firstSettings(data, firstController));
  const [name, setName] = useState(program?.name ?? nextName(data.programs));
  const zones = zonesOf(data, controllerId);
  const set = (change: Partial<ProgramSettings>) => setSettings((old) => ({ ...old, ...change }));
  const runOf = (zoneId: string): ProgramRun =>
    settings.runs.find((run) => run.zoneId === zoneId) ?? {
      zoneId,
      runMinutes: 0,
      cycleMinutes: null,
      soakMinutes: null,
    };
  const checked = programSettingsSchema.safeParse(settings);
  return {
    ids,
    begunFrom: begun?.id ?? null,
    before,
    name,
    setName,
    controllerId,
    /** Another controller has other zones: its program begins anew. */
    chooseController: (id: string) => {
      setControllerId(id);
      setSettings(firstSettings(data, id));
    },
    zones,
    settings,
    set,
    runOf,
    setRun: (zoneId: string, change: Partial<ProgramRun>) => {
      const next = { ...runOf(zoneId), ...change };
      set({ runs: zones.map((zone) => (zone.id === zoneId ? next : runOf(zone.id))) });
    },
    beginFrom: (revision: ProgramRevision) => {
      setBegun(revision);
      setSettings(settingsOf(revision));
    },
    /** Why these settings cannot be saved; null = they can. */
    problem: checked.success ? null : (checked.error.issues[0]?.message ?? say('property.program.notPossible')),
    changed: before === null || JSON.stringify(settings) !== JSON.stringify(before),
  };
}
export type ProgramDraft = ReturnType<typeof useProgramDraft>;

function nextName(programs: readonly Program[]): string {
  const taken = new Set(programs.map((program) => program.name));
  return ['A', 'B', 'C', 'D', 'E', 'F'].find((name) => !taken.has(name)) ?? say('property.program.newName');
}

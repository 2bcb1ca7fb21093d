import { useDeferredValue, useState } from 'react';
import { programSettingsSchema } from '../../../core/programs/contract.ts';
import type { Program, ProgramRun, ProgramSettings } from '../../../core/programs/contract.ts';
import type { WateringDays } from '../../../core/contract/parts.ts';
import type { Failure } from '../../../core/errors.ts';
import { WaterWeekChart } from '../../charts/water-week.tsx';
import { weekScale } from '../../charts/water-week-layout.ts';
import {
  Button,
  CheckField,
  CloseIcon,
  DateField,
  Dialog,
  ErrorNote,
  NumberField,
  SelectField,
  TextField,
  TimeField,
  WEEKDAYS,
  ZoneTag,
} from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { ask, useRequest } from '../../state/use-request.ts';
import { newId, write } from '../../state/write.ts';
import { currentReader, say, sayStored, texts } from '../../state/say.ts';
import type { OpenProperty } from './use-property-editor.ts';
import { keepStored, STORED } from '../../../core/text/stored.ts';

const DAY_KINDS = ['weekdays', 'odd', 'even', 'interval'] as const;
const DAY_WORDS = texts({
  weekdays: 'property.program.days.weekdays',
  odd: 'property.program.days.odd',
  even: 'property.program.days.even',
  interval: 'property.program.days.interval',
});

function firstSettings(data: OpenProperty, controllerId: string): ProgramSettings {
  const zones = data.zones
    .filter((zone) => zone.controllerId === controllerId && !zone.retired)
    .sort((a, b) => a.station - b.station);
  return {
    days: { kind: 'weekdays', weekdays: [1, 3, 5] },
    startTimes: ['04:00'],
    seasonalPercent: 100,
    enabled: true,
    runs: zones.map((zone) => ({ zoneId: zone.id, runMinutes: 10, cycleMinutes: null, soakMinutes: null })),
  };
}
const settingsOf = ({ days, startTimes, seasonalPercent, runs, enabled }: ProgramSettings): ProgramSettings => ({
  days,
  startTimes,
  seasonalPercent,
  runs,
  enabled,
});

/** Changes a program with the week before and after in view; saving makes a new dated revision. */
export function ProgramEditor({
  data,
  program,
  controllerId: firstController,
  today,
  onClose,
}: {
  data: OpenProperty;
  program: Program | null;
  controllerId: string;
  today: string;
  onClose: () => void;
}) {
  const [ids] = useState(() => ({ programId: program?.id ?? newId(), revisionId: newId(), writeId: newId() }));
  const [controllerId, setControllerId] = useState(firstController);
  // What these settings were begun from; somebody else's where that is taken over meanwhile.
  const [begun, setBegun] = useState(() => program?.revision ?? null);
  const before = begun === null ? null : settingsOf(begun);
  const [settings, setSettings] = useState<ProgramSettings>(() => before ?? firstSettings(data, firstController));
  const [name, setName] = useState(program?.name ?? nextName(data.programs));
  const [effectiveDate, setEffectiveDate] = useState<string | null>(today);
  const [madeBy, setMadeBy] = useState(() => sayStored(STORED.office));
  const [reason, setReason] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const otherRevisionId = revisionOf(failure);
  const zones = data.zones
    .filter((zone) => zone.controllerId === controllerId && !zone.retired)
    .sort((a, b) => a.station - b.station);
  const controllers = data.controllers.filter((controller) => !controller.retired);
  const set = (change: Partial<ProgramSettings>) => setSettings((old) => ({ ...old, ...change }));
  const runOf = (zoneId: string): ProgramRun =>
    settings.runs.find((run) => run.zoneId === zoneId) ?? {
      zoneId,
      runMinutes: 0,
      cycleMinutes: null,
      soakMinutes: null,
    };
  const setRun = (zoneId: string, change: Partial<ProgramRun>) => {
    const next = { ...runOf(zoneId), ...change };
    set({ runs: zones.map((zone) => (zone.id === zoneId ? next : runOf(zone.id))) });
  };
  const checked = programSettingsSchema.safeParse(settings);
  const problem = checked.success ? null : (checked.error.issues[0]?.message ?? say('property.program.notPossible'));
  const changed = before === null || JSON.stringify(settings) !== JSON.stringify(before) || name !== program?.name;

  const drawn = useDeferredValue(settings);
  const drawable = programSettingsSchema.safeParse(drawn).success;
  const now = useRequest('program.week', program === null ? null : { propertyId: data.property.id, date: today });
  const then = useRequest(
    'program.week',
    drawable
      ? {
          propertyId: data.property.id,
          date: today,
          instead: [{ programId: ids.programId, name, controllerId, settings: drawn }],
        }
      : null,
  );
  const weeks = [now.data, then.data].filter((week) => week !== undefined);
  const scale = weekScale(weeks);

  const takeOver = async (revisionId: string) => {
    const reply = await ask('program.history', { programId: ids.programId });
    if (!reply.ok) return setFailure(reply.error);
    const theirs = reply.data.revisions.find((one) => one.id === revisionId);
    if (theirs === undefined) return;
    setBegun(theirs);
    setSettings(settingsOf(theirs));
    setFailure(null);
  };
  /** `over` = the revision that the person has been shown and sets aside. */
  const save = async (over?: string) => {
    if (!checked.success || effectiveDate === null) return;
    setSaving(true);
    const reply = await write(
      'program.revise',
      {
        ...ids,
        seenRevisionId: over ?? begun?.id ?? null,
        controllerId: program === null ? controllerId : null,
        name,
        effectiveDate,
        settings,
        madeBy: keepStored(currentReader(), madeBy),
        reason,
      },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const undo =
      before === null
        ? undefined
        : () =>
            void write('program.revise', {
              writeId: newId(),
              programId: ids.programId,
              revisionId: newId(),
              name: program?.name ?? '',
              effectiveDate,
              settings: before,
              seenRevisionId: reply.data.revision.id,
              madeBy: keepStored(currentReader(), madeBy),
              reason: STORED.revisionTakenBack,
            });
    toast({
      text:
        program === null
          ? say('property.program.added', { name })
          : say('property.program.revised', { name, revision: reply.data.revision.revisionNumber }),
      ...(undo === undefined ? {} : { undo }),
    });
    onClose();
  };

  return (
    <Dialog
      title={program === null ? say('property.program.add') : say('property.program.editNamed', { name: program.name })}
      size="wide"
      keepOpen={changed}
      isOpen
      onClose={onClose}
      footer={
        <>
          {problem === null ? null : <p className="field-error foot-words">{problem}</p>}
          <Button data-way-out onPress={onClose}>
            {program === null ? say('forms.leave') : say('property.program.keepAsIs')}
          </Button>
          <Button
            look="primary"
            isDisabled={!checked.success || effectiveDate === null || !changed || saving}
            onPress={() => void save()}
          >
            {program === null ? say('property.program.add') : say('property.program.saveRevision')}
          </Button>
        </>
      }
    >
      <div className="program-editor">
        <div className="program-form">
          {failure === null ? null : (
            <ErrorNote
              error={failure}
              action={
                otherRevisionId === null ? undefined : (
                  <>
                    <Button onPress={() => void takeOver(otherRevisionId)}>{say('property.program.takeOver')}</Button>
                    <Button onPress={() => void save(otherRevisionId)}>{say('property.program.saveOver')}</Button>
                  </>
                )
              }
            />
          )}
          <div className="form-grid">
            {program === null && controllers.length > 1 ? (
              <SelectField
                label={say('property.program.controller')}
                value={controllerId}
                onChange={(id) => {
                  setControllerId(id);
                  setSettings(firstSettings(data, id));
                }}
                options={controllers.map((controller) => ({ id: controller.id, label: controller.name }))}
              />
            ) : null}
            <TextField label={say('property.program.name')} value={name} onChange={setName} maxLength={40} isRequired />
            <NumberField
              label={say('property.program.seasonal')}
              unit="%"
              value={settings.seasonalPercent}
              min={0}
              max={300}
              step={5}
              digits={0}
              onChange={(value) => set({ seasonalPercent: Math.round(value ?? 100) })}
            />
          </div>
          <DaysFields days={settings.days} today={today} onChange={(days) => set({ days })} />
          <StartTimes times={settings.startTimes} onChange={(startTimes) => set({ startTimes })} />
          <table className="data minutes">
            <caption className="visually-hidden">{say('property.program.runMinutes')}</caption>
            <thead>
              <tr>
                <th scope="col">{say('property.program.zone')}</th>
                <th scope="col">{say('property.program.minutesAt100')}</th>
                <th scope="col">{say('property.program.cycle')}</th>
                <th scope="col">{say('property.program.soak')}</th>
              </tr>
            </thead>
            <tbody>
              {zones.map((zone) => {
                const run = runOf(zone.id);
                const called = { station: zone.station, zone: zone.name };
                return (
                  <tr key={zone.id}>
                    <th scope="row" className="zone-name">
                      <span>
                        <ZoneTag station={zone.station} /> <span>{zone.name}</span>
                      </span>
                    </th>
                    <td>
                      <NumberField
                        label={say('property.program.minutesOf', called)}
                        hideLabel
                        value={run.runMinutes}
                        min={0}
                        max={720}
                        onChange={(value) => setRun(zone.id, { runMinutes: value ?? 0 })}
                      />
                    </td>
                    <td>
                      <NumberField
                        label={say('property.program.cycleOf', called)}
                        hideLabel
                        value={run.cycleMinutes}
                        min={1}
                        max={720}
                        onChange={(value) =>
                          setRun(zone.id, {
                            cycleMinutes: value,
                            soakMinutes: value === null ? null : (run.soakMinutes ?? 30),
                          })
                        }
                      />
                    </td>
                    <td>
                      <NumberField
                        label={say('property.program.soakOf', called)}
                        hideLabel
                        value={run.soakMinutes}
                        min={0}
                        max={720}
                        isDisabled={run.cycleMinutes === null}
                        onChange={(value) => setRun(zone.id, { soakMinutes: value })}
                      />
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
          <CheckField
            label={say('property.program.runs')}
            value={settings.enabled}
            onChange={(enabled) => set({ enabled })}
            description={say('property.program.runsWhy')}
          />
          <div className="form-grid form-part">
            <DateField
              label={say('property.program.inForceFrom')}
              value={effectiveDate}
              onChange={setEffectiveDate}
              isRequired
            />
            <TextField label={say('property.program.madeBy')} value={madeBy} onChange={setMadeBy} maxLength={120} />
            <TextField
              className="full"
              label={say('property.program.reason')}
              value={reason}
              onChange={setReason}
              maxLength={300}
              placeholder={say('property.program.reasonExample')}
            />
          </div>
        </div>
        <div className="program-weeks">
          {now.data === undefined ? null : (
            <WaterWeekChart
              week={now.data}
              scale={scale}
              title={say('property.program.now')}
              today={today}
              legend={false}
              breaches="count"
            />
          )}
          {then.data === undefined ? (
            then.error === null ? null : (
              <ErrorNote error={then.error} />
            )
          ) : (
            <WaterWeekChart
              week={then.data}
              scale={scale}
              title={program === null ? say('property.program.withThis') : say('property.program.asChanged')}
              today={today}
            />
          )}
        </div>
      </div>
    </Dialog>
  );
}

/** The revision that somebody else set meanwhile, where a refusal tells of one. */
function revisionOf(failure: Failure | null): string | null {
  if (failure?.code !== 'stale') return null;
  const given = failure.text?.given as { revisionId?: unknown } | undefined;
  return typeof given?.revisionId === 'string' ? given.revisionId : null;
}

function nextName(programs: readonly Program[]): string {
  const taken = new Set(programs.map((program) => program.name));
  return ['A', 'B', 'C', 'D', 'E', 'F'].find((name) => !taken.has(name)) ?? say('property.program.newName');
}

function DaysFields({
  days,
  today,
  onChange,
}: {
  days: WateringDays;
  today: string;
  onChange: (days: WateringDays) => void;
}) {
  const choose = (kind: string) => {
    if (kind === 'odd') onChange({ kind, monthEnd: 'skip' });
    else if (kind === 'even') onChange({ kind });
    else if (kind === 'interval') onChange({ kind, everyDays: 3, startDate: today });
    else onChange({ kind: 'weekdays', weekdays: [1, 3, 5] });
  };
  return (
    <div className="days-fields">
      <SelectField
        label={say('property.program.wateringDays')}
        value={days.kind}
        onChange={choose}
        options={DAY_KINDS.map((id) => ({ id, label: DAY_WORDS[id] }))}
      />
      {days.kind === 'weekdays' ? (
        <div className="weekday-toggles" role="group" aria-label={say('property.program.weekdays')}>
          {WEEKDAYS.map((word, index) => {
            const on = days.weekdays.includes(index + 1);
            return (
              <Button
                key={word}
                aria-pressed={on}
                className={on ? 'toggled' : ''}
                onPress={() =>
                  onChange({
                    kind: 'weekdays',
                    weekdays: on
                      ? days.weekdays.filter((day) => day !== index + 1)
                      : [...days.weekdays, index + 1].sort((a, b) => a - b),
                  })
                }
              >
                {word}
              </Button>
            );
          })}
        </div>
      ) : days.kind === 'odd' ? (
        <CheckField
          label={say('property.program.skip31')}
          value={days.monthEnd === 'skip'}
          onChange={(skip) => onChange({ kind: 'odd', monthEnd: skip ? 'skip' : 'water' })}
        />
      ) : days.kind === 'interval' ? (
        <div className="form-grid">
          <NumberField
            label={say('property.program.every')}
            unit={say('property.program.daysUnit')}
            value={days.everyDays}
            min={1}
            max={31}
            digits={0}
            onChange={(value) => onChange({ ...days, everyDays: value ?? 1 })}
          />
          <DateField
            label={say('property.program.countedFrom')}
            value={days.startDate}
            onChange={(date) => {
              if (date !== null) onChange({ ...days, startDate: date });
            }}
          />
        </div>
      ) : null}
    </div>
  );
}

function StartTimes({ times, onChange }: { times: readonly string[]; onChange: (times: string[]) => void }) {
  return (
    <fieldset className="start-times">
      <legend className="field-label">{say('property.program.startTimes')}</legend>
      {times.map((time, index) => (
        <span key={index} className="start-time">
          <TimeField
            label={say('property.program.startTime', { number: index + 1 })}
            hideLabel
            value={time}
            onChange={(value) => {
              if (value !== null) onChange(times.map((old, at) => (at === index ? value : old)));
            }}
          />
          <Button
            look="quiet"
            className="icon-button"
            aria-label={say('property.program.removeStart', { number: index + 1 })}
            onPress={() => onChange(times.filter((_, at) => at !== index))}
          >
            <CloseIcon />
          </Button>
        </span>
      ))}
      {times.length < 8 ? (
        <Button onPress={() => onChange([...times, freeTime(times)])}>{say('property.program.addStart')}</Button>
      ) : null}
    </fieldset>
  );
}

function freeTime(times: readonly string[]): string {
  for (let hour = 4; hour < 28; hour += 1) {
    const time = `${String(hour % 24).padStart(2, '0')}:00`;
    if (!times.includes(time)) return time;
  }
  return '04:30';
}

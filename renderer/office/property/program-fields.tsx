import type { WateringDays } from '../../../core/contract/parts.ts';
import {
  Button,
  CheckField,
  CloseIcon,
  DateField,
  NumberField,
  SelectField,
  TextField,
  TimeField,
  WEEKDAYS,
  ZoneTag,
} from '../../parts/index.ts';
import { say, texts } from '../../state/say.ts';
import type { ProgramDraft, RevisionNote } from './use-program-draft.ts';

const DAY_KINDS = ['weekdays', 'odd', 'even', 'interval'] as const;
const DAY_WORDS = texts({
  weekdays: 'property.program.days.weekdays',
  odd: 'property.program.days.odd',
  even: 'property.program.days.even',
  interval: 'property.program.days.interval',
});

/** On which days it waters. */
export function DaysFields({
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

/** When each round begins. */
export function StartTimes({ times, onChange }: { times: readonly string[]; onChange: (times: string[]) => void }) {
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

/** How long each zone of the controller runs, and in which cycles. */
export function ZoneMinutes({ draft }: { draft: ProgramDraft }) {
  return (
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
        {draft.zones.map((zone) => {
          const run = draft.runOf(zone.id);
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
                  onChange={(value) => draft.setRun(zone.id, { runMinutes: value ?? 0 })}
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
                    draft.setRun(zone.id, {
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
                  onChange={(value) => draft.setRun(zone.id, { soakMinutes: value })}
                />
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** From when the revision holds, and what it tells of itself. */
export function RevisionFields({ note, set }: { note: RevisionNote; set: (change: Partial<RevisionNote>) => void }) {
  return (
    <div className="form-grid form-part">
      <DateField
        label={say('property.program.inForceFrom')}
        value={note.effectiveDate}
        onChange={(effectiveDate) => set({ effectiveDate })}
        isRequired
      />
      <TextField
        label={say('property.program.madeBy')}
        value={note.madeBy}
        onChange={(madeBy) => set({ madeBy })}
        maxLength={120}
      />
      <TextField
        className="full"
        label={say('property.program.reason')}
        value={note.reason}
        onChange={(reason) => set({ reason })}
        maxLength={300}
        placeholder={say('property.program.reasonExample')}
      />
    </div>
  );
}

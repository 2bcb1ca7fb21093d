import { Checkbox } from 'react-aria-components';
import type { RestrictionStage } from '../../core/contract/entities.ts';
import { Button, CheckField, NumberField, SelectField, TextField, TimeField, WEEKDAYS } from '../parts/index.ts';

const DAY_RULES = [
  { id: 'any-day', label: 'Any day' },
  { id: 'weekdays', label: 'Weekdays by house number' },
  { id: 'date-parity', label: 'Odd addresses on odd dates, even on even' },
  { id: 'no-watering', label: 'No watering' },
] as const;
const NAMES = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

interface StageFieldsProps {
  stage: RestrictionStage;
  index: number;
  count: number;
  at: (path: string) => string | null;
  onChange: (stage: RestrictionStage) => void;
  onMove: (by: -1 | 1) => void;
  onRemove: () => void;
}

/** One stage of a restriction: days, hours, drip. */
export function StageFields({ stage, index, count, at, onChange, onMove, onRemove }: StageFieldsProps) {
  const set = (change: Partial<RestrictionStage>) => onChange({ ...stage, ...change });
  const setSpell = (place: number, change: Partial<RestrictionStage['forbiddenHours'][number]>) =>
    set({
      forbiddenHours: stage.forbiddenHours.map((spell, other) => (other === place ? { ...spell, ...change } : spell)),
    });
  const name = stage.title === '' ? `stage ${index + 1}` : stage.title;
  return (
    <fieldset className="stage">
      <legend>Stage {index + 1}</legend>
      <div className="stage-acts">
        <Button look="quiet" isDisabled={index === 0} aria-label={`Move up ${name}`} onPress={() => onMove(-1)}>
          Move up
        </Button>
        <Button
          look="quiet"
          isDisabled={index === count - 1}
          aria-label={`Move down ${name}`}
          onPress={() => onMove(1)}
        >
          Move down
        </Button>
        <Button look="quiet" isDisabled={count === 1} aria-label={`Remove ${name}`} onPress={onRemove}>
          Remove
        </Button>
      </div>
      <div className="form-grid">
        <TextField
          label="Title"
          value={stage.title}
          onChange={(title) => set({ title })}
          isRequired
          error={at('title')}
        />
        <SelectField
          label="Days"
          value={stage.dayRule.kind}
          options={DAY_RULES}
          onChange={(kind) => set({ dayRule: dayRuleOf(kind) })}
          error={at('dayRule.kind')}
        />
        {stage.dayRule.kind === 'no-watering' ? null : (
          <NumberField
            label="At most"
            unit="days a week"
            value={stage.maxDaysPerWeek}
            onChange={(maxDaysPerWeek) => set({ maxDaysPerWeek })}
            min={0}
            max={7}
            digits={0}
            error={at('maxDaysPerWeek')}
            description="Empty: no limit besides the days."
          />
        )}
      </div>
      {stage.dayRule.kind === 'weekdays' ? (
        <WeekdayGrid rule={stage.dayRule} name={name} onChange={(dayRule) => set({ dayRule })} />
      ) : null}
      <div className="forbidden">
        <p className="field-label">Hours when spray may not run</p>
        {stage.forbiddenHours.length === 0 ? <p className="quiet small">None.</p> : null}
        {stage.forbiddenHours.map((spell, place) => (
          <div key={place} className="spell">
            <TimeField
              label={`Forbidden from, spell ${place + 1}`}
              hideLabel
              value={spell.from}
              onChange={(from) => {
                if (from !== null) setSpell(place, { from });
              }}
              error={at(`forbiddenHours.${place}.from`)}
            />
            <span>to</span>
            <TimeField
              label={`Forbidden to, spell ${place + 1}`}
              hideLabel
              value={spell.to}
              onChange={(to) => {
                if (to !== null) setSpell(place, { to });
              }}
              error={at(`forbiddenHours.${place}.to`)}
            />
            <span className="quiet small">{spell.to < spell.from ? 'over midnight' : ''}</span>
            <Button
              look="quiet"
              aria-label={`Remove spell ${place + 1} of ${name}`}
              onPress={() => set({ forbiddenHours: stage.forbiddenHours.filter((_, other) => other !== place) })}
            >
              Remove
            </Button>
          </div>
        ))}
        <Button
          isDisabled={stage.forbiddenHours.length >= 6}
          onPress={() => set({ forbiddenHours: [...stage.forbiddenHours, { from: '10:00', to: '18:00' }] })}
        >
          Add hours
        </Button>
      </div>
      <CheckField
        label="Drip and soaker hose are outside the rule"
        value={stage.dripExempt}
        onChange={(dripExempt) => set({ dripExempt })}
      />
    </fieldset>
  );
}

function dayRuleOf(kind: string): RestrictionStage['dayRule'] {
  if (kind === 'weekdays') return { kind, oddAddress: [2, 4, 6], evenAddress: [1, 3, 5] };
  return kind === 'date-parity' || kind === 'no-watering' ? { kind } : { kind: 'any-day' };
}

type WeekdayRule = Extract<RestrictionStage['dayRule'], { kind: 'weekdays' }>;

function WeekdayGrid({
  rule,
  name,
  onChange,
}: {
  rule: WeekdayRule;
  name: string;
  onChange: (rule: WeekdayRule) => void;
}) {
  const rows = [
    { key: 'oddAddress', label: 'Odd house numbers' },
    { key: 'evenAddress', label: 'Even house numbers' },
  ] as const;
  const toggle = (key: 'oddAddress' | 'evenAddress', day: number, on: boolean) =>
    onChange({
      ...rule,
      [key]: on
        ? [...rule[key], day].toSorted((one, other) => one - other)
        : rule[key].filter((other) => other !== day),
    });
  return (
    <div className="table-scroll">
      <table className="weekday-grid">
        <caption className="visually-hidden">Days on which watering is allowed in {name}</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className="visually-hidden">House numbers</span>
            </th>
            {WEEKDAYS.map((day) => (
              <th key={day} scope="col">
                {day}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ key, label }) => (
            <tr key={key}>
              <th scope="row">{label}</th>
              {WEEKDAYS.map((day, index) => (
                <td key={day}>
                  <Checkbox
                    className="day-box"
                    isSelected={rule[key].includes(index + 1)}
                    onChange={(on) => toggle(key, index + 1, on)}
                    aria-label={`${label}, ${NAMES[index] ?? day}`}
                  >
                    {({ isSelected }) => <span aria-hidden="true">{isSelected ? '✓' : ''}</span>}
                  </Checkbox>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

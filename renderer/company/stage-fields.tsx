import { Checkbox } from 'react-aria-components';
import type { RestrictionStage } from '../../core/settings/contract.ts';
import { Button, CheckField, NumberField, SelectField, TextField, TimeField, WEEKDAYS } from '../parts/index.ts';
import { say, words } from '../state/say.ts';

const DAY_RULES = ['any-day', 'weekdays', 'date-parity', 'no-watering'] as const;

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
  const number = index + 1;
  const name = stage.title === '' ? say('company.stageNumber', { number }) : stage.title;
  return (
    <fieldset className="stage">
      <legend>{say('company.stageNumber', { number })}</legend>
      <div className="stage-acts">
        <Button
          look="quiet"
          isDisabled={index === 0}
          aria-label={say('company.moveUpNamed', { name })}
          onPress={() => onMove(-1)}
        >
          {say('company.moveUp')}
        </Button>
        <Button
          look="quiet"
          isDisabled={index === count - 1}
          aria-label={say('company.moveDownNamed', { name })}
          onPress={() => onMove(1)}
        >
          {say('company.moveDown')}
        </Button>
        <Button
          look="quiet"
          isDisabled={count === 1}
          aria-label={say('company.removeNamed', { name })}
          onPress={onRemove}
        >
          {say('company.remove')}
        </Button>
      </div>
      <div className="form-grid">
        <TextField
          label={say('company.titleOf')}
          value={stage.title}
          onChange={(title) => set({ title })}
          isRequired
          error={at('title')}
        />
        <SelectField
          label={say('company.daysOf')}
          value={stage.dayRule.kind}
          options={DAY_RULES.map((id) => ({ id, label: say(`company.rule.${id}`) }))}
          onChange={(kind) => set({ dayRule: dayRuleOf(kind) })}
          error={at('dayRule.kind')}
        />
        {stage.dayRule.kind === 'no-watering' ? null : (
          <NumberField
            label={say('company.atMost')}
            unit={say('company.daysAWeek')}
            value={stage.maxDaysPerWeek}
            onChange={(maxDaysPerWeek) => set({ maxDaysPerWeek })}
            min={0}
            max={7}
            digits={0}
            error={at('maxDaysPerWeek')}
            description={say('company.noLimit')}
          />
        )}
      </div>
      {stage.dayRule.kind === 'weekdays' ? (
        <WeekdayGrid rule={stage.dayRule} name={name} onChange={(dayRule) => set({ dayRule })} />
      ) : null}
      <div className="forbidden">
        <p className="field-label">{say('company.forbiddenHours')}</p>
        {stage.forbiddenHours.length === 0 ? <p className="quiet small">{say('company.noneHours')}</p> : null}
        {stage.forbiddenHours.map((spell, place) => (
          <div key={place} className="spell">
            <TimeField
              label={say('company.forbiddenFrom', { spell: place + 1 })}
              hideLabel
              value={spell.from}
              onChange={(from) => {
                if (from !== null) setSpell(place, { from });
              }}
              error={at(`forbiddenHours.${place}.from`)}
            />
            <span>{say('company.to')}</span>
            <TimeField
              label={say('company.forbiddenTo', { spell: place + 1 })}
              hideLabel
              value={spell.to}
              onChange={(to) => {
                if (to !== null) setSpell(place, { to });
              }}
              error={at(`forbiddenHours.${place}.to`)}
            />
            <span className="quiet small">{spell.to < spell.from ? say('company.overMidnight') : ''}</span>
            <Button
              look="quiet"
              aria-label={say('company.removeSpell', { spell: place + 1, name })}
              onPress={() => set({ forbiddenHours: stage.forbiddenHours.filter((_, other) => other !== place) })}
            >
              {say('company.remove')}
            </Button>
          </div>
        ))}
        <Button
          isDisabled={stage.forbiddenHours.length >= 6}
          onPress={() => set({ forbiddenHours: [...stage.forbiddenHours, { from: '10:00', to: '18:00' }] })}
        >
          {say('company.addHours')}
        </Button>
      </div>
      <CheckField
        label={say('company.dripOutside')}
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
    { key: 'oddAddress', label: say('company.oddNumbers') },
    { key: 'evenAddress', label: say('company.evenNumbers') },
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
        <caption className="visually-hidden">{say('company.allowedIn', { name })}</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className="visually-hidden">{say('company.houseNumbers')}</span>
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
                    aria-label={`${label}, ${words().weekday(index + 1, 'long')}`}
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

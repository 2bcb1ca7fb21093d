import { useState } from 'react';
import { Checkbox, CheckboxGroup, Label } from 'react-aria-components';
import { SKILLS } from '../../core/people/contract.ts';
import type { Technician, Truck } from '../../core/people/contract.ts';
import type { Failure } from '../../core/errors.ts';
import { Button, Dialog, ErrorNote, SelectField, SwitchField, TextField, TimeField, wordsOf } from '../parts/index.ts';
import { placedErrors } from './placed-errors.ts';
import { savePeople } from './save-people.ts';
import { WeekdayPicks } from './weekday-picks.tsx';
import { say } from '../state/say.ts';

/** One technician: hours, days, skills, truck. */
export function TechnicianDialog({
  technician,
  isNew,
  trucks,
  onClose,
}: {
  technician: Technician;
  isNew: boolean;
  trucks: Truck[];
  onClose: () => void;
}) {
  const [draft, setDraft] = useState(technician);
  const [failure, setFailure] = useState<Failure | null>(null);
  const set = (change: Partial<Technician>) => setDraft((old) => ({ ...old, ...change }));
  const errors = placedErrors(failure);
  const at = (field: keyof Technician) => errors.at(`technicians.0.${field}`);
  const save = async () => {
    const error = await savePeople(
      { technicians: [draft] },
      say(isNew ? 'company.addedNamed' : 'company.savedNamed', { name: draft.name }),
      isNew ? null : { technicians: [technician] },
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  const fields = (
    <div className="form-grid">
      <TextField
        label={say('company.nameOf')}
        value={draft.name}
        onChange={(name) => set({ name })}
        isRequired
        autoFocus
        error={at('name')}
      />
      <TextField
        label={say('company.phone')}
        type="tel"
        value={draft.phone}
        onChange={(phone) => set({ phone })}
        error={at('phone')}
      />
      <div className="full">
        <WeekdayPicks
          label={say('company.worksOn')}
          value={draft.workWeekdays}
          onChange={(workWeekdays) => set({ workWeekdays })}
        />
      </div>
      <TimeField
        label={say('company.dayStarts')}
        value={draft.dayStart}
        onChange={(value) => set({ dayStart: value ?? draft.dayStart })}
        error={at('dayStart')}
      />
      <TimeField
        label={say('company.dayEnds')}
        value={draft.dayEnd}
        onChange={(value) => set({ dayEnd: value ?? draft.dayEnd })}
        error={at('dayEnd')}
      />
      <SelectField
        label={say('company.truck')}
        value={draft.truckId ?? ''}
        onChange={(id) => set({ truckId: id === '' ? null : id })}
        options={[{ id: '', label: say('company.noneTruck') }, ...trucks.map(({ id, name }) => ({ id, label: name }))]}
        error={at('truckId')}
      />
      <CheckboxGroup
        className="full weekday-picks"
        value={draft.skills}
        onChange={(next) => set({ skills: SKILLS.filter((skill) => next.includes(skill)) })}
      >
        <Label className="field-label">{say('company.canDo')}</Label>
        <div className="weekday-row">
          {SKILLS.map((skill) => (
            <Checkbox key={skill} value={skill} className="pick">
              {wordsOf(skill)}
            </Checkbox>
          ))}
        </div>
        <p className="field-note">{say('company.licensed')}</p>
      </CheckboxGroup>
      {isNew ? null : (
        <div className="full">
          <SwitchField
            label={say('company.worksForUs')}
            value={draft.active}
            onChange={(active) => set({ active })}
            description={say('company.worksForUsWhy')}
          />
        </div>
      )}
    </div>
  );
  return (
    <Dialog
      title={isNew ? say('company.addTechnician') : technician.name}
      isOpen
      onClose={onClose}
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? say('company.addTechnician') : say('company.saveTechnician')}
        </Button>
      }
    >
      {fields}
      {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
    </Dialog>
  );
}

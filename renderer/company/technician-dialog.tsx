import { useState } from 'react';
import { Checkbox, CheckboxGroup, Label } from 'react-aria-components';
import { SKILLS } from '../../core/contract/entities.ts';
import type { Technician, Truck } from '../../core/contract/entities.ts';
import type { Failure } from '../../core/errors.ts';
import { Button, Dialog, ErrorNote, SelectField, SwitchField, TextField, TimeField, wordsOf } from '../parts/index.ts';
import { placedErrors } from './placed-errors.ts';
import { savePeople } from './save-people.ts';
import { WeekdayPicks } from './weekday-picks.tsx';

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
      isNew ? `${draft.name} added.` : `${draft.name} saved.`,
      isNew ? null : { technicians: [technician] },
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  const fields = (
    <div className="form-grid">
      <TextField
        label="Name"
        value={draft.name}
        onChange={(name) => set({ name })}
        isRequired
        autoFocus
        error={at('name')}
      />
      <TextField
        label="Phone"
        type="tel"
        value={draft.phone}
        onChange={(phone) => set({ phone })}
        error={at('phone')}
      />
      <div className="full">
        <WeekdayPicks label="Works on" value={draft.workWeekdays} onChange={(workWeekdays) => set({ workWeekdays })} />
      </div>
      <TimeField
        label="Day starts"
        value={draft.dayStart}
        onChange={(value) => set({ dayStart: value ?? draft.dayStart })}
        error={at('dayStart')}
      />
      <TimeField
        label="Day ends"
        value={draft.dayEnd}
        onChange={(value) => set({ dayEnd: value ?? draft.dayEnd })}
        error={at('dayEnd')}
      />
      <SelectField
        label="Truck"
        value={draft.truckId ?? ''}
        onChange={(id) => set({ truckId: id === '' ? null : id })}
        options={[{ id: '', label: 'None' }, ...trucks.map(({ id, name }) => ({ id, label: name }))]}
        error={at('truckId')}
      />
      <CheckboxGroup
        className="full weekday-picks"
        value={draft.skills}
        onChange={(next) => set({ skills: SKILLS.filter((skill) => next.includes(skill)) })}
      >
        <Label className="field-label">Can do</Label>
        <div className="weekday-row">
          {SKILLS.map((skill) => (
            <Checkbox key={skill} value={skill} className="pick">
              {wordsOf(skill)}
            </Checkbox>
          ))}
        </div>
        <p className="field-note">
          Backflow assemblies are tested and mains voltage is worked on only by people licensed for it where you are.
        </p>
      </CheckboxGroup>
      {isNew ? null : (
        <div className="full">
          <SwitchField
            label="Works for us"
            value={draft.active}
            onChange={(active) => set({ active })}
            description="Off for somebody who has left: past work keeps the name, new visits cannot be booked."
          />
        </div>
      )}
    </div>
  );
  return (
    <Dialog
      title={isNew ? 'Add technician' : technician.name}
      isOpen
      onClose={onClose}
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? 'Add technician' : 'Save technician'}
        </Button>
      }
    >
      {fields}
      {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
    </Dialog>
  );
}

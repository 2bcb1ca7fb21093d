import { useState } from 'react';
import type { Sensor } from '../../../../core/properties/contract.ts';
import { Button, DateField, NumberField, SelectField, TextField, wordsOf } from '../../../parts/index.ts';
import { newId } from '../../../state/write.ts';
import { toast } from '../../../state/toasts.ts';
import { say } from '../../../state/say.ts';
import type { OpenProperty } from '../use-property-editor.ts';
import { saveProperty } from '../save-property.ts';
import { FormSheet } from './form-sheet.tsx';
import { MeasureField } from './measure-field.tsx';
import { useDraft } from './use-draft.ts';
import type { Draft } from './use-draft.ts';

const SENSES = ['rain', 'freeze', 'rain-and-freeze'] as const;

function newSensor(data: OpenProperty): Sensor {
  return {
    id: newId(),
    propertyId: data.property.id,
    controllerId: data.controllers.find((controller) => !controller.retired)?.id ?? null,
    senses: 'rain-and-freeze',
    link: 'wireless',
    model: '',
    location: '',
    batteryType: 'CR2032',
    batteryCells: 1,
    batteryDate: null,
    rainSetPointInches: null,
    freezeSetPointF: null,
    lastCheckDate: null,
    lastCheckPassed: null,
    lastSignal: null,
    cellsGood: null,
    retired: false,
  };
}

/** A rain or freeze sensor. The battery date moves by itself when a swap is logged. */
export function SensorForm({
  data: given,
  sensor,
  onClose,
}: {
  data: OpenProperty;
  sensor: Sensor | null;
  onClose: () => void;
}) {
  const [data] = useState(given);
  const { fields, failure, saving, answered } = useDraft<Sensor>(() => sensor ?? newSensor(data));
  const { draft, set, error } = fields;
  const save = async (retired: boolean) => {
    const { property, version } = data;
    const shown = { property, sensors: sensor === null ? [] : [sensor] };
    const says = { property, sensors: [{ ...draft, retired }] };
    const saved = await answered(saveProperty(shown, says, version, { quiet: true }));
    if (saved === null) return;
    const back = sensor ?? { ...draft, retired: true };
    toast({
      text:
        sensor === null ? say('forms.sensorAdded') : retired ? say('forms.sensorRetired') : say('forms.sensorSaved'),
      undo: () => void saveProperty(says, { property, sensors: [back] }, saved.version),
    });
    onClose();
  };
  return (
    <FormSheet
      title={sensor === null ? say('property.sensors.add') : say('forms.editSensor')}
      save={() => void save(false)}
      saveWords={sensor === null ? say('property.sensors.add') : say('forms.saveSensor')}
      saving={saving}
      failure={failure}
      onClose={onClose}
      action={
        sensor === null ? undefined : (
          <Button look="danger" className="start" onPress={() => void save(true)}>
            {say('forms.retireSensor')}
          </Button>
        )
      }
    >
      <div className="form-grid">
        <SelectField
          label={say('forms.senses')}
          value={draft.senses}
          onChange={(id) => set({ senses: id as Sensor['senses'] })}
          options={SENSES.map((id) => ({ id, label: wordsOf(id) }))}
        />
        <SelectField
          label={say('forms.link')}
          value={draft.link}
          onChange={(id) =>
            set(
              id === 'wired'
                ? { link: 'wired', batteryType: '', batteryCells: 0 }
                : { link: 'wireless', batteryCells: Math.max(1, draft.batteryCells) },
            )
          }
          options={[
            { id: 'wireless', label: wordsOf('wireless') },
            { id: 'wired', label: wordsOf('wired') },
          ]}
        />
        <SelectField
          label={say('property.program.controller')}
          value={draft.controllerId ?? ''}
          onChange={(id) => set({ controllerId: id === '' ? null : id })}
          options={[
            { id: '', label: say('forms.notKnown') },
            ...data.controllers
              .filter((controller) => !controller.retired)
              .map((controller) => ({ id: controller.id, label: controller.name })),
          ]}
        />
        <TextField
          label={say('forms.model')}
          value={draft.model}
          onChange={(model) => set({ model })}
          maxLength={80}
          error={error('model')}
        />
        <TextField
          className="full"
          label={say('forms.whereItIs')}
          value={draft.location}
          onChange={(location) => set({ location })}
          maxLength={200}
          error={error('location')}
        />
        {draft.link === 'wireless' ? <BatteryFields {...fields} /> : null}
        <SetPointFields {...fields} />
      </div>
    </FormSheet>
  );
}

/** The cells of a wireless sensor. */
function BatteryFields({ draft, set, error }: Draft<Sensor>) {
  return (
    <>
      <TextField
        label={say('forms.battery')}
        value={draft.batteryType}
        onChange={(batteryType) => set({ batteryType })}
        maxLength={40}
        description={say('forms.batteryWhy')}
        error={error('batteryType')}
      />
      <NumberField
        label={say('forms.cells')}
        value={draft.batteryCells}
        min={0}
        max={8}
        digits={0}
        onChange={(batteryCells) => set({ batteryCells: batteryCells ?? 1 })}
        error={error('batteryCells')}
      />
      <DateField
        label={say('forms.batteryDate')}
        value={draft.batteryDate}
        onChange={(batteryDate) => set({ batteryDate })}
        error={error('batteryDate')}
        description={say('forms.batteryDateWhy')}
      />
    </>
  );
}

/** At how much rain and at what cold it stops the watering. */
function SetPointFields({ draft, set, error }: Draft<Sensor>) {
  return (
    <>
      {draft.senses === 'freeze' ? null : (
        <MeasureField
          label={say('forms.rainTrip')}
          quantity="depth"
          value={draft.rainSetPointInches}
          onChange={(rainSetPointInches) => set({ rainSetPointInches })}
          error={error('rainSetPointInches')}
        />
      )}
      {draft.senses === 'rain' ? null : (
        <MeasureField
          label={say('forms.freezeTrip')}
          quantity="temperature"
          value={draft.freezeSetPointF}
          onChange={(freezeSetPointF) => set({ freezeSetPointF })}
          error={error('freezeSetPointF')}
        />
      )}
    </>
  );
}

import { useState } from 'react';
import type { Sensor } from '../../../../core/properties/contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../../../core/units.ts';
import { Button, DateField, NumberField, SelectField, TextField, wordsOf } from '../../../parts/index.ts';
import { useUnits } from '../../../state/use-settings.ts';
import { newId } from '../../../state/write.ts';
import { toast } from '../../../state/toasts.ts';
import { say } from '../../../state/say.ts';
import type { OpenProperty } from '../use-property-editor.ts';
import { saveProperty } from '../save-property.ts';
import { errorAt, FormSheet } from './form-sheet.tsx';

const SENSES = ['rain', 'freeze', 'rain-and-freeze'] as const;

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
  const units = useUnits();
  const [data] = useState(given);
  const [draft, setDraft] = useState<Sensor>(
    () =>
      sensor ?? {
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
      },
  );
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const set = (change: Partial<Sensor>) => setDraft((old) => ({ ...old, ...change }));
  const save = async (retired: boolean) => {
    setSaving(true);
    const { property, version } = data;
    const shown = { property, sensors: sensor === null ? [] : [sensor] };
    const says = { property, sensors: [{ ...draft, retired }] };
    const reply = await saveProperty(shown, says, version, { quiet: true });
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const back = sensor ?? { ...draft, retired: true };
    toast({
      text:
        sensor === null ? say('forms.sensorAdded') : retired ? say('forms.sensorRetired') : say('forms.sensorSaved'),
      undo: () => void saveProperty(says, { property, sensors: [back] }, reply.data.version),
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
          error={errorAt(failure, 'model')}
        />
        <TextField
          className="full"
          label={say('forms.whereItIs')}
          value={draft.location}
          onChange={(location) => set({ location })}
          maxLength={200}
          error={errorAt(failure, 'location')}
        />
        {draft.link === 'wireless' ? (
          <>
            <TextField
              label={say('forms.battery')}
              value={draft.batteryType}
              onChange={(batteryType) => set({ batteryType })}
              maxLength={40}
              description={say('forms.batteryWhy')}
              error={errorAt(failure, 'batteryType')}
            />
            <NumberField
              label={say('forms.cells')}
              value={draft.batteryCells}
              min={0}
              max={8}
              digits={0}
              onChange={(batteryCells) => set({ batteryCells: batteryCells ?? 1 })}
              error={errorAt(failure, 'batteryCells')}
            />
            <DateField
              label={say('forms.batteryDate')}
              value={draft.batteryDate}
              onChange={(batteryDate) => set({ batteryDate })}
              error={errorAt(failure, 'batteryDate')}
              description={say('forms.batteryDateWhy')}
            />
          </>
        ) : null}
        {draft.senses === 'freeze' ? null : (
          <NumberField
            label={say('forms.rainTrip')}
            unit={unitLabel('depth', units)}
            value={draft.rainSetPointInches === null ? null : fromStored('depth', draft.rainSetPointInches, units)}
            onChange={(value) => set({ rainSetPointInches: value === null ? null : toStored('depth', value, units) })}
            error={errorAt(failure, 'rainSetPointInches')}
          />
        )}
        {draft.senses === 'rain' ? null : (
          <NumberField
            label={say('forms.freezeTrip')}
            unit={unitLabel('temperature', units)}
            value={draft.freezeSetPointF === null ? null : fromStored('temperature', draft.freezeSetPointF, units)}
            onChange={(value) =>
              set({ freezeSetPointF: value === null ? null : toStored('temperature', value, units) })
            }
            error={errorAt(failure, 'freezeSetPointF')}
          />
        )}
      </div>
    </FormSheet>
  );
}

import { useState } from 'react';
import type { Controller } from '../../../core/contract/entities.ts';
import type { Failure } from '../../../core/errors.ts';
import { Button, Caution, NumberField, TextField } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { newId, write } from '../../state/write.ts';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { errorAt, FormSheet } from './form-sheet.tsx';

/** The box that runs the valves. */
export function ControllerForm({
  data: given,
  controllerId,
  onClose,
}: {
  data: OpenProperty;
  controllerId: string | null;
  onClose: () => void;
}) {
  const [data] = useState(given);
  const existing = data.controllers.find((controller) => controller.id === controllerId) ?? null;
  const [draft, setDraft] = useState<Controller>(
    () =>
      existing ?? {
        id: newId(),
        propertyId: data.property.id,
        name: data.controllers.length === 0 ? 'Main' : `Controller ${data.controllers.length + 1}`,
        location: '',
        stationCount: 8,
        retired: false,
      },
  );
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const set = (change: Partial<Controller>) => setDraft((old) => ({ ...old, ...change }));
  const save = async (retired: boolean) => {
    setSaving(true);
    const reply = await write(
      'property.save',
      { writeId: newId(), property: data.property, version: data.version, controllers: [{ ...draft, retired }] },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const back = existing ?? { ...draft, retired: true };
    toast({
      text:
        existing === null
          ? `${draft.name} added`
          : retired
            ? `${draft.name} retired; its history stays`
            : `${draft.name} saved`,
      undo: () =>
        void write('property.save', {
          writeId: newId(),
          property: data.property,
          version: reply.data.version,
          controllers: [back],
        }),
    });
    onClose();
  };
  return (
    <FormSheet
      small
      title={existing === null ? 'Add controller' : `Edit ${existing.name}`}
      save={() => void save(false)}
      saveWords={existing === null ? 'Add controller' : 'Save controller'}
      saving={saving}
      failure={failure}
      onClose={onClose}
      action={
        existing === null ? undefined : (
          <Button look="danger" className="start" onPress={() => void save(true)}>
            Retire controller
          </Button>
        )
      }
    >
      <div className="form-grid">
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => set({ name })}
          maxLength={80}
          isRequired
          autoFocus
          error={errorAt(failure, 'name')}
        />
        <NumberField
          label="Stations"
          value={draft.stationCount}
          min={1}
          max={99}
          digits={0}
          onChange={(stationCount) => set({ stationCount: stationCount ?? 1 })}
          error={errorAt(failure, 'stationCount')}
        />
        <TextField
          className="full"
          label="Where it hangs"
          value={draft.location}
          onChange={(location) => set({ location })}
          maxLength={200}
          error={errorAt(failure, 'location')}
        />
      </div>
      <Caution>Mains-voltage wiring of a controller belongs to licensed people under your local code.</Caution>
    </FormSheet>
  );
}

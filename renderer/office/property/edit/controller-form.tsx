import { useState } from 'react';
import type { Controller } from '../../../../core/properties/contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { Button, Caution, NumberField, TextField } from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { newId } from '../../../state/write.ts';
import { say } from '../../../state/say.ts';
import type { OpenProperty } from '../use-property-editor.ts';
import { saveProperty } from '../save-property.ts';
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
        name:
          data.controllers.length === 0
            ? say('forms.mainController')
            : say('forms.nextController', { number: data.controllers.length + 1 }),
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
    const { property, version } = data;
    const shown = { property, controllers: existing === null ? [] : [existing] };
    const says = { property, controllers: [{ ...draft, retired }] };
    const reply = await saveProperty(shown, says, version, { quiet: true });
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const back = existing ?? { ...draft, retired: true };
    toast({
      text:
        existing === null
          ? say('forms.added', { name: draft.name })
          : retired
            ? say('forms.retired', { name: draft.name })
            : say('forms.saved', { name: draft.name }),
      undo: () => void saveProperty(says, { property, controllers: [back] }, reply.data.version),
    });
    onClose();
  };
  return (
    <FormSheet
      small
      title={existing === null ? say('property.zones.addController') : say('forms.edit', { name: existing.name })}
      save={() => void save(false)}
      saveWords={existing === null ? say('property.zones.addController') : say('forms.saveController')}
      saving={saving}
      failure={failure}
      onClose={onClose}
      action={
        existing === null ? undefined : (
          <Button look="danger" className="start" onPress={() => void save(true)}>
            {say('forms.retireController')}
          </Button>
        )
      }
    >
      <div className="form-grid">
        <TextField
          label={say('forms.name')}
          value={draft.name}
          onChange={(name) => set({ name })}
          maxLength={80}
          isRequired
          autoFocus
          error={errorAt(failure, 'name')}
        />
        <NumberField
          label={say('forms.stations')}
          value={draft.stationCount}
          min={1}
          max={99}
          digits={0}
          onChange={(stationCount) => set({ stationCount: stationCount ?? 1 })}
          error={errorAt(failure, 'stationCount')}
        />
        <TextField
          className="full"
          label={say('forms.whereItHangs')}
          value={draft.location}
          onChange={(location) => set({ location })}
          maxLength={200}
          error={errorAt(failure, 'location')}
        />
      </div>
      <Caution>{say('forms.mainsCaution')}</Caution>
    </FormSheet>
  );
}

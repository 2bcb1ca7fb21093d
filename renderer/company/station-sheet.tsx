import { useState } from 'react';
import type { MonthlyNormal, WeatherStation } from '../../core/weather/contract.ts';
import type { Failure } from '../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../core/units.ts';
import { Button, ErrorNote, NumberField, Sheet, TextField } from '../parts/index.ts';
import { toast } from '../state/toasts.ts';
import { useUnits } from '../state/use-settings.ts';
import { newId, write } from '../state/write.ts';
import { NormalsTable } from './normals-table.tsx';
import { placedErrors } from './placed-errors.ts';
import { say } from '../state/say.ts';

/** Saves a station; with what it was before, the save can be taken back. */
async function saveStation(
  station: WeatherStation,
  text: string,
  before: WeatherStation | null,
): Promise<Failure | null> {
  const reply = await write('station.save', { writeId: newId(), station }, { quiet: true });
  if (!reply.ok) return reply.error;
  toast(
    before === null
      ? { text }
      : { text, undo: () => void saveStation(before, say('company.asBeforeNamed', { name: before.name }), null) },
  );
  return null;
}

/** One weather station: where it is, and its twelve months. */
export function StationSheet({
  station,
  isNew,
  onClose,
}: {
  station: WeatherStation;
  isNew: boolean;
  onClose: () => void;
}) {
  const units = useUnits();
  const [draft, setDraft] = useState(station);
  const [failure, setFailure] = useState<Failure | null>(null);
  const errors = placedErrors(failure);
  const at = (path: string) => errors.at(`station.${path}`);
  const set = (change: Partial<WeatherStation>) => setDraft((old) => ({ ...old, ...change }));
  const setMonth = (month: number, change: Partial<MonthlyNormal>) =>
    setDraft((old) => ({
      ...old,
      normals: old.normals.map((normal, index) => (index === month ? { ...normal, ...change } : normal)),
    }));
  const save = async () => {
    const error = await saveStation(
      draft,
      say(isNew ? 'company.addedNamed' : 'company.savedNamed', { name: draft.name }),
      isNew ? null : station,
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  const elevation = Math.round(fromStored('length', draft.elevationFt, units));
  return (
    <Sheet
      title={isNew ? say('company.addWeatherStation') : station.name}
      isOpen
      onClose={onClose}
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? say('company.addStation') : say('company.saveStation')}
        </Button>
      }
    >
      <div className="form-grid">
        <TextField
          label={say('company.nameOf')}
          value={draft.name}
          onChange={(name) => set({ name })}
          isRequired
          autoFocus
          error={at('name')}
        />
        <NumberField
          label={say('company.latitude')}
          unit={say('company.northPlus')}
          value={draft.latitudeDeg}
          onChange={(value) => set({ latitudeDeg: value ?? draft.latitudeDeg })}
          min={-66}
          max={66}
          digits={4}
          error={at('latitudeDeg')}
        />
        <NumberField
          label={say('company.longitude')}
          unit={say('company.eastPlus')}
          value={draft.longitudeDeg}
          onChange={(value) => set({ longitudeDeg: value ?? draft.longitudeDeg })}
          min={-180}
          max={180}
          digits={4}
          error={at('longitudeDeg')}
        />
        <NumberField
          label={say('company.elevation')}
          unit={unitLabel('length', units)}
          value={elevation}
          onChange={(value) => {
            if (value !== null && value !== elevation)
              set({ elevationFt: Math.round(toStored('length', value, units)) });
          }}
          digits={0}
          error={at('elevationFt')}
        />
        <TextField
          className="full"
          label={say('company.source')}
          value={draft.source}
          onChange={(source) => set({ source })}
          error={at('source')}
          description={say('company.stationSource')}
        />
      </div>
      <h3 className="form-part">{say('company.normals')}</h3>
      <p className="field-note">{say('company.normalsWhy')}</p>
      <NormalsTable
        normals={draft.normals}
        units={units}
        onChange={setMonth}
        at={(month, field) => at(`normals.${month}.${field}`)}
      />
      {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
    </Sheet>
  );
}

import { useState } from 'react';
import type { MonthlyNormal, WeatherStation } from '../../core/contract/entities.ts';
import type { Failure } from '../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../core/units.ts';
import { Button, ErrorNote, NumberField, Sheet, TextField } from '../parts/index.ts';
import { toast } from '../state/toasts.ts';
import { useUnits } from '../state/use-settings.ts';
import { newId, write } from '../state/write.ts';
import { NormalsTable } from './normals-table.tsx';
import { placedErrors } from './placed-errors.ts';

/** Saves a station; with what it was before, the save can be taken back. */
async function saveStation(
  station: WeatherStation,
  text: string,
  before: WeatherStation | null,
): Promise<Failure | null> {
  const reply = await write('station.save', { writeId: newId(), station }, { quiet: true });
  if (!reply.ok) return reply.error;
  toast(
    before === null ? { text } : { text, undo: () => void saveStation(before, `${before.name} is as before.`, null) },
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
      isNew ? `${draft.name} added.` : `${draft.name} saved.`,
      isNew ? null : station,
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  const elevation = Math.round(fromStored('length', draft.elevationFt, units));
  return (
    <Sheet
      title={isNew ? 'Add weather station' : station.name}
      isOpen
      onClose={onClose}
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? 'Add station' : 'Save station'}
        </Button>
      }
    >
      <div className="form-grid">
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => set({ name })}
          isRequired
          autoFocus
          error={at('name')}
        />
        <NumberField
          label="Latitude"
          unit="°, north +"
          value={draft.latitudeDeg}
          onChange={(value) => set({ latitudeDeg: value ?? draft.latitudeDeg })}
          min={-66}
          max={66}
          digits={4}
          error={at('latitudeDeg')}
        />
        <NumberField
          label="Longitude"
          unit="°, east +"
          value={draft.longitudeDeg}
          onChange={(value) => set({ longitudeDeg: value ?? draft.longitudeDeg })}
          min={-180}
          max={180}
          digits={4}
          error={at('longitudeDeg')}
        />
        <NumberField
          label="Elevation"
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
          label="Source"
          value={draft.source}
          onChange={(source) => set({ source })}
          error={at('source')}
          description="Where the figures come from and which years they cover."
        />
      </div>
      <h3 className="form-part">Monthly normals</h3>
      <p className="field-note">
        Means of the day's highest and lowest temperature, and rain in the whole month. Humidity, wind and sun may stay
        empty: water need is then estimated from temperature, and says so. A block copied from a spreadsheet can be
        pasted into any cell.
      </p>
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

import { useState } from 'react';
import type { Route, Technician, Truck } from '../../core/contract/entities.ts';
import type { Failure } from '../../core/errors.ts';
import { Button, Dialog, ErrorNote, NumberField, SelectField, SwitchField, TextField } from '../parts/index.ts';
import { placedErrors } from './placed-errors.ts';
import { savePeople } from './save-people.ts';

/** One truck and the air it can give. */
export function TruckDialog({ truck, isNew, onClose }: { truck: Truck; isNew: boolean; onClose: () => void }) {
  const [draft, setDraft] = useState(truck);
  const [failure, setFailure] = useState<Failure | null>(null);
  const errors = placedErrors(failure);
  const save = async () => {
    const error = await savePeople(
      { trucks: [draft] },
      isNew ? `${draft.name} added.` : `${draft.name} saved.`,
      isNew ? null : { trucks: [truck] },
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  return (
    <Dialog
      title={isNew ? 'Add truck' : truck.name}
      isOpen
      onClose={onClose}
      size="small"
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? 'Add truck' : 'Save truck'}
        </Button>
      }
    >
      <div className="stacked-form">
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => setDraft({ ...draft, name })}
          isRequired
          autoFocus
          error={errors.at('trucks.0.name')}
        />
        <NumberField
          label="Compressor"
          unit="cfm"
          value={draft.compressorCfm}
          onChange={(compressorCfm) => setDraft({ ...draft, compressorCfm })}
          min={1}
          max={1000}
          digits={0}
          error={errors.at('trucks.0.compressorCfm')}
          description="Air flow as on its plate; empty for a truck without one."
        />
        {isNew ? null : (
          <SwitchField label="In use" value={draft.active} onChange={(active) => setDraft({ ...draft, active })} />
        )}
        {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
      </div>
    </Dialog>
  );
}

/** One route and who usually drives it. */
export function RouteDialog({
  route,
  isNew,
  technicians,
  onClose,
}: {
  route: Route;
  isNew: boolean;
  technicians: Technician[];
  onClose: () => void;
}) {
  const [draft, setDraft] = useState(route);
  const [failure, setFailure] = useState<Failure | null>(null);
  const errors = placedErrors(failure);
  const save = async () => {
    const error = await savePeople(
      { routes: [draft] },
      isNew ? `${draft.name} added.` : `${draft.name} saved.`,
      isNew ? null : { routes: [route] },
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  return (
    <Dialog
      title={isNew ? 'Add route' : route.name}
      isOpen
      onClose={onClose}
      size="small"
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? 'Add route' : 'Save route'}
        </Button>
      }
    >
      <div className="stacked-form">
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => setDraft({ ...draft, name })}
          isRequired
          autoFocus
          error={errors.at('routes.0.name')}
        />
        <SelectField
          label="Usual technician"
          value={draft.technicianId ?? ''}
          onChange={(id) => setDraft({ ...draft, technicianId: id === '' ? null : id })}
          options={[
            { id: '', label: 'Nobody in particular' },
            ...technicians
              .filter(({ active, id }) => active || id === draft.technicianId)
              .map(({ id, name }) => ({ id, label: name })),
          ]}
          error={errors.at('routes.0.technicianId')}
        />
        {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
      </div>
    </Dialog>
  );
}

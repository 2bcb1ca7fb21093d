import { useState } from 'react';
import type { Route, Technician, Truck } from '../../core/people/contract.ts';
import type { Failure } from '../../core/errors.ts';
import { Button, Dialog, ErrorNote, NumberField, SelectField, SwitchField, TextField } from '../parts/index.ts';
import { placedErrors } from './placed-errors.ts';
import { savePeople } from './save-people.ts';
import { say } from '../state/say.ts';

/** One truck and the air it can give. */
export function TruckDialog({ truck, isNew, onClose }: { truck: Truck; isNew: boolean; onClose: () => void }) {
  const [draft, setDraft] = useState(truck);
  const [failure, setFailure] = useState<Failure | null>(null);
  const errors = placedErrors(failure);
  const save = async () => {
    const error = await savePeople(
      { trucks: [draft] },
      say(isNew ? 'company.addedNamed' : 'company.savedNamed', { name: draft.name }),
      isNew ? null : { trucks: [truck] },
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  return (
    <Dialog
      title={isNew ? say('company.addTruck') : truck.name}
      isOpen
      onClose={onClose}
      size="small"
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? say('company.addTruck') : say('company.saveTruck')}
        </Button>
      }
    >
      <div className="stacked-form">
        <TextField
          label={say('company.nameOf')}
          value={draft.name}
          onChange={(name) => setDraft({ ...draft, name })}
          isRequired
          autoFocus
          error={errors.at('trucks.0.name')}
        />
        <NumberField
          label={say('company.compressor')}
          unit="cfm"
          value={draft.compressorCfm}
          onChange={(compressorCfm) => setDraft({ ...draft, compressorCfm })}
          min={1}
          max={1000}
          digits={0}
          error={errors.at('trucks.0.compressorCfm')}
          description={say('company.compressorWhy')}
        />
        {isNew ? null : (
          <SwitchField
            label={say('company.inUse')}
            value={draft.active}
            onChange={(active) => setDraft({ ...draft, active })}
          />
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
      say(isNew ? 'company.addedNamed' : 'company.savedNamed', { name: draft.name }),
      isNew ? null : { routes: [route] },
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  return (
    <Dialog
      title={isNew ? say('company.addRoute') : route.name}
      isOpen
      onClose={onClose}
      size="small"
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? say('company.addRoute') : say('company.saveRoute')}
        </Button>
      }
    >
      <div className="stacked-form">
        <TextField
          label={say('company.nameOf')}
          value={draft.name}
          onChange={(name) => setDraft({ ...draft, name })}
          isRequired
          autoFocus
          error={errors.at('routes.0.name')}
        />
        <SelectField
          label={say('company.usualTechnician')}
          value={draft.technicianId ?? ''}
          onChange={(id) => setDraft({ ...draft, technicianId: id === '' ? null : id })}
          options={[
            { id: '', label: say('company.nobodyInParticular') },
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

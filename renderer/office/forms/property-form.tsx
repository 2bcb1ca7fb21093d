import { useState } from 'react';
import { BACKFLOW_KINDS, PIPE_MATERIALS, WATER_SUPPLIES } from '../../../core/contract/entities.ts';
import type { Property } from '../../../core/contract/entities.ts';
import type { Failure } from '../../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../../core/units.ts';
import type { Quantity } from '../../../core/units.ts';
import {
  Caution,
  CheckField,
  ComboField,
  DateField,
  NumberField,
  SelectField,
  TextField,
  wordsOf,
} from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { useRequest } from '../../state/use-request.ts';
import { useSettings, useUnits } from '../../state/use-settings.ts';
import { newId, write } from '../../state/write.ts';
import { errorAt, FormSheet } from './form-sheet.tsx';

const options = (ids: readonly string[]) => ids.map((id) => ({ id, label: wordsOf(id) }));

function newProperty(clientId: string, timeZone: string, like?: Property): Property {
  return {
    id: newId(),
    clientId,
    label: '',
    street: '',
    city: like?.city ?? '',
    region: like?.region ?? '',
    postcode: like?.postcode ?? '',
    latitudeDeg: null,
    longitudeDeg: null,
    elevationFt: like?.elevationFt ?? null,
    timeZone: like?.timeZone ?? timeZone,
    routeId: like?.routeId ?? null,
    accessNotes: '',
    gateCode: '',
    dogNote: '',
    waterSupply: 'unknown',
    staticPressurePsi: null,
    pipeMaterial: 'unknown',
    backflowKind: 'unknown',
    backflowLocation: '',
    backflowSerial: '',
    backflowTestDue: null,
    shutoffLocation: '',
    restrictionId: like?.restrictionId ?? null,
    addressParity: 'auto',
    weatherStationId: like?.weatherStationId ?? null,
    servicesStartUp: true,
    servicesWinterization: true,
    archived: false,
  };
}

/** Everything about a site that is not in the ground: address, access, water, who serves it. */
export function PropertyForm({
  clientId,
  existing: given,
  like,
  onClose,
  onSaved,
}: {
  clientId: string;
  existing?: { property: Property; version: number };
  like?: Property;
  onClose: () => void;
  onSaved: (propertyId: string) => void;
}) {
  const units = useUnits();
  const settings = useSettings();
  const [existing] = useState(given);
  const [draft, setDraft] = useState<Property>(
    () => existing?.property ?? newProperty(clientId, settings?.timeZone ?? 'America/Denver', like),
  );
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const routes = useRequest('people.list', {}).data?.routes ?? [];
  const restrictions = useRequest('rules.list', {}).data?.restrictions ?? [];
  const stations = useRequest('station.list', {}).data?.stations ?? [];
  const set = (change: Partial<Property>) => setDraft((old) => ({ ...old, ...change }));
  const shown = (quantity: Quantity, value: number | null) =>
    value === null ? null : fromStored(quantity, value, units);
  const typed = (quantity: Quantity, value: number | null) =>
    value === null ? null : toStored(quantity, value, units);
  const error = (field: string) => errorAt(failure, field);
  const save = async () => {
    setSaving(true);
    const reply = await write(
      'property.save',
      { writeId: newId(), property: draft, ...(existing === undefined ? {} : { version: existing.version }) },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    toast(
      existing === undefined
        ? { text: `${draft.street} added` }
        : {
            text: `${draft.street} saved`,
            undo: () =>
              void write('property.save', {
                writeId: newId(),
                property: existing.property,
                version: reply.data.version,
              }),
          },
    );
    onSaved(reply.data.propertyId);
  };
  return (
    <FormSheet
      title={existing === undefined ? 'Add property' : `Edit ${existing.property.street}`}
      save={() => void save()}
      saveWords={existing === undefined ? 'Add property' : 'Save property'}
      saving={saving}
      failure={failure}
      onClose={onClose}
    >
      <div className="form-grid">
        <TextField
          className="full"
          label="Street and number"
          value={draft.street}
          onChange={(street) => set({ street })}
          maxLength={200}
          isRequired
          autoFocus
          error={error('street')}
        />
        <TextField
          label="City"
          value={draft.city}
          onChange={(city) => set({ city })}
          maxLength={120}
          error={error('city')}
        />
        <TextField
          label="State or region"
          value={draft.region}
          onChange={(region) => set({ region })}
          maxLength={60}
          error={error('region')}
        />
        <TextField
          label="Postcode"
          value={draft.postcode}
          onChange={(postcode) => set({ postcode })}
          maxLength={20}
          error={error('postcode')}
        />
        <TextField
          label="Name of the site"
          value={draft.label}
          onChange={(label) => set({ label })}
          maxLength={120}
          description="When a client has several: back building, clubhouse"
          error={error('label')}
        />
        <SelectField
          label="Route"
          value={draft.routeId ?? ''}
          onChange={(id) => set({ routeId: id === '' ? null : id })}
          options={[{ id: '', label: 'No route' }, ...routes.map((route) => ({ id: route.id, label: route.name }))]}
        />
      </div>
      <h3 className="form-part">Getting in</h3>
      <div className="form-grid">
        <TextField
          label="Gate code"
          value={draft.gateCode}
          onChange={(gateCode) => set({ gateCode })}
          maxLength={60}
          error={error('gateCode')}
        />
        <TextField
          label="Dog"
          value={draft.dogNote}
          onChange={(dogNote) => set({ dogNote })}
          maxLength={200}
          error={error('dogNote')}
        />
        <TextField
          className="full"
          label="Access notes"
          rows={3}
          value={draft.accessNotes}
          onChange={(accessNotes) => set({ accessNotes })}
          error={error('accessNotes')}
        />
      </div>
      <h3 className="form-part">Water</h3>
      <div className="form-grid">
        <SelectField
          label="Supply"
          value={draft.waterSupply}
          onChange={(id) => set({ waterSupply: id as Property['waterSupply'] })}
          options={options(WATER_SUPPLIES)}
        />
        <NumberField
          label="Static pressure"
          unit={unitLabel('pressure', units)}
          value={shown('pressure', draft.staticPressurePsi)}
          onChange={(value) => set({ staticPressurePsi: typed('pressure', value) })}
          digits={0}
          error={error('staticPressurePsi')}
        />
        <SelectField
          label="Pipe"
          value={draft.pipeMaterial}
          onChange={(id) => set({ pipeMaterial: id as Property['pipeMaterial'] })}
          options={options(PIPE_MATERIALS)}
        />
        <TextField
          className="full"
          label="Where the shutoff is"
          value={draft.shutoffLocation}
          onChange={(shutoffLocation) => set({ shutoffLocation })}
          maxLength={200}
          error={error('shutoffLocation')}
        />
        <SelectField
          label="Backflow assembly"
          value={draft.backflowKind}
          onChange={(id) => set({ backflowKind: id as Property['backflowKind'] })}
          options={options(BACKFLOW_KINDS)}
        />
        <TextField
          label="Where it is"
          value={draft.backflowLocation}
          onChange={(backflowLocation) => set({ backflowLocation })}
          maxLength={200}
          error={error('backflowLocation')}
        />
        <TextField
          label="Serial number"
          value={draft.backflowSerial}
          onChange={(backflowSerial) => set({ backflowSerial })}
          maxLength={80}
          error={error('backflowSerial')}
        />
        <DateField
          label="Test due by"
          value={draft.backflowTestDue}
          onChange={(backflowTestDue) => set({ backflowTestDue })}
          error={error('backflowTestDue')}
        />
      </div>
      <Caution>
        Backflow assemblies keep irrigation water out of drinking water. They are tested and repaired by licensed
        testers under your local code.
      </Caution>
      <h3 className="form-part">Place and rules</h3>
      <div className="form-grid">
        <NumberField
          label="Latitude"
          unit="°"
          value={draft.latitudeDeg}
          onChange={(latitudeDeg) => set({ latitudeDeg })}
          digits={5}
          error={error('latitudeDeg')}
        />
        <NumberField
          label="Longitude"
          unit="°"
          value={draft.longitudeDeg}
          onChange={(longitudeDeg) => set({ longitudeDeg })}
          digits={5}
          error={error('longitudeDeg')}
        />
        <NumberField
          label="Elevation"
          unit={unitLabel('length', units)}
          value={shown('length', draft.elevationFt)}
          onChange={(value) => set({ elevationFt: typed('length', value) })}
          digits={0}
          error={error('elevationFt')}
        />
        <ComboField
          label="Weather station"
          value={draft.weatherStationId ?? ''}
          onChange={(id) => set({ weatherStationId: id === '' ? null : id })}
          options={stations.map((station) => ({ id: station.id, label: station.name }))}
        />
        <SelectField
          label="Watering restriction"
          value={draft.restrictionId ?? ''}
          onChange={(id) => set({ restrictionId: id === '' ? null : id })}
          options={[{ id: '', label: 'None' }, ...restrictions.map((rule) => ({ id: rule.id, label: rule.name }))]}
        />
        <SelectField
          label="House number counts as"
          value={draft.addressParity}
          onChange={(id) => set({ addressParity: id as Property['addressParity'] })}
          options={[
            { id: 'auto', label: 'Read from the street' },
            { id: 'odd', label: 'Odd' },
            { id: 'even', label: 'Even' },
          ]}
        />
        <TextField
          label="Time zone"
          value={draft.timeZone}
          onChange={(timeZone) => set({ timeZone })}
          error={error('timeZone')}
        />
        <CheckField
          label="We start it up"
          value={draft.servicesStartUp}
          onChange={(servicesStartUp) => set({ servicesStartUp })}
        />
        <CheckField
          label="We winterize it"
          value={draft.servicesWinterization}
          onChange={(servicesWinterization) => set({ servicesWinterization })}
        />
      </div>
    </FormSheet>
  );
}

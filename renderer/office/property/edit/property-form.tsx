import { useState } from 'react';
import { BACKFLOW_KINDS, PIPE_MATERIALS, WATER_SUPPLIES } from '../../../../core/properties/contract.ts';
import type { Property } from '../../../../core/properties/contract.ts';
import {
  Caution,
  CheckField,
  ComboField,
  DateField,
  NumberField,
  SelectField,
  TextField,
  wordsOf,
} from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { useRequest } from '../../../state/use-request.ts';
import { useSettings } from '../../../state/use-settings.ts';
import { newId, write } from '../../../state/write.ts';
import { say } from '../../../state/say.ts';
import { saveProperty } from '../save-property.ts';
import { FormSheet } from './form-sheet.tsx';
import { MeasureField } from './measure-field.tsx';
import { useDraft } from './use-draft.ts';
import type { Draft } from './use-draft.ts';

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
  const settings = useSettings();
  const [existing] = useState(given);
  const { fields, failure, saving, answered } = useDraft<Property>(
    () => existing?.property ?? newProperty(clientId, settings?.timeZone ?? 'America/Denver', like),
  );
  const { draft } = fields;
  const save = async () => {
    const saved = await answered(
      existing === undefined
        ? write('property.save', { writeId: newId(), property: draft }, { quiet: true })
        : saveProperty(existing, { property: draft }, existing.version, { quiet: true }),
    );
    if (saved === null) return;
    toast(
      existing === undefined
        ? { text: say('forms.added', { name: draft.street }) }
        : {
            text: say('forms.saved', { name: draft.street }),
            undo: () => void saveProperty({ property: draft }, { property: existing.property }, saved.version),
          },
    );
    onSaved(saved.propertyId);
  };
  return (
    <FormSheet
      title={
        existing === undefined ? say('property.addProperty') : say('forms.edit', { name: existing.property.street })
      }
      save={() => void save()}
      saveWords={existing === undefined ? say('property.addProperty') : say('forms.saveProperty')}
      saving={saving}
      failure={failure}
      onClose={onClose}
    >
      <AddressFields {...fields} />
      <AccessFields {...fields} />
      <WaterFields {...fields} />
      <PlaceAndRulesFields {...fields} />
    </FormSheet>
  );
}

/** Where the site is, what it is called, and on whose route. */
function AddressFields({ draft, set, error }: Draft<Property>) {
  const routes = useRequest('people.list', {}).data?.routes ?? [];
  return (
    <div className="form-grid">
      <TextField
        className="full"
        label={say('forms.street')}
        value={draft.street}
        onChange={(street) => set({ street })}
        maxLength={200}
        isRequired
        autoFocus
        error={error('street')}
      />
      <TextField
        label={say('forms.city')}
        value={draft.city}
        onChange={(city) => set({ city })}
        maxLength={120}
        error={error('city')}
      />
      <TextField
        label={say('forms.region')}
        value={draft.region}
        onChange={(region) => set({ region })}
        maxLength={60}
        error={error('region')}
      />
      <TextField
        label={say('forms.postcode')}
        value={draft.postcode}
        onChange={(postcode) => set({ postcode })}
        maxLength={20}
        error={error('postcode')}
      />
      <TextField
        label={say('forms.siteName')}
        value={draft.label}
        onChange={(label) => set({ label })}
        maxLength={120}
        description={say('forms.siteNameWhy')}
        error={error('label')}
      />
      <SelectField
        label={say('office.route')}
        value={draft.routeId ?? ''}
        onChange={(id) => set({ routeId: id === '' ? null : id })}
        options={[
          { id: '', label: say('forms.noRoute') },
          ...routes.map((route) => ({ id: route.id, label: route.name })),
        ]}
      />
    </div>
  );
}

/** How a technician gets in. */
function AccessFields({ draft, set, error }: Draft<Property>) {
  return (
    <>
      <h3 className="form-part">{say('forms.gettingIn')}</h3>
      <div className="form-grid">
        <TextField
          label={say('property.gateCode')}
          value={draft.gateCode}
          onChange={(gateCode) => set({ gateCode })}
          maxLength={60}
          error={error('gateCode')}
        />
        <TextField
          label={say('property.dog')}
          value={draft.dogNote}
          onChange={(dogNote) => set({ dogNote })}
          maxLength={200}
          error={error('dogNote')}
        />
        <TextField
          className="full"
          label={say('forms.accessNotes')}
          rows={3}
          value={draft.accessNotes}
          onChange={(accessNotes) => set({ accessNotes })}
          error={error('accessNotes')}
        />
      </div>
    </>
  );
}

/** The water up to the valves, and the backflow assembly that keeps it apart. */
function WaterFields({ draft, set, error }: Draft<Property>) {
  return (
    <>
      <h3 className="form-part">{say('forms.water')}</h3>
      <div className="form-grid">
        <SelectField
          label={say('forms.supply')}
          value={draft.waterSupply}
          onChange={(id) => set({ waterSupply: id as Property['waterSupply'] })}
          options={options(WATER_SUPPLIES)}
        />
        <MeasureField
          label={say('forms.staticPressure')}
          quantity="pressure"
          value={draft.staticPressurePsi}
          onChange={(staticPressurePsi) => set({ staticPressurePsi })}
          digits={0}
          error={error('staticPressurePsi')}
        />
        <SelectField
          label={say('property.pipe')}
          value={draft.pipeMaterial}
          onChange={(id) => set({ pipeMaterial: id as Property['pipeMaterial'] })}
          options={options(PIPE_MATERIALS)}
        />
        <TextField
          className="full"
          label={say('forms.shutoffWhere')}
          value={draft.shutoffLocation}
          onChange={(shutoffLocation) => set({ shutoffLocation })}
          maxLength={200}
          error={error('shutoffLocation')}
        />
        <SelectField
          label={say('forms.backflowAssembly')}
          value={draft.backflowKind}
          onChange={(id) => set({ backflowKind: id as Property['backflowKind'] })}
          options={options(BACKFLOW_KINDS)}
        />
        <TextField
          label={say('forms.whereItIs')}
          value={draft.backflowLocation}
          onChange={(backflowLocation) => set({ backflowLocation })}
          maxLength={200}
          error={error('backflowLocation')}
        />
        <TextField
          label={say('forms.serialNumber')}
          value={draft.backflowSerial}
          onChange={(backflowSerial) => set({ backflowSerial })}
          maxLength={80}
          error={error('backflowSerial')}
        />
        <DateField
          label={say('forms.testDueBy')}
          value={draft.backflowTestDue}
          onChange={(backflowTestDue) => set({ backflowTestDue })}
          error={error('backflowTestDue')}
        />
      </div>
      <Caution>{say('forms.backflowCaution')}</Caution>
    </>
  );
}

/** What its weather and its watering rules follow from, and which services it takes. */
function PlaceAndRulesFields({ draft, set, error }: Draft<Property>) {
  const restrictions = useRequest('rules.list', {}).data?.restrictions ?? [];
  const stations = useRequest('station.list', {}).data?.stations ?? [];
  return (
    <>
      <h3 className="form-part">{say('forms.placeAndRules')}</h3>
      <div className="form-grid">
        <NumberField
          label={say('forms.latitude')}
          unit="°"
          value={draft.latitudeDeg}
          onChange={(latitudeDeg) => set({ latitudeDeg })}
          digits={5}
          error={error('latitudeDeg')}
        />
        <NumberField
          label={say('forms.longitude')}
          unit="°"
          value={draft.longitudeDeg}
          onChange={(longitudeDeg) => set({ longitudeDeg })}
          digits={5}
          error={error('longitudeDeg')}
        />
        <MeasureField
          label={say('forms.elevation')}
          quantity="length"
          value={draft.elevationFt}
          onChange={(elevationFt) => set({ elevationFt })}
          digits={0}
          error={error('elevationFt')}
        />
        <ComboField
          label={say('forms.weatherStation')}
          value={draft.weatherStationId ?? ''}
          onChange={(id) => set({ weatherStationId: id === '' ? null : id })}
          options={stations.map((station) => ({ id: station.id, label: station.name }))}
        />
        <SelectField
          label={say('forms.wateringRestriction')}
          value={draft.restrictionId ?? ''}
          onChange={(id) => set({ restrictionId: id === '' ? null : id })}
          options={[
            { id: '', label: say('forms.noRestriction') },
            ...restrictions.map((rule) => ({ id: rule.id, label: rule.name })),
          ]}
        />
        <SelectField
          label={say('forms.parity')}
          value={draft.addressParity}
          onChange={(id) => set({ addressParity: id as Property['addressParity'] })}
          options={[
            { id: 'auto', label: say('forms.parityAuto') },
            { id: 'odd', label: wordsOf('odd') },
            { id: 'even', label: wordsOf('even') },
          ]}
        />
        <TextField
          label={say('forms.timeZone')}
          value={draft.timeZone}
          onChange={(timeZone) => set({ timeZone })}
          error={error('timeZone')}
        />
        <CheckField
          label={say('forms.weStartUp')}
          value={draft.servicesStartUp}
          onChange={(servicesStartUp) => set({ servicesStartUp })}
        />
        <CheckField
          label={say('forms.weWinterize')}
          value={draft.servicesWinterization}
          onChange={(servicesWinterization) => set({ servicesWinterization })}
        />
      </div>
    </>
  );
}

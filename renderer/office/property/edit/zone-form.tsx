import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS, SOILS, SUN_EXPOSURES } from '../../../../core/agronomy/contract.ts';
import { PR_METHODS } from '../../../../core/properties/contract.ts';
import type { KnownHow } from '../../../../core/contract/parts.ts';
import type { Zone } from '../../../../core/properties/contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../../../core/units.ts';
import type { Quantity } from '../../../../core/units.ts';
import { Button, CheckField, NumberField, SelectField, TextField, wordsOf } from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { useUnits } from '../../../state/use-settings.ts';
import { newId } from '../../../state/write.ts';
import { say, texts } from '../../../state/say.ts';
import type { OpenProperty } from '../use-property-editor.ts';
import { saveProperty } from '../save-property.ts';
import { errorAt, FormSheet } from './form-sheet.tsx';

const options = (ids: readonly string[]) => ids.map((id) => ({ id, label: wordsOf(id) }));
const KNOWN_WORDS: Readonly<Record<KnownHow, string>> = texts({
  measured: 'forms.known.measured',
  chart: 'forms.known.chart',
  guess: 'forms.known.guess',
});
const knownOptions = () => (['measured', 'chart', 'guess'] as const).map((id) => ({ id, label: KNOWN_WORDS[id] }));
const PR_WORDS: Readonly<Record<Zone['prMethod'], string>> = texts({
  'catch-can': 'forms.pr.catch-can',
  'flow-area': 'forms.pr.flow-area',
  spacing: 'forms.pr.spacing',
  drip: 'forms.pr.drip',
  table: 'forms.pr.table',
});

function newZone(propertyId: string, controllerId: string, zones: readonly Zone[]): Zone {
  const used = new Set(
    zones.filter((zone) => zone.controllerId === controllerId && !zone.retired).map((zone) => zone.station),
  );
  let station = 1;
  while (used.has(station)) station += 1;
  return {
    id: newId(),
    propertyId,
    controllerId,
    station,
    name: '',
    plantKind: 'cool-turf',
    plantFactor: null,
    emissionDevice: 'pop-up-spray',
    flowGpm: null,
    flowKnown: 'guess',
    areaFt2: null,
    areaKnown: 'guess',
    prMethod: 'table',
    prInputs: {},
    precipitationRateInPerHour: null,
    distributionUniformity: null,
    soil: 'loam',
    soilKnown: 'guess',
    slopePercent: 0,
    sunExposure: 'full-sun',
    rootDepthInches: null,
    betweenHouses: false,
    retired: false,
  };
}

/** Every figure of a zone, for what the table does not show. */
export function ZoneForm({
  data: given,
  zone,
  zones,
  controllerId,
  onClose,
}: {
  data: OpenProperty;
  zone: Zone | null;
  zones: readonly Zone[];
  controllerId: string;
  onClose: () => void;
}) {
  const units = useUnits();
  const [data] = useState(given);
  const [draft, setDraft] = useState<Zone>(() => zone ?? newZone(data.property.id, controllerId, zones));
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const set = (change: Partial<Zone>) => setDraft((old) => ({ ...old, ...change }));
  const measured = (
    label: string,
    quantity: Quantity,
    value: number | null | undefined,
    put: (value: number | null) => void,
    field: string,
  ) => (
    <NumberField
      label={label}
      unit={unitLabel(quantity, units)}
      value={value === null || value === undefined ? null : fromStored(quantity, value, units)}
      onChange={(next) => put(next === null ? null : toStored(quantity, next, units))}
      error={errorAt(failure, field)}
    />
  );
  const setPr = (key: keyof Zone['prInputs']) => (value: number | null) => {
    const { [key]: _old, ...rest } = draft.prInputs;
    set({ prInputs: value === null ? rest : { ...rest, [key]: value } });
  };
  const prInput = (label: string, quantity: Quantity, key: keyof Zone['prInputs']) =>
    measured(label, quantity, draft.prInputs[key], setPr(key), key);
  const save = async (retired: boolean) => {
    setSaving(true);
    const { property, version } = data;
    const shown = { property, zones: zone === null ? [] : [zone] };
    const says = { property, zones: [{ ...draft, retired }] };
    const reply = await saveProperty(shown, says, version, { quiet: true });
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const back = zone ?? { ...draft, retired: true };
    toast({
      text:
        zone === null
          ? say('forms.zoneAdded', { station: draft.station })
          : retired
            ? say('forms.zoneRetired', { station: draft.station })
            : say('forms.zoneSaved', { station: draft.station }),
      undo: () => void saveProperty(says, { property, zones: [back] }, reply.data.version),
    });
    onClose();
  };
  return (
    <FormSheet
      title={zone === null ? say('property.zones.add') : say('forms.zone', { station: zone.station, zone: zone.name })}
      save={() => void save(false)}
      saveWords={zone === null ? say('property.zones.add') : say('forms.saveZone')}
      saving={saving}
      failure={failure}
      onClose={onClose}
      action={zone === null ? undefined : <RetireButton onPress={() => void save(true)} />}
    >
      <div className="form-grid">
        <NumberField
          label={say('forms.station')}
          value={draft.station}
          min={1}
          max={99}
          digits={0}
          onChange={(station) => set({ station: station ?? 1 })}
          error={errorAt(failure, 'station')}
          isRequired
        />
        <TextField
          label={say('forms.name')}
          value={draft.name}
          onChange={(name) => set({ name })}
          maxLength={120}
          isRequired
          autoFocus
          error={errorAt(failure, 'name')}
          description={say('forms.zoneNameWhy')}
        />
        <SelectField
          label={say('property.zones.plants')}
          value={draft.plantKind}
          onChange={(id) => set({ plantKind: id as Zone['plantKind'] })}
          options={options(PLANT_KINDS)}
        />
        <NumberField
          label={say('forms.plantFactor')}
          unit="× ETo"
          value={draft.plantFactor}
          onChange={(plantFactor) => set({ plantFactor })}
          error={errorAt(failure, 'plantFactor')}
          description={say('forms.plantFactorWhy')}
        />
        <SelectField
          label={say('property.zones.sun')}
          value={draft.sunExposure}
          onChange={(id) => set({ sunExposure: id as Zone['sunExposure'] })}
          options={options(SUN_EXPOSURES)}
        />
        <CheckField
          label={say('property.zones.betweenHouses')}
          value={draft.betweenHouses}
          onChange={(betweenHouses) => set({ betweenHouses })}
          description={say('forms.betweenHousesWhy')}
        />
      </div>
      <h3 className="form-part">{say('forms.water')}</h3>
      <div className="form-grid">
        <SelectField
          label={say('property.zones.heads')}
          value={draft.emissionDevice}
          onChange={(id) => set({ emissionDevice: id as Zone['emissionDevice'] })}
          options={options(EMISSION_DEVICES)}
        />
        {measured(say('property.zones.flow'), 'flow', draft.flowGpm, (flowGpm) => set({ flowGpm }), 'flowGpm')}
        <SelectField
          label={say('forms.flowIs')}
          value={draft.flowKnown}
          onChange={(id) => set({ flowKnown: id as KnownHow })}
          options={knownOptions()}
        />
        {measured(say('property.zones.area'), 'area', draft.areaFt2, (areaFt2) => set({ areaFt2 }), 'areaFt2')}
        <SelectField
          label={say('forms.areaIs')}
          value={draft.areaKnown}
          onChange={(id) => set({ areaKnown: id as KnownHow })}
          options={knownOptions()}
        />
        <SelectField
          label={say('forms.rateFrom')}
          value={draft.prMethod}
          onChange={(id) => set({ prMethod: id as Zone['prMethod'] })}
          options={PR_METHODS.map((id) => ({ id, label: PR_WORDS[id] }))}
        />
        {draft.prMethod === 'spacing' ? (
          <>
            {prInput(say('forms.headFlow'), 'flow', 'headGpm')}
            {prInput(say('forms.headSpacing'), 'length', 'headSpacingFt')}
            {prInput(say('forms.rowSpacing'), 'length', 'rowSpacingFt')}
          </>
        ) : null}
        {draft.prMethod === 'drip' ? (
          <>
            {prInput(say('forms.emitterFlow'), 'emitterFlow', 'emitterGph')}
            {prInput(say('forms.emitterSpacing'), 'length', 'emitterSpacingFt')}
            {prInput(say('forms.rowSpacing'), 'length', 'rowSpacingFt')}
          </>
        ) : null}
        {measured(
          say('forms.precipitationRate'),
          'rate',
          draft.precipitationRateInPerHour,
          (precipitationRateInPerHour) => set({ precipitationRateInPerHour }),
          'precipitationRateInPerHour',
        )}
        <NumberField
          label={say('forms.uniformity')}
          unit="%"
          value={draft.distributionUniformity === null ? null : draft.distributionUniformity * 100}
          digits={0}
          onChange={(value) => set({ distributionUniformity: value === null ? null : value / 100 })}
          error={errorAt(failure, 'distributionUniformity')}
          description={say('forms.uniformityWhy')}
        />
      </div>
      <h3 className="form-part">{say('forms.ground')}</h3>
      <div className="form-grid">
        <SelectField
          label={say('property.zones.soil')}
          value={draft.soil}
          onChange={(id) => set({ soil: id as Zone['soil'] })}
          options={options(SOILS)}
        />
        <SelectField
          label={say('forms.soilIs')}
          value={draft.soilKnown}
          onChange={(id) => set({ soilKnown: id as KnownHow })}
          options={knownOptions()}
        />
        <NumberField
          label={say('property.zones.slope')}
          unit="%"
          value={draft.slopePercent}
          min={0}
          max={100}
          digits={1}
          onChange={(slopePercent) => set({ slopePercent: slopePercent ?? 0 })}
          error={errorAt(failure, 'slopePercent')}
        />
        {measured(
          say('forms.rootDepth'),
          'depth',
          draft.rootDepthInches,
          (rootDepthInches) => set({ rootDepthInches }),
          'rootDepthInches',
        )}
      </div>
    </FormSheet>
  );
}

function RetireButton({ onPress }: { onPress: () => void }) {
  return (
    <Button look="danger" className="start" onPress={onPress}>
      {say('forms.retireZone')}
    </Button>
  );
}

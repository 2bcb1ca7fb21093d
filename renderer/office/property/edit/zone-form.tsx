import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS, SOILS, SUN_EXPOSURES } from '../../../../core/agronomy/contract.ts';
import { PR_METHODS } from '../../../../core/properties/contract.ts';
import type { KnownHow } from '../../../../core/contract/parts.ts';
import type { Zone } from '../../../../core/properties/contract.ts';
import type { Quantity } from '../../../../core/units.ts';
import { Button, CheckField, NumberField, SelectField, TextField, wordsOf } from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { newId } from '../../../state/write.ts';
import { say, texts } from '../../../state/say.ts';
import type { OpenProperty } from '../use-property-editor.ts';
import { saveProperty } from '../save-property.ts';
import { FormSheet } from './form-sheet.tsx';
import { MeasureField } from './measure-field.tsx';
import { useDraft } from './use-draft.ts';
import type { Draft } from './use-draft.ts';

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
  const [data] = useState(given);
  const { fields, failure, saving, answered } = useDraft<Zone>(
    () => zone ?? newZone(data.property.id, controllerId, zones),
  );
  const { draft } = fields;
  const save = async (retired: boolean) => {
    const { property, version } = data;
    const shown = { property, zones: zone === null ? [] : [zone] };
    const says = { property, zones: [{ ...draft, retired }] };
    const saved = await answered(saveProperty(shown, says, version, { quiet: true }));
    if (saved === null) return;
    const back = zone ?? { ...draft, retired: true };
    toast({
      text:
        zone === null
          ? say('forms.zoneAdded', { station: draft.station })
          : retired
            ? say('forms.zoneRetired', { station: draft.station })
            : say('forms.zoneSaved', { station: draft.station }),
      undo: () => void saveProperty(says, { property, zones: [back] }, saved.version),
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
      <StationAndPlantFields {...fields} />
      <WaterFields {...fields} />
      <GroundFields {...fields} />
    </FormSheet>
  );
}

/** Which station it is, what grows there, and in what sun. */
function StationAndPlantFields({ draft, set, error }: Draft<Zone>) {
  return (
    <div className="form-grid">
      <NumberField
        label={say('forms.station')}
        value={draft.station}
        min={1}
        max={99}
        digits={0}
        onChange={(station) => set({ station: station ?? 1 })}
        error={error('station')}
        isRequired
      />
      <TextField
        label={say('forms.name')}
        value={draft.name}
        onChange={(name) => set({ name })}
        maxLength={120}
        isRequired
        autoFocus
        error={error('name')}
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
        error={error('plantFactor')}
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
  );
}

/** What waters it: heads, flow, area, and the precipitation rate that follows from them. */
function WaterFields(form: Draft<Zone>) {
  const { draft, set, error } = form;
  return (
    <>
      <h3 className="form-part">{say('forms.water')}</h3>
      <div className="form-grid">
        <SelectField
          label={say('property.zones.heads')}
          value={draft.emissionDevice}
          onChange={(id) => set({ emissionDevice: id as Zone['emissionDevice'] })}
          options={options(EMISSION_DEVICES)}
        />
        <MeasureField
          label={say('property.zones.flow')}
          quantity="flow"
          value={draft.flowGpm}
          onChange={(flowGpm) => set({ flowGpm })}
          error={error('flowGpm')}
        />
        <SelectField
          label={say('forms.flowIs')}
          value={draft.flowKnown}
          onChange={(id) => set({ flowKnown: id as KnownHow })}
          options={knownOptions()}
        />
        <MeasureField
          label={say('property.zones.area')}
          quantity="area"
          value={draft.areaFt2}
          onChange={(areaFt2) => set({ areaFt2 })}
          error={error('areaFt2')}
        />
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
        <RateFields {...form} />
        <MeasureField
          label={say('forms.precipitationRate')}
          quantity="rate"
          value={draft.precipitationRateInPerHour}
          onChange={(precipitationRateInPerHour) => set({ precipitationRateInPerHour })}
          error={error('precipitationRateInPerHour')}
        />
        <NumberField
          label={say('forms.uniformity')}
          unit="%"
          value={draft.distributionUniformity === null ? null : draft.distributionUniformity * 100}
          digits={0}
          onChange={(value) => set({ distributionUniformity: value === null ? null : value / 100 })}
          error={error('distributionUniformity')}
          description={say('forms.uniformityWhy')}
        />
      </div>
    </>
  );
}

/** What the way of knowing the precipitation rate asks for. */
function RateFields(form: Draft<Zone>) {
  const { prMethod } = form.draft;
  if (prMethod === 'spacing')
    return (
      <>
        <RateField {...form} label={say('forms.headFlow')} quantity="flow" input="headGpm" />
        <RateField {...form} label={say('forms.headSpacing')} quantity="length" input="headSpacingFt" />
        <RateField {...form} label={say('forms.rowSpacing')} quantity="length" input="rowSpacingFt" />
      </>
    );
  if (prMethod === 'drip')
    return (
      <>
        <RateField {...form} label={say('forms.emitterFlow')} quantity="emitterFlow" input="emitterGph" />
        <RateField {...form} label={say('forms.emitterSpacing')} quantity="length" input="emitterSpacingFt" />
        <RateField {...form} label={say('forms.rowSpacing')} quantity="length" input="rowSpacingFt" />
      </>
    );
  return null;
}

function RateField({
  draft,
  set,
  error,
  label,
  quantity,
  input,
}: Draft<Zone> & { label: string; quantity: Quantity; input: keyof Zone['prInputs'] }) {
  const { [input]: value, ...rest } = draft.prInputs;
  return (
    <MeasureField
      label={label}
      quantity={quantity}
      value={value ?? null}
      onChange={(next) => set({ prInputs: next === null ? rest : { ...rest, [input]: next } })}
      error={error(input)}
    />
  );
}

/** The soil under it. */
function GroundFields({ draft, set, error }: Draft<Zone>) {
  return (
    <>
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
          error={error('slopePercent')}
        />
        <MeasureField
          label={say('forms.rootDepth')}
          quantity="depth"
          value={draft.rootDepthInches}
          onChange={(rootDepthInches) => set({ rootDepthInches })}
          error={error('rootDepthInches')}
        />
      </div>
    </>
  );
}

function RetireButton({ onPress }: { onPress: () => void }) {
  return (
    <Button look="danger" className="start" onPress={onPress}>
      {say('forms.retireZone')}
    </Button>
  );
}

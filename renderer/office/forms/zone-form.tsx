import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS, PR_METHODS, SOILS, SUN_EXPOSURES } from '../../../core/contract/entities.ts';
import type { KnownHow, Zone } from '../../../core/contract/entities.ts';
import type { Failure } from '../../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../../core/units.ts';
import type { Quantity } from '../../../core/units.ts';
import { Button, CheckField, NumberField, SelectField, TextField, wordsOf } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { useUnits } from '../../state/use-settings.ts';
import { newId, write } from '../../state/write.ts';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { errorAt, FormSheet } from './form-sheet.tsx';

const options = (ids: readonly string[]) => ids.map((id) => ({ id, label: wordsOf(id) }));
const KNOWN = [
  { id: 'measured', label: 'Measured' },
  { id: 'chart', label: 'From a chart' },
  { id: 'guess', label: 'A guess' },
] satisfies Array<{ id: KnownHow; label: string }>;
const PR_WORDS: Record<Zone['prMethod'], string> = {
  'catch-can': 'Catch cans',
  'flow-area': 'Flow and area',
  spacing: 'Head flow and spacing',
  drip: 'Drip emitters and spacing',
  table: 'Usual for the device',
};

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
  const save = async (retired: boolean) => {
    setSaving(true);
    const reply = await write(
      'property.save',
      { writeId: newId(), property: data.property, version: data.version, zones: [{ ...draft, retired }] },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const back = zone ?? { ...draft, retired: true };
    toast({
      text:
        zone === null
          ? `Zone ${draft.station} added`
          : retired
            ? `Zone ${draft.station} retired; its history stays`
            : `Zone ${draft.station} saved`,
      undo: () =>
        void write('property.save', {
          writeId: newId(),
          property: data.property,
          version: reply.data.version,
          zones: [back],
        }),
    });
    onClose();
  };
  return (
    <FormSheet
      title={zone === null ? 'Add zone' : `Zone ${zone.station}, ${zone.name}`}
      save={() => void save(false)}
      saveWords={zone === null ? 'Add zone' : 'Save zone'}
      saving={saving}
      failure={failure}
      onClose={onClose}
      action={zone === null ? undefined : <RetireButton onPress={() => void save(true)} />}
    >
      <div className="form-grid">
        <NumberField
          label="Station"
          value={draft.station}
          min={1}
          max={99}
          digits={0}
          onChange={(station) => set({ station: station ?? 1 })}
          error={errorAt(failure, 'station')}
          isRequired
        />
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => set({ name })}
          maxLength={120}
          isRequired
          autoFocus
          error={errorAt(failure, 'name')}
          description="Where it is: front lawn, north bed"
        />
        <SelectField
          label="Plants"
          value={draft.plantKind}
          onChange={(id) => set({ plantKind: id as Zone['plantKind'] })}
          options={options(PLANT_KINDS)}
        />
        <NumberField
          label="Plant factor"
          unit="× ETo"
          value={draft.plantFactor}
          onChange={(plantFactor) => set({ plantFactor })}
          error={errorAt(failure, 'plantFactor')}
          description="Empty: the table's"
        />
        <SelectField
          label="Sun"
          value={draft.sunExposure}
          onChange={(id) => set({ sunExposure: id as Zone['sunExposure'] })}
          options={options(SUN_EXPOSURES)}
        />
        <CheckField
          label="Between houses"
          value={draft.betweenHouses}
          onChange={(betweenHouses) => set({ betweenHouses })}
          description="Neighbors water this strip too"
        />
      </div>
      <h3 className="form-part">Water</h3>
      <div className="form-grid">
        <SelectField
          label="Heads or drip"
          value={draft.emissionDevice}
          onChange={(id) => set({ emissionDevice: id as Zone['emissionDevice'] })}
          options={options(EMISSION_DEVICES)}
        />
        {measured('Flow', 'flow', draft.flowGpm, (flowGpm) => set({ flowGpm }), 'flowGpm')}
        <SelectField
          label="Flow is"
          value={draft.flowKnown}
          onChange={(id) => set({ flowKnown: id as KnownHow })}
          options={KNOWN}
        />
        {measured('Area', 'area', draft.areaFt2, (areaFt2) => set({ areaFt2 }), 'areaFt2')}
        <SelectField
          label="Area is"
          value={draft.areaKnown}
          onChange={(id) => set({ areaKnown: id as KnownHow })}
          options={KNOWN}
        />
        <SelectField
          label="Rate worked out from"
          value={draft.prMethod}
          onChange={(id) => set({ prMethod: id as Zone['prMethod'] })}
          options={PR_METHODS.map((id) => ({ id, label: PR_WORDS[id] }))}
        />
        {draft.prMethod === 'spacing' ? (
          <>
            {measured('Flow of one head', 'flow', draft.prInputs.headGpm, setPr('headGpm'), 'headGpm')}
            {measured('Head spacing', 'length', draft.prInputs.headSpacingFt, setPr('headSpacingFt'), 'headSpacingFt')}
            {measured('Row spacing', 'length', draft.prInputs.rowSpacingFt, setPr('rowSpacingFt'), 'rowSpacingFt')}
          </>
        ) : null}
        {draft.prMethod === 'drip' ? (
          <>
            {measured(
              'Flow of one emitter',
              'emitterFlow',
              draft.prInputs.emitterGph,
              setPr('emitterGph'),
              'emitterGph',
            )}
            {measured(
              'Emitter spacing',
              'length',
              draft.prInputs.emitterSpacingFt,
              setPr('emitterSpacingFt'),
              'emitterSpacingFt',
            )}
            {measured('Row spacing', 'length', draft.prInputs.rowSpacingFt, setPr('rowSpacingFt'), 'rowSpacingFt')}
          </>
        ) : null}
        {measured(
          'Precipitation rate',
          'rate',
          draft.precipitationRateInPerHour,
          (precipitationRateInPerHour) => set({ precipitationRateInPerHour }),
          'precipitationRateInPerHour',
        )}
        <NumberField
          label="Uniformity (low quarter)"
          unit="%"
          value={draft.distributionUniformity === null ? null : draft.distributionUniformity * 100}
          digits={0}
          onChange={(value) => set({ distributionUniformity: value === null ? null : value / 100 })}
          error={errorAt(failure, 'distributionUniformity')}
          description="Empty: usual for the device"
        />
      </div>
      <h3 className="form-part">Ground</h3>
      <div className="form-grid">
        <SelectField
          label="Soil"
          value={draft.soil}
          onChange={(id) => set({ soil: id as Zone['soil'] })}
          options={options(SOILS)}
        />
        <SelectField
          label="Soil is"
          value={draft.soilKnown}
          onChange={(id) => set({ soilKnown: id as KnownHow })}
          options={KNOWN}
        />
        <NumberField
          label="Slope"
          unit="%"
          value={draft.slopePercent}
          min={0}
          max={100}
          digits={1}
          onChange={(slopePercent) => set({ slopePercent: slopePercent ?? 0 })}
          error={errorAt(failure, 'slopePercent')}
        />
        {measured(
          'Root depth',
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
      Retire zone
    </Button>
  );
}

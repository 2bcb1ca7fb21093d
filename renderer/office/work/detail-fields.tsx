import type { LedgerDetailInput } from '../../../core/contract/ledger-entries.ts';
import type { Failure } from '../../../core/errors.ts';
import { fromStored, toStored, unitLabel } from '../../../core/units.ts';
import type { Quantity } from '../../../core/units.ts';
import { Caution, CheckField, DateField, NumberField, SelectField, TextField, wordsOf } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import { errorAt } from '../forms/form-sheet.tsx';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { RunTimeFields } from './run-time-fields.tsx';

type Of<K extends LedgerDetailInput['kind']> = Extract<LedgerDetailInput, { kind: K }>;
interface Props<D extends LedgerDetailInput> {
  detail: D;
  data: OpenProperty;
  failure: Failure | null;
  onChange: (detail: LedgerDetailInput) => void;
}
const RESULTS = [
  { id: 'pass', label: 'Passed' },
  { id: 'fail', label: 'Failed' },
  { id: 'not-tested', label: 'Not tested' },
];

/** The facts of one ledger entry, by its kind. */
export function DetailFields(props: Props<LedgerDetailInput>) {
  const { detail } = props;
  switch (detail.kind) {
    case 'battery-swap':
      return <BatterySwap {...props} detail={detail} />;
    case 'sensor-check':
      return <SensorCheck {...props} detail={detail} />;
    case 'run-time-change':
      return <RunTimeFields {...props} detail={detail} />;
    case 'start-up':
      return <StartUp {...props} detail={detail} />;
    case 'winterization':
      return <Winterization {...props} detail={detail} />;
    case 'backflow-test':
      return <BackflowTest {...props} detail={detail} />;
    case 'zone-audit':
      return <Audit {...props} detail={detail} />;
    default:
      return <Plain {...props} detail={detail} />;
  }
}

function sensorOptions(data: OpenProperty, wirelessOnly: boolean) {
  return data.sensors
    .filter((sensor) => !sensor.retired && (!wirelessOnly || sensor.link === 'wireless'))
    .map((sensor) => ({
      id: sensor.id,
      label: [wordsOf(sensor.senses), sensor.location].filter((part) => part !== '').join(', '),
    }));
}
function zoneOptions(data: OpenProperty) {
  return data.zones
    .filter((zone) => !zone.retired)
    .sort((a, b) => a.station - b.station)
    .map((zone) => ({ id: zone.id, label: `${zone.station} ${zone.name}` }));
}

function Measured({
  label,
  quantity,
  value,
  onChange,
  failure,
  field,
  description,
}: {
  label: string;
  quantity: Quantity;
  value: number | null;
  onChange: (value: number | null) => void;
  failure: Failure | null;
  field: string;
  description?: string;
}) {
  const units = useUnits();
  return (
    <NumberField
      label={label}
      unit={unitLabel(quantity, units)}
      value={value === null ? null : fromStored(quantity, value, units)}
      onChange={(next) => onChange(next === null ? null : toStored(quantity, next, units))}
      error={errorAt(failure, field)}
      description={description}
    />
  );
}

function BatterySwap({ detail, data, failure, onChange }: Props<Of<'battery-swap'>>) {
  return (
    <div className="form-grid">
      <SelectField
        className="full"
        label="Sensor"
        value={detail.sensorId}
        onChange={(sensorId) => onChange({ ...detail, sensorId })}
        options={sensorOptions(data, true)}
        error={errorAt(failure, 'sensorId')}
      />
      <TextField
        label="New battery"
        value={detail.batteryType ?? ''}
        onChange={(batteryType) => onChange({ ...detail, batteryType })}
        maxLength={40}
        error={errorAt(failure, 'batteryType')}
      />
      <NumberField
        label="Cells"
        value={detail.cells ?? 1}
        min={1}
        max={8}
        digits={0}
        onChange={(cells) => onChange({ ...detail, cells: cells ?? 1 })}
        error={errorAt(failure, 'cells')}
      />
      <SelectField
        label="Old battery was"
        value={detail.oldBatteryState ?? 'unknown'}
        onChange={(id) => onChange({ ...detail, oldBatteryState: id as Of<'battery-swap'>['oldBatteryState'] })}
        options={[
          { id: 'working', label: 'Still working' },
          { id: 'low', label: 'Low' },
          { id: 'dead', label: 'Dead' },
          { id: 'unknown', label: 'Not known' },
        ]}
        description="Tells how long batteries really last"
      />
    </div>
  );
}

function SensorCheck({ detail, data, failure, onChange }: Props<Of<'sensor-check'>>) {
  const sensor = data.sensors.find((item) => item.id === detail.sensorId);
  const result = (label: string, key: 'rainTrip' | 'freezeTrip') => (
    <SelectField
      label={label}
      value={detail[key] ?? 'not-tested'}
      onChange={(id) => onChange({ ...detail, [key]: id })}
      options={RESULTS}
    />
  );
  return (
    <div className="form-grid">
      <SelectField
        className="full"
        label="Sensor"
        value={detail.sensorId}
        onChange={(sensorId) => onChange({ ...detail, sensorId })}
        options={sensorOptions(data, false)}
        error={errorAt(failure, 'sensorId')}
      />
      {sensor?.senses === 'freeze' ? null : result('Rain trip', 'rainTrip')}
      {sensor?.senses === 'rain' ? null : result('Freeze trip', 'freezeTrip')}
      {sensor?.link === 'wired' ? null : (
        <SelectField
          label="Signal"
          value={detail.signal ?? 'not-tested'}
          onChange={(id) => onChange({ ...detail, signal: id as Of<'sensor-check'>['signal'] })}
          options={['strong', 'weak', 'none', 'not-tested'].map((id) => ({ id, label: wordsOf(id) }))}
        />
      )}
      {sensor?.link === 'wired' ? null : (
        <NumberField
          label="Cells good"
          value={detail.cellsGood ?? null}
          min={0}
          max={8}
          digits={0}
          onChange={(cellsGood) => onChange({ ...detail, cellsGood })}
          error={errorAt(failure, 'cellsGood')}
        />
      )}
      <SelectField
        label="Controller obeys it"
        value={detail.controllerObeys === true ? 'yes' : detail.controllerObeys === false ? 'no' : ''}
        onChange={(id) => onChange({ ...detail, controllerObeys: id === '' ? null : id === 'yes' })}
        options={[
          { id: '', label: 'Not tested' },
          { id: 'yes', label: 'Yes' },
          { id: 'no', label: 'No' },
        ]}
      />
      {sensor?.senses === 'freeze' ? null : (
        <Measured
          label="Rain set to"
          quantity="depth"
          value={detail.rainSetPointInches ?? null}
          onChange={(rainSetPointInches) => onChange({ ...detail, rainSetPointInches })}
          failure={failure}
          field="rainSetPointInches"
        />
      )}
      {sensor?.senses === 'rain' ? null : (
        <Measured
          label="Freeze set to"
          quantity="temperature"
          value={detail.freezeSetPointF ?? null}
          onChange={(freezeSetPointF) => onChange({ ...detail, freezeSetPointF })}
          failure={failure}
          field="freezeSetPointF"
        />
      )}
    </div>
  );
}

function StartUp({ detail, failure, onChange }: Props<Of<'start-up'>>) {
  return (
    <div className="form-grid">
      <Measured
        label="Static pressure"
        quantity="pressure"
        value={detail.staticPressurePsi ?? null}
        onChange={(staticPressurePsi) => onChange({ ...detail, staticPressurePsi })}
        failure={failure}
        field="staticPressurePsi"
      />
      <NumberField
        label="Zones run"
        value={detail.zonesRun ?? null}
        min={0}
        max={99}
        digits={0}
        onChange={(zonesRun) => onChange({ ...detail, zonesRun })}
        error={errorAt(failure, 'zonesRun')}
      />
      <CheckField
        label="Backflow assembly opened"
        value={detail.backflowOpened ?? false}
        onChange={(backflowOpened) => onChange({ ...detail, backflowOpened })}
      />
      <CheckField
        label="Sensors tested"
        value={detail.sensorsTested ?? false}
        onChange={(sensorsTested) => onChange({ ...detail, sensorsTested })}
      />
    </div>
  );
}

function Winterization({ detail, failure, onChange }: Props<Of<'winterization'>>) {
  const air = (detail.method ?? 'compressed-air') === 'compressed-air';
  return (
    <>
      <div className="form-grid">
        <SelectField
          label="How"
          value={detail.method ?? 'compressed-air'}
          onChange={(id) =>
            onChange({
              ...detail,
              method: id as Of<'winterization'>['method'],
              ...(id === 'compressed-air' ? {} : { airPressurePsi: null }),
            })
          }
          options={['compressed-air', 'gravity-drain', 'automatic-drain', 'vacuum'].map((id) => ({
            id,
            label: wordsOf(id),
          }))}
        />
        {air ? (
          <Measured
            label="Air pressure"
            quantity="pressure"
            value={detail.airPressurePsi ?? null}
            onChange={(airPressurePsi) => onChange({ ...detail, airPressurePsi })}
            failure={failure}
            field="airPressurePsi"
          />
        ) : null}
        <NumberField
          label="Zones blown out"
          value={detail.zonesBlown ?? null}
          min={0}
          max={99}
          digits={0}
          onChange={(zonesBlown) => onChange({ ...detail, zonesBlown })}
          error={errorAt(failure, 'zonesBlown')}
        />
        <CheckField
          label="Backflow assembly drained"
          value={detail.backflowDrained ?? false}
          onChange={(backflowDrained) => onChange({ ...detail, backflowDrained })}
        />
        <CheckField
          label="Controller off"
          value={detail.controllerOff ?? false}
          onChange={(controllerOff) => onChange({ ...detail, controllerOff })}
        />
      </div>
      {air ? (
        <Caution>
          Compressed air can burst pipe and throw parts: wear eye protection, stand clear of heads and assemblies, and
          stay below the pressure the maker of the pipe allows.
        </Caution>
      ) : null}
    </>
  );
}

function BackflowTest({ detail, failure, onChange }: Props<Of<'backflow-test'>>) {
  return (
    <>
      <div className="form-grid">
        <SelectField
          label="Result"
          value={detail.passed ? 'pass' : 'fail'}
          onChange={(id) => onChange({ ...detail, passed: id === 'pass' })}
          options={RESULTS.slice(0, 2)}
        />
        <DateField
          label="Next test due"
          value={detail.nextDue ?? null}
          onChange={(nextDue) => onChange({ ...detail, nextDue })}
          error={errorAt(failure, 'nextDue')}
        />
        <TextField
          label="Tester"
          value={detail.tester ?? ''}
          onChange={(tester) => onChange({ ...detail, tester })}
          maxLength={120}
          error={errorAt(failure, 'tester')}
        />
        <TextField
          label="License number"
          value={detail.licenceNumber ?? ''}
          onChange={(licenceNumber) => onChange({ ...detail, licenceNumber })}
          maxLength={60}
          error={errorAt(failure, 'licenceNumber')}
        />
      </div>
      <Caution>
        Backflow assemblies are tested and repaired by licensed testers under your local code; this keeps the record, it
        is not the test report.
      </Caution>
    </>
  );
}

function Audit({ detail, data, failure, onChange }: Props<Of<'zone-audit'>>) {
  return (
    <div className="form-grid">
      <SelectField
        label="Zone"
        value={detail.zoneId}
        onChange={(zoneId) => onChange({ ...detail, zoneId })}
        options={zoneOptions(data)}
        error={errorAt(failure, 'zoneId')}
      />
      <NumberField
        label="Run"
        unit="min"
        value={detail.runMinutes}
        onChange={(runMinutes) => onChange({ ...detail, runMinutes: runMinutes ?? 0 })}
        error={errorAt(failure, 'runMinutes')}
      />
      <NumberField
        label="Can opening"
        unit="in²"
        value={detail.throatAreaIn2}
        onChange={(area) => onChange({ ...detail, throatAreaIn2: area ?? 0 })}
        error={errorAt(failure, 'throatAreaIn2')}
      />
      <TextField
        className="full"
        label="Volume in each can, ml"
        rows={3}
        value={detail.volumesMl.join(' ')}
        onChange={(text) =>
          onChange({
            ...detail,
            volumesMl: text
              .split(/[\s,;]+/)
              .filter((part) => part !== '')
              .map(Number)
              .filter((value) => Number.isFinite(value)),
          })
        }
        error={errorAt(failure, 'volumesMl')}
        description="One figure a can, with spaces between"
      />
    </div>
  );
}

function Plain({ detail, data, failure, onChange }: Props<LedgerDetailInput>) {
  switch (detail.kind) {
    case 'repair':
      return (
        <div className="form-grid">
          <SelectField
            label="Zone"
            value={detail.zoneId ?? ''}
            onChange={(id) => onChange({ ...detail, zoneId: id === '' ? null : id })}
            options={[{ id: '', label: 'Not a zone' }, ...zoneOptions(data)]}
          />
          <NumberField
            label="Time spent"
            unit="min"
            value={detail.minutesSpent ?? null}
            min={0}
            max={1440}
            digits={0}
            onChange={(minutesSpent) => onChange({ ...detail, minutesSpent })}
            error={errorAt(failure, 'minutesSpent')}
          />
          <TextField
            className="full"
            label="What was repaired"
            value={detail.what}
            onChange={(what) => onChange({ ...detail, what })}
            maxLength={300}
            isRequired
            error={errorAt(failure, 'what')}
          />
        </div>
      );
    case 'part-used':
      return (
        <div className="form-grid">
          <TextField
            className="full"
            label="Part"
            value={detail.part}
            onChange={(part) => onChange({ ...detail, part })}
            maxLength={160}
            isRequired
            error={errorAt(failure, 'part')}
          />
          <NumberField
            label="How many"
            value={detail.quantity}
            onChange={(quantity) => onChange({ ...detail, quantity: quantity ?? 1 })}
            error={errorAt(failure, 'quantity')}
          />
          <NumberField
            label="Price each"
            unit="$"
            value={
              detail.unitPriceCents === null || detail.unitPriceCents === undefined ? null : detail.unitPriceCents / 100
            }
            onChange={(price) =>
              onChange({ ...detail, unitPriceCents: price === null ? null : Math.round(price * 100) })
            }
            error={errorAt(failure, 'unitPriceCents')}
          />
        </div>
      );
    case 'meter-read':
      return (
        <div className="form-grid">
          <TextField
            label="Meter"
            value={detail.meter ?? 'main'}
            onChange={(meter) => onChange({ ...detail, meter })}
            maxLength={80}
            error={errorAt(failure, 'meter')}
          />
          <Measured
            label="Reading"
            quantity="volume"
            value={detail.readingGallons}
            onChange={(value) => onChange({ ...detail, readingGallons: value ?? 0 })}
            failure={failure}
            field="readingGallons"
          />
        </div>
      );
    case 'walk-through':
      return (
        <div className="form-grid">
          <CheckField
            label="Client was there"
            value={detail.clientPresent ?? false}
            onChange={(clientPresent) => onChange({ ...detail, clientPresent })}
          />
          <TextField
            className="full"
            label="What was talked about"
            rows={3}
            value={detail.topics ?? ''}
            onChange={(topics) => onChange({ ...detail, topics })}
            error={errorAt(failure, 'topics')}
          />
        </div>
      );
    case 'photo':
      return (
        <div className="form-grid">
          <TextField
            label="File name"
            value={detail.fileName}
            onChange={(fileName) => onChange({ ...detail, fileName })}
            maxLength={260}
            isRequired
            error={errorAt(failure, 'fileName')}
          />
          <TextField
            label="What it shows"
            value={detail.caption ?? ''}
            onChange={(caption) => onChange({ ...detail, caption })}
            maxLength={200}
            error={errorAt(failure, 'caption')}
          />
        </div>
      );
    case 'note':
      return (
        <TextField
          label="Note"
          rows={4}
          value={detail.text}
          onChange={(text) => onChange({ ...detail, text })}
          isRequired
          error={errorAt(failure, 'text')}
        />
      );
    default:
      return null;
  }
}

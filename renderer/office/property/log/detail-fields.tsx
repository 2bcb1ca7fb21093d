import type { LedgerDetailInput } from '../../../../core/ledger/entry-contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { Caution, CheckField, DateField, NumberField, SelectField, TextField, wordsOf } from '../../../parts/index.ts';
import { say, texts } from '../../../state/say.ts';
import { errorAt } from '../edit/form-sheet.tsx';
import { MeasureField } from '../edit/measure-field.tsx';
import type { OpenProperty } from '../use-property-editor.ts';
import { DecisionFields, FindingFields, FindingPick, ManualRunFields, NotDoneFields } from './finding-fields.tsx';
import { zoneOptions } from './zone-options.ts';
import { RunTimeFields } from './run-time-fields.tsx';

type Of<K extends LedgerDetailInput['kind']> = Extract<LedgerDetailInput, { kind: K }>;
interface Props<D extends LedgerDetailInput> {
  detail: D;
  data: OpenProperty;
  failure: Failure | null;
  onChange: (detail: LedgerDetailInput) => void;
}
const RESULT_WORDS = texts({ pass: 'work.passed', fail: 'work.failed', 'not-tested': 'work.notTested' });
const resultOptions = (ids: ReadonlyArray<keyof typeof RESULT_WORDS>) =>
  ids.map((id) => ({ id, label: RESULT_WORDS[id] }));

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
    case 'finding':
      return <FindingFields {...props} detail={detail} />;
    case 'decision':
      return <DecisionFields {...props} detail={detail} />;
    case 'manual-run':
      return <ManualRunFields {...props} detail={detail} />;
    case 'not-done':
      return <NotDoneFields {...props} detail={detail} />;
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

function BatterySwap({ detail, data, failure, onChange }: Props<Of<'battery-swap'>>) {
  return (
    <div className="form-grid">
      <SelectField
        className="full"
        label={say('work.sensor')}
        value={detail.sensorId}
        onChange={(sensorId) => onChange({ ...detail, sensorId })}
        options={sensorOptions(data, true)}
        error={errorAt(failure, 'sensorId')}
      />
      <TextField
        label={say('work.newBattery')}
        value={detail.batteryType ?? ''}
        onChange={(batteryType) => onChange({ ...detail, batteryType })}
        maxLength={40}
        error={errorAt(failure, 'batteryType')}
      />
      <NumberField
        label={say('forms.cells')}
        value={detail.cells ?? 1}
        min={1}
        max={8}
        digits={0}
        onChange={(cells) => onChange({ ...detail, cells: cells ?? 1 })}
        error={errorAt(failure, 'cells')}
      />
      <SelectField
        label={say('work.oldBattery')}
        value={detail.oldBatteryState ?? 'unknown'}
        onChange={(id) => onChange({ ...detail, oldBatteryState: id as Of<'battery-swap'>['oldBatteryState'] })}
        options={[
          { id: 'working', label: say('work.old.working') },
          { id: 'low', label: say('work.old.low') },
          { id: 'dead', label: say('work.old.dead') },
          { id: 'unknown', label: say('work.old.unknown') },
        ]}
        description={say('work.oldBatteryWhy')}
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
      options={resultOptions(['pass', 'fail', 'not-tested'])}
    />
  );
  return (
    <div className="form-grid">
      <SelectField
        className="full"
        label={say('work.sensor')}
        value={detail.sensorId}
        onChange={(sensorId) => onChange({ ...detail, sensorId })}
        options={sensorOptions(data, false)}
        error={errorAt(failure, 'sensorId')}
      />
      {sensor?.senses === 'freeze' ? null : result(say('work.rainTrip'), 'rainTrip')}
      {sensor?.senses === 'rain' ? null : result(say('work.freezeTrip'), 'freezeTrip')}
      {sensor?.link === 'wired' ? null : (
        <SelectField
          label={say('work.signal')}
          value={detail.signal ?? 'not-tested'}
          onChange={(id) => onChange({ ...detail, signal: id as Of<'sensor-check'>['signal'] })}
          options={[
            { id: 'strong', label: wordsOf('strong') },
            { id: 'weak', label: wordsOf('weak') },
            { id: 'none', label: say('work.signal.none') },
            { id: 'not-tested', label: wordsOf('not-tested') },
          ]}
        />
      )}
      {sensor?.link === 'wired' ? null : (
        <NumberField
          label={say('work.cellsGood')}
          value={detail.cellsGood ?? null}
          min={0}
          max={8}
          digits={0}
          onChange={(cellsGood) => onChange({ ...detail, cellsGood })}
          error={errorAt(failure, 'cellsGood')}
        />
      )}
      <SelectField
        label={say('work.obeys')}
        value={detail.controllerObeys === true ? 'yes' : detail.controllerObeys === false ? 'no' : ''}
        onChange={(id) => onChange({ ...detail, controllerObeys: id === '' ? null : id === 'yes' })}
        options={[
          { id: '', label: say('work.notTested') },
          { id: 'yes', label: say('work.yes') },
          { id: 'no', label: say('work.no') },
        ]}
      />
      {sensor?.senses === 'freeze' ? null : (
        <MeasureField
          label={say('work.rainSetTo')}
          quantity="depth"
          value={detail.rainSetPointInches ?? null}
          onChange={(rainSetPointInches) => onChange({ ...detail, rainSetPointInches })}
          error={errorAt(failure, 'rainSetPointInches')}
        />
      )}
      {sensor?.senses === 'rain' ? null : (
        <MeasureField
          label={say('work.freezeSetTo')}
          quantity="temperature"
          value={detail.freezeSetPointF ?? null}
          onChange={(freezeSetPointF) => onChange({ ...detail, freezeSetPointF })}
          error={errorAt(failure, 'freezeSetPointF')}
        />
      )}
    </div>
  );
}

function StartUp({ detail, failure, onChange }: Props<Of<'start-up'>>) {
  return (
    <div className="form-grid">
      <MeasureField
        label={say('forms.staticPressure')}
        quantity="pressure"
        value={detail.staticPressurePsi ?? null}
        onChange={(staticPressurePsi) => onChange({ ...detail, staticPressurePsi })}
        error={errorAt(failure, 'staticPressurePsi')}
      />
      <NumberField
        label={say('work.zonesRun')}
        value={detail.zonesRun ?? null}
        min={0}
        max={99}
        digits={0}
        onChange={(zonesRun) => onChange({ ...detail, zonesRun })}
        error={errorAt(failure, 'zonesRun')}
      />
      <CheckField
        label={say('work.backflowOpened')}
        value={detail.backflowOpened ?? false}
        onChange={(backflowOpened) => onChange({ ...detail, backflowOpened })}
      />
      <CheckField
        label={say('work.sensorsTested')}
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
          label={say('work.how')}
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
          <MeasureField
            label={say('work.airPressure')}
            quantity="pressure"
            value={detail.airPressurePsi ?? null}
            onChange={(airPressurePsi) => onChange({ ...detail, airPressurePsi })}
            error={errorAt(failure, 'airPressurePsi')}
          />
        ) : null}
        <NumberField
          label={say('work.zonesBlown')}
          value={detail.zonesBlown ?? null}
          min={0}
          max={99}
          digits={0}
          onChange={(zonesBlown) => onChange({ ...detail, zonesBlown })}
          error={errorAt(failure, 'zonesBlown')}
        />
        <CheckField
          label={say('work.backflowDrained')}
          value={detail.backflowDrained ?? false}
          onChange={(backflowDrained) => onChange({ ...detail, backflowDrained })}
        />
        <CheckField
          label={say('work.controllerOff')}
          value={detail.controllerOff ?? false}
          onChange={(controllerOff) => onChange({ ...detail, controllerOff })}
        />
      </div>
      {air ? <Caution>{say('work.airCaution')}</Caution> : null}
    </>
  );
}

function BackflowTest({ detail, failure, onChange }: Props<Of<'backflow-test'>>) {
  return (
    <>
      <div className="form-grid">
        <SelectField
          label={say('work.result')}
          value={detail.passed ? 'pass' : 'fail'}
          onChange={(id) => onChange({ ...detail, passed: id === 'pass' })}
          options={resultOptions(['pass', 'fail'])}
        />
        <DateField
          label={say('work.nextTest')}
          value={detail.nextDue ?? null}
          onChange={(nextDue) => onChange({ ...detail, nextDue })}
          error={errorAt(failure, 'nextDue')}
        />
        <TextField
          label={say('work.tester')}
          value={detail.tester ?? ''}
          onChange={(tester) => onChange({ ...detail, tester })}
          maxLength={120}
          error={errorAt(failure, 'tester')}
        />
        <TextField
          label={say('work.license')}
          value={detail.licenceNumber ?? ''}
          onChange={(licenceNumber) => onChange({ ...detail, licenceNumber })}
          maxLength={60}
          error={errorAt(failure, 'licenceNumber')}
        />
      </div>
      <Caution>{say('work.testCaution')}</Caution>
    </>
  );
}

function Audit({ detail, data, failure, onChange }: Props<Of<'zone-audit'>>) {
  return (
    <div className="form-grid">
      <SelectField
        label={say('property.program.zone')}
        value={detail.zoneId}
        onChange={(zoneId) => onChange({ ...detail, zoneId })}
        options={zoneOptions(data)}
        error={errorAt(failure, 'zoneId')}
      />
      <NumberField
        label={say('work.run')}
        unit="min"
        value={detail.runMinutes}
        onChange={(runMinutes) => onChange({ ...detail, runMinutes: runMinutes ?? 0 })}
        error={errorAt(failure, 'runMinutes')}
      />
      <NumberField
        label={say('work.canOpening')}
        unit="in²"
        value={detail.throatAreaIn2}
        onChange={(area) => onChange({ ...detail, throatAreaIn2: area ?? 0 })}
        error={errorAt(failure, 'throatAreaIn2')}
      />
      <TextField
        className="full"
        label={say('work.canVolumes')}
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
        description={say('work.canVolumesWhy')}
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
            label={say('property.program.zone')}
            value={detail.zoneId ?? ''}
            onChange={(id) => onChange({ ...detail, zoneId: id === '' ? null : id })}
            options={[{ id: '', label: say('work.notAZone') }, ...zoneOptions(data)]}
          />
          <NumberField
            label={say('work.timeSpent')}
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
            label={say('work.whatRepaired')}
            value={detail.what}
            onChange={(what) => onChange({ ...detail, what })}
            maxLength={300}
            isRequired
            error={errorAt(failure, 'what')}
          />
          <FindingPick
            data={data}
            value={detail.closesFindingId ?? null}
            failure={failure}
            onChange={(closesFindingId) => onChange({ ...detail, closesFindingId })}
          />
        </div>
      );
    case 'part-used':
      return (
        <div className="form-grid">
          <TextField
            className="full"
            label={say('work.part')}
            value={detail.part}
            onChange={(part) => onChange({ ...detail, part })}
            maxLength={160}
            isRequired
            error={errorAt(failure, 'part')}
          />
          <NumberField
            label={say('work.howMany')}
            value={detail.quantity}
            onChange={(quantity) => onChange({ ...detail, quantity: quantity ?? 1 })}
            error={errorAt(failure, 'quantity')}
          />
          <NumberField
            label={say('work.priceEach')}
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
            label={say('work.meter')}
            value={detail.meter ?? 'main'}
            onChange={(meter) => onChange({ ...detail, meter })}
            maxLength={80}
            error={errorAt(failure, 'meter')}
          />
          <MeasureField
            label={say('work.reading')}
            quantity="volume"
            value={detail.readingGallons}
            onChange={(value) => onChange({ ...detail, readingGallons: value ?? 0 })}
            error={errorAt(failure, 'readingGallons')}
          />
        </div>
      );
    case 'walk-through':
      return (
        <div className="form-grid">
          <CheckField
            label={say('work.clientThere')}
            value={detail.clientPresent ?? false}
            onChange={(clientPresent) => onChange({ ...detail, clientPresent })}
          />
          <TextField
            className="full"
            label={say('work.talkedAbout')}
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
            label={say('work.fileName')}
            value={detail.fileName}
            onChange={(fileName) => onChange({ ...detail, fileName })}
            maxLength={260}
            isRequired
            error={errorAt(failure, 'fileName')}
          />
          <TextField
            label={say('work.whatItShows')}
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
          label={say('work.note')}
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

import { Battery } from '../battery.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { SensorPick, sensorOf, sensorsOf } from './sensor-pick.tsx';
import { defineForm } from './form-spec.ts';
import { LineField } from './line-field.tsx';
import { say } from '../../state/say.ts';

interface Values {
  sensorId: string;
  batteryType: string;
  swapped: boolean[];
  oldBatteryState: 'working' | 'low' | 'dead' | 'unknown';
}

export const batteryForm = defineForm<'battery-swap', Values>({
  kind: 'battery-swap',
  get title() {
    return say('field.do.battery-swap');
  },
  needsPage: true,
  blocked: (context) => (sensorsOf(context, 'wireless').length === 0 ? say('field.noWireless') : null),
  begin(context, from) {
    const sensor = sensorOf(context, from?.sensorId) ?? sensorsOf(context, 'wireless')[0];
    return {
      sensorId: sensor?.id ?? '',
      batteryType: from?.batteryType ?? sensor?.batteryType ?? '',
      swapped: Array.from({ length: from?.cells ?? Math.max(1, sensor?.batteryCells ?? 1) }, () => true),
      oldBatteryState: from?.oldBatteryState ?? 'unknown',
    };
  },
  Fields({ value, change, context }) {
    const sensor = sensorOf(context, value.sensorId);
    return (
      <>
        <SensorPick
          context={context}
          link="wireless"
          value={value.sensorId}
          onChange={(next) =>
            change({
              sensorId: next.id,
              batteryType: next.batteryType,
              swapped: Array.from({ length: Math.max(1, next.batteryCells) }, () => true),
            })
          }
        />
        {sensor !== undefined && (
          <p className="fd-fact">
            {sensor.batteryDate === null
              ? say('field.batteryNeverDated')
              : say('field.batteryChanged', { date: sensor.batteryDate })}
          </p>
        )}
        <Choice
          label={say('field.oldBattery')}
          value={value.oldBatteryState}
          onChange={(oldBatteryState) => change({ oldBatteryState })}
          options={[
            { id: 'working', word: say('field.old.working'), sign: '✓', tone: 'good' },
            { id: 'low', word: say('field.old.low'), sign: '◐' },
            { id: 'dead', word: say('field.old.dead'), sign: '✕', tone: 'bad' },
            { id: 'unknown', word: say('field.notTried'), sign: '?' },
          ]}
        />
        <Battery
          label={say('field.newCells')}
          cells={value.swapped.length}
          on={value.swapped}
          onWord={say('field.cell.new')}
          offWord={say('field.cell.left')}
          hintOf={(given) => say('field.cellsNew', given)}
          onChange={(swapped) => change({ swapped })}
        />
        <Stepper
          label={say('field.cellsHeld')}
          value={value.swapped.length}
          min={1}
          max={8}
          step={1}
          unit={say('field.unit.cells')}
          onChange={(count) =>
            change({ swapped: Array.from({ length: count ?? 1 }, (_, index) => value.swapped[index] ?? true) })
          }
        />
        <LineField
          label={say('field.batterySize')}
          value={value.batteryType}
          maxLength={40}
          onChange={(batteryType) => change({ batteryType })}
        />
      </>
    );
  },
  finish(value) {
    const cells = value.swapped.filter(Boolean).length;
    if (value.sensorId === '') return { problem: say('field.chooseSensor') };
    if (cells === 0) return { problem: say('field.tapOneCell') };
    return {
      detail: {
        kind: 'battery-swap',
        sensorId: value.sensorId,
        batteryType: value.batteryType,
        cells,
        oldBatteryState: value.oldBatteryState,
      },
    };
  },
});

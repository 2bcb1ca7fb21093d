import { Battery } from '../battery.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { SensorPick, sensorOf, sensorsOf } from './sensor-pick.tsx';
import { defineForm } from './form-spec.ts';
import { LineField } from './line-field.tsx';
import { formatDate } from '../../parts/format.ts';

interface Values {
  sensorId: string;
  batteryType: string;
  swapped: boolean[];
  oldBatteryState: 'working' | 'low' | 'dead' | 'unknown';
}

export const batteryForm = defineForm<'battery-swap', Values>({
  kind: 'battery-swap',
  title: 'Log battery swap',
  needsPage: true,
  blocked: (context) =>
    sensorsOf(context, 'wireless').length === 0
      ? 'No wireless sensor is written down for this property, so there is no battery to swap. The office can add the sensor; until then log a note.'
      : null,
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
              ? 'Nobody has written down when this battery was last changed.'
              : `Battery last changed ${formatDate(sensor.batteryDate)}.`}
          </p>
        )}
        <Choice
          label="The old battery was"
          value={value.oldBatteryState}
          onChange={(oldBatteryState) => change({ oldBatteryState })}
          options={[
            { id: 'working', word: 'Working', sign: '✓', tone: 'good' },
            { id: 'low', word: 'Low', sign: '◐' },
            { id: 'dead', word: 'Dead', sign: '✕', tone: 'bad' },
            { id: 'unknown', word: 'Not tried', sign: '?' },
          ]}
        />
        <Battery
          label="New cells put in"
          cells={value.swapped.length}
          on={value.swapped}
          onWord="new"
          offWord="left"
          onChange={(swapped) => change({ swapped })}
        />
        <Stepper
          label="Cells it holds"
          value={value.swapped.length}
          min={1}
          max={8}
          step={1}
          unit="cells"
          onChange={(count) =>
            change({ swapped: Array.from({ length: count ?? 1 }, (_, index) => value.swapped[index] ?? true) })
          }
        />
        <LineField
          label="Battery size"
          value={value.batteryType}
          maxLength={40}
          onChange={(batteryType) => change({ batteryType })}
        />
      </>
    );
  },
  finish(value) {
    const cells = value.swapped.filter(Boolean).length;
    if (value.sensorId === '') return { problem: 'Choose the sensor whose battery was swapped.' };
    if (cells === 0) return { problem: 'Tap at least one cell that was put in new.' };
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

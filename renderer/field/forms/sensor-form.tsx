import { Battery } from '../battery.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { measureOf } from '../measures.ts';
import { SensorPick, sensorOf, sensorsOf } from './sensor-pick.tsx';
import { defineForm } from './form-spec.ts';

type Result = 'pass' | 'fail' | 'not-tested';
interface Values {
  sensorId: string;
  rainTrip: Result;
  freezeTrip: Result;
  signal: 'strong' | 'weak' | 'none' | 'not-tested';
  cells: boolean[] | null;
  obeys: 'yes' | 'no' | 'not-tried';
  rainSetPointInches: number | null;
  freezeSetPointF: number | null;
}

const RESULTS = [
  { id: 'pass', word: 'Trips', sign: '✓', tone: 'good' },
  { id: 'fail', word: 'Does not', sign: '✕', tone: 'bad' },
  { id: 'not-tested', word: 'Not tried', sign: '–' },
] as const;

export const sensorForm = defineForm<'sensor-check', Values>({
  kind: 'sensor-check',
  title: 'Log sensor check',
  needsPage: true,
  blocked: (context) =>
    sensorsOf(context, 'any').length === 0
      ? 'No sensor is written down for this property. The office can add it; until then log a note.'
      : null,
  begin(context, from) {
    const sensor = sensorOf(context, from?.sensorId) ?? sensorsOf(context, 'any')[0];
    const cellCount = sensor?.link === 'wireless' ? sensor.batteryCells : 0;
    return {
      sensorId: sensor?.id ?? '',
      rainTrip: from?.rainTrip ?? 'not-tested',
      freezeTrip: from?.freezeTrip ?? 'not-tested',
      signal: from?.signal ?? 'not-tested',
      cells:
        from === null || from.cellsGood === null
          ? null
          : Array.from({ length: cellCount }, (_, index) => index < (from.cellsGood ?? 0)),
      obeys: from === null || from.controllerObeys === null ? 'not-tried' : from.controllerObeys ? 'yes' : 'no',
      rainSetPointInches: from?.rainSetPointInches ?? sensor?.rainSetPointInches ?? null,
      freezeSetPointF: from?.freezeSetPointF ?? sensor?.freezeSetPointF ?? null,
    };
  },
  Fields({ value, change, context }) {
    const sensor = sensorOf(context, value.sensorId);
    const depth = measureOf('rainDepth', context.settings.units);
    const heat = measureOf('temperature', context.settings.units);
    const cellCount = sensor?.link === 'wireless' ? sensor.batteryCells : 0;
    return (
      <>
        <SensorPick
          context={context}
          link="any"
          value={value.sensorId}
          onChange={(next) =>
            change({
              sensorId: next.id,
              cells: null,
              rainSetPointInches: next.rainSetPointInches,
              freezeSetPointF: next.freezeSetPointF,
            })
          }
        />
        <button
          type="button"
          className="fd-chip"
          onClick={() =>
            change({
              rainTrip: sensor?.senses === 'freeze' ? 'not-tested' : 'pass',
              freezeTrip: sensor?.senses === 'rain' ? 'not-tested' : 'pass',
              signal: sensor?.link === 'wireless' ? 'strong' : 'not-tested',
              obeys: 'yes',
            })
          }
        >
          Tried everything, all worked
        </button>
        {sensor?.senses !== 'freeze' && (
          <Choice
            label="Rain: wetted, it stops watering"
            options={RESULTS}
            value={value.rainTrip}
            onChange={(rainTrip) => change({ rainTrip })}
          />
        )}
        {sensor?.senses !== 'rain' && (
          <Choice
            label="Freeze: chilled, it stops watering"
            options={RESULTS}
            value={value.freezeTrip}
            onChange={(freezeTrip) => change({ freezeTrip })}
          />
        )}
        {sensor?.link === 'wireless' && (
          <Choice
            label="Signal at the controller"
            value={value.signal}
            onChange={(signal) => change({ signal })}
            options={[
              { id: 'strong', word: 'Strong', sign: '▂▅█', tone: 'good' },
              { id: 'weak', word: 'Weak', sign: '▂' },
              { id: 'none', word: 'None', sign: '✕', tone: 'bad' },
              { id: 'not-tested', word: 'Not tried', sign: '–' },
            ]}
          />
        )}
        {cellCount > 0 && (
          <Choice
            label="Cells measured"
            value={value.cells === null ? 'no' : 'yes'}
            onChange={(answer) =>
              change({ cells: answer === 'yes' ? Array.from({ length: cellCount }, () => true) : null })
            }
            options={[
              { id: 'yes', word: 'Yes', sign: '✓' },
              { id: 'no', word: 'No', sign: '–' },
            ]}
          />
        )}
        {cellCount > 0 && value.cells !== null && (
          <Battery
            label="Battery cells"
            cells={cellCount}
            on={value.cells}
            onWord="good"
            offWord="weak"
            onChange={(cells) => change({ cells })}
          />
        )}
        <Choice
          label="The controller obeys it"
          value={value.obeys}
          onChange={(obeys) => change({ obeys })}
          options={[
            { id: 'yes', word: 'Yes', sign: '✓', tone: 'good' },
            { id: 'no', word: 'No', sign: '✕', tone: 'bad' },
            { id: 'not-tried', word: 'Not tried', sign: '–' },
          ]}
        />
        {sensor?.senses !== 'freeze' && (
          <Stepper
            label="Rain set point"
            {...depth.bounds(0, 3)}
            value={depth.show(value.rainSetPointInches)}
            onChange={(shown) => change({ rainSetPointInches: depth.store(shown) })}
          />
        )}
        {sensor?.senses !== 'rain' && (
          <Stepper
            label="Freeze set point"
            {...heat.bounds(20, 60)}
            value={heat.show(value.freezeSetPointF)}
            onChange={(shown) => change({ freezeSetPointF: heat.store(shown) })}
          />
        )}
      </>
    );
  },
  finish(value, context) {
    const sensor = sensorOf(context, value.sensorId);
    if (sensor === undefined) return { problem: 'Choose the sensor that was checked.' };
    if (
      value.rainTrip === 'not-tested' &&
      value.freezeTrip === 'not-tested' &&
      value.signal === 'not-tested' &&
      value.cells === null &&
      value.obeys === 'not-tried'
    ) {
      return { problem: 'Nothing was tried yet: answer at least one of the questions above.' };
    }
    return {
      detail: {
        kind: 'sensor-check',
        sensorId: value.sensorId,
        rainTrip: sensor.senses === 'freeze' ? 'not-tested' : value.rainTrip,
        freezeTrip: sensor.senses === 'rain' ? 'not-tested' : value.freezeTrip,
        signal: sensor.link === 'wireless' ? value.signal : 'not-tested',
        cellsGood: value.cells === null ? null : value.cells.filter(Boolean).length,
        controllerObeys: value.obeys === 'not-tried' ? null : value.obeys === 'yes',
        rainSetPointInches: sensor.senses === 'freeze' ? null : value.rainSetPointInches,
        freezeSetPointF: sensor.senses === 'rain' ? null : value.freezeSetPointF,
      },
    };
  },
});

import { Battery } from '../battery.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { measureOf } from '../measures.ts';
import { SensorPick, sensorOf, sensorsOf } from './sensor-pick.tsx';
import { defineForm } from './form-spec.ts';
import { say, currentReader } from '../../state/say.ts';

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

const results = () =>
  [
    { id: 'pass', word: say('field.trips'), sign: '✓', tone: 'good' },
    { id: 'fail', word: say('field.doesNotTrip'), sign: '✕', tone: 'bad' },
    { id: 'not-tested', word: say('field.notTried'), sign: '–' },
  ] as const;

export const sensorForm = defineForm<'sensor-check', Values>({
  kind: 'sensor-check',
  get title() {
    return say('field.do.sensor-check');
  },
  needsPage: true,
  blocked: (context) => (sensorsOf(context, 'any').length === 0 ? say('field.noSensor') : null),
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
    const depth = measureOf('rainDepth', currentReader().units);
    const heat = measureOf('temperature', currentReader().units);
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
          {say('field.allWorked')}
        </button>
        {sensor?.senses !== 'freeze' && (
          <Choice
            label={say('field.rainTrip')}
            options={results()}
            value={value.rainTrip}
            onChange={(rainTrip) => change({ rainTrip })}
          />
        )}
        {sensor?.senses !== 'rain' && (
          <Choice
            label={say('field.freezeTrip')}
            options={results()}
            value={value.freezeTrip}
            onChange={(freezeTrip) => change({ freezeTrip })}
          />
        )}
        {sensor?.link === 'wireless' && (
          <Choice
            label={say('field.signal')}
            value={value.signal}
            onChange={(signal) => change({ signal })}
            options={[
              { id: 'strong', word: say('field.signal.strong'), sign: '▂▅█', tone: 'good' },
              { id: 'weak', word: say('field.signal.weak'), sign: '▂' },
              { id: 'none', word: say('field.signal.none'), sign: '✕', tone: 'bad' },
              { id: 'not-tested', word: say('field.notTried'), sign: '–' },
            ]}
          />
        )}
        {cellCount > 0 && (
          <Choice
            label={say('field.cellsMeasured')}
            value={value.cells === null ? 'no' : 'yes'}
            onChange={(answer) =>
              change({ cells: answer === 'yes' ? Array.from({ length: cellCount }, () => true) : null })
            }
            options={[
              { id: 'yes', word: say('field.yes'), sign: '✓' },
              { id: 'no', word: say('field.no'), sign: '–' },
            ]}
          />
        )}
        {cellCount > 0 && value.cells !== null && (
          <Battery
            label={say('field.batteryCells')}
            cells={cellCount}
            on={value.cells}
            onWord={say('field.cell.good')}
            offWord={say('field.cell.weak')}
            hintOf={(given) => say('field.cellsGood', given)}
            onChange={(cells) => change({ cells })}
          />
        )}
        <Choice
          label={say('field.obeys')}
          value={value.obeys}
          onChange={(obeys) => change({ obeys })}
          options={[
            { id: 'yes', word: say('field.yes'), sign: '✓', tone: 'good' },
            { id: 'no', word: say('field.no'), sign: '✕', tone: 'bad' },
            { id: 'not-tried', word: say('field.notTried'), sign: '–' },
          ]}
        />
        {sensor?.senses !== 'freeze' && (
          <Stepper
            label={say('field.rainSetPoint')}
            {...depth.bounds(0, 3)}
            value={depth.show(value.rainSetPointInches)}
            onChange={(shown) => change({ rainSetPointInches: depth.store(shown) })}
          />
        )}
        {sensor?.senses !== 'rain' && (
          <Stepper
            label={say('field.freezeSetPoint')}
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
    if (sensor === undefined) return { problem: say('field.chooseChecked') };
    if (
      value.rainTrip === 'not-tested' &&
      value.freezeTrip === 'not-tested' &&
      value.signal === 'not-tested' &&
      value.cells === null &&
      value.obeys === 'not-tried'
    ) {
      return { problem: say('field.nothingTried') };
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

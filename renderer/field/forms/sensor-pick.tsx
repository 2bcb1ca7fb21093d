import type { Sensor } from '../../../core/properties/contract.ts';
import { Choice } from '../choice.tsx';
import type { LogContext } from './form-spec.ts';
import { say, texts } from '../../state/say.ts';

/** The sensors in use at the property; with 'wireless' only those that hold a battery. */
export function sensorsOf(context: LogContext, link: 'wireless' | 'any'): Sensor[] {
  return (context.page?.sensors ?? []).filter(
    (sensor) => !sensor.retired && (link === 'any' || sensor.link === 'wireless'),
  );
}

/** One sensor by its id. */
export function sensorOf(context: LogContext, id: string | undefined): Sensor | undefined {
  return id === undefined ? undefined : context.page?.sensors.find((sensor) => sensor.id === id);
}

const SENSES: Readonly<Record<Sensor['senses'], string>> = texts({
  rain: 'field.sensor.rain',
  freeze: 'field.sensor.freeze',
  'rain-and-freeze': 'field.sensor.rain-and-freeze',
});

/** What a sensor is called on site: what it senses and where it hangs. */
export function sensorName(sensor: Sensor): string {
  return sensor.location === '' ? SENSES[sensor.senses] : `${SENSES[sensor.senses]}, ${sensor.location}`;
}

/** Picks one of the property's sensors; a single one is only named. */
export function SensorPick({
  context,
  link,
  value,
  onChange,
}: {
  context: LogContext;
  link: 'wireless' | 'any';
  value: string;
  onChange: (sensor: Sensor) => void;
}) {
  const sensors = sensorsOf(context, link);
  if (sensors.length === 1 && sensors[0] !== undefined)
    return (
      <p className="fd-fact">
        <strong>{sensorName(sensors[0])}</strong>
      </p>
    );
  return (
    <Choice
      label={say('field.whichSensor')}
      value={value}
      options={sensors.map((sensor) => ({ id: sensor.id, word: sensorName(sensor) }))}
      onChange={(id) => {
        const sensor = sensors.find((one) => one.id === id);
        if (sensor !== undefined) onChange(sensor);
      }}
    />
  );
}

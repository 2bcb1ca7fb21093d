import { useState } from 'react';
import { addMonths, daysBetween } from '../../../core/dates.ts';
import type { Sensor } from '../../../core/contract/entities.ts';
import { Button, EmptyState, formatAway, formatDate, formatMeasure, Section, wordsOf } from '../../parts/index.ts';
import { useSettings, useUnits } from '../../state/use-settings.ts';
import { SensorForm } from '../forms/sensor-form.tsx';
import type { OpenProperty } from './use-property-editor.ts';

/** Rain and freeze sensors: what they do, how old the battery is, what the last check found. */
export function SensorsSection({ data, today, onLog }: { data: OpenProperty; today: string; onLog: () => void }) {
  const [editing, setEditing] = useState<{ sensor: Sensor | null } | null>(null);
  const sensors = data.sensors.filter((sensor) => !sensor.retired);
  return (
    <Section
      title="Sensors"
      actions={
        <>
          <Button look="quiet" onPress={() => setEditing({ sensor: null })}>
            Add sensor
          </Button>
          {sensors.length === 0 ? null : (
            <Button look="quiet" onPress={onLog}>
              Log sensor check
            </Button>
          )}
        </>
      }
    >
      {sensors.length === 0 ? (
        <EmptyState title="No rain or freeze sensor">
          On a freeze night a property without a working sensor is one to call. If there is one on the eaves, add it
          with its battery date.
        </EmptyState>
      ) : (
        <ul className="sensors">
          {sensors.map((sensor) => (
            <li key={sensor.id}>
              <div className="sensor-head">
                <h3>{wordsOf(sensor.senses)}</h3>
                <span className="quiet small">
                  {[wordsOf(sensor.link), sensor.model, sensor.location].filter((part) => part !== '').join(' · ')}
                </span>
                <Button
                  look="quiet"
                  aria-label={`Edit ${wordsOf(sensor.senses).toLowerCase()} sensor ${sensor.location}`}
                  onPress={() => setEditing({ sensor })}
                >
                  Edit
                </Button>
              </div>
              <div className="sensor-body">
                {sensor.link === 'wireless' ? (
                  <BatteryAge sensor={sensor} today={today} />
                ) : (
                  <p className="quiet">Wired: no battery.</p>
                )}
                <LastCheck sensor={sensor} today={today} />
              </div>
            </li>
          ))}
        </ul>
      )}
      {editing === null ? null : <SensorForm data={data} sensor={editing.sensor} onClose={() => setEditing(null)} />}
    </Section>
  );
}

/** The battery as a battery: what is left of the life the company counts on. An estimate by age, not a reading. */
function BatteryAge({ sensor, today }: { sensor: Sensor; today: string }) {
  const months = useSettings()?.batteryLifeMonths ?? 12;
  const type = sensor.batteryType === '' ? 'battery type not known' : `${sensor.batteryCells} × ${sensor.batteryType}`;
  if (sensor.batteryDate === null)
    return (
      <p className="battery-words">
        <strong>Battery date not known</strong>
        <span className="quiet">{type}</span>
      </p>
    );
  const due = addMonths(sensor.batteryDate, months);
  const life = daysBetween(sensor.batteryDate, due);
  const left = Math.max(0, Math.min(1, daysBetween(today, due) / life));
  const state = due <= today ? 'late' : left < 0.2 ? 'due' : 'good';
  const sayState =
    state === 'late'
      ? `due since ${formatDate(due)}`
      : state === 'due'
        ? `due ${formatAway(due, today)}`
        : `good until about ${formatDate(due)}`;
  return (
    <div className={`battery ${state}`}>
      <svg
        width="84"
        height="30"
        viewBox="0 0 84 30"
        role="img"
        aria-label={`Battery: about ${Math.round(left * 100)} % of its usual life left, by age`}
      >
        <rect className="battery-case" x="1" y="1" width="74" height="28" rx="4" />
        <rect className="battery-cap" x="76" y="9" width="6" height="12" rx="1.5" />
        <rect className="battery-fill" x="5" y="5" width={66 * left} height="20" rx="1.5" />
        {[0.25, 0.5, 0.75].map((share) => (
          <line key={share} className="battery-tick" x1={5 + 66 * share} x2={5 + 66 * share} y1="5" y2="25" />
        ))}
      </svg>
      <p className="battery-words">
        <strong>{sayState}</strong>
        <span className="quiet">
          {type}, put in {formatDate(sensor.batteryDate)} ({formatAway(sensor.batteryDate, today)})
        </span>
      </p>
    </div>
  );
}

function LastCheck({ sensor, today }: { sensor: Sensor; today: string }) {
  const units = useUnits();
  const points = [
    sensor.rainSetPointInches === null ? null : `rain ${formatMeasure('depth', sensor.rainSetPointInches, units)}`,
    sensor.freezeSetPointF === null ? null : `freeze ${formatMeasure('temperature', sensor.freezeSetPointF, units)}`,
  ].filter((part) => part !== null);
  return (
    <p className="battery-words">
      {sensor.lastCheckDate === null ? (
        <strong>Never checked</strong>
      ) : (
        <strong className={sensor.lastCheckPassed === false ? 'bad' : ''}>
          {sensor.lastCheckPassed === null ? 'Checked' : sensor.lastCheckPassed ? 'Passed' : '▲ Failed'}{' '}
          {formatDate(sensor.lastCheckDate)} <span className="quiet">({formatAway(sensor.lastCheckDate, today)})</span>
        </strong>
      )}
      <span className="quiet">
        {[
          sensor.lastSignal === null ? null : `signal ${sensor.lastSignal}`,
          sensor.cellsGood === null ? null : `${sensor.cellsGood} of ${sensor.batteryCells} cells good`,
          points.length === 0 ? null : `trips at ${points.join(', ')}`,
        ]
          .filter((part) => part !== null)
          .join(' · ')}
      </span>
    </p>
  );
}

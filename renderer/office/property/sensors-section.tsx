import { useState } from 'react';
import { addMonths, daysBetween } from '../../../core/dates.ts';
import type { Sensor } from '../../../core/properties/contract.ts';
import { Button, EmptyState, formatAway, Section, wordsOf } from '../../parts/index.ts';
import { useSettings } from '../../state/use-settings.ts';
import { say, texts } from '../../state/say.ts';
import { SensorForm } from './edit/sensor-form.tsx';
import type { OpenProperty } from './use-property-editor.ts';

/** Rain and freeze sensors: what they do, how old the battery is, what the last check found. */
export function SensorsSection({ data, today, onLog }: { data: OpenProperty; today: string; onLog: () => void }) {
  const [editing, setEditing] = useState<{ sensor: Sensor | null } | null>(null);
  const sensors = data.sensors.filter((sensor) => !sensor.retired);
  return (
    <Section
      title={say('property.sensors.title')}
      actions={
        <>
          <Button look="quiet" onPress={() => setEditing({ sensor: null })}>
            {say('property.sensors.add')}
          </Button>
          {sensors.length === 0 ? null : (
            <Button look="quiet" onPress={onLog}>
              {say('property.sensors.logCheck')}
            </Button>
          )}
        </>
      }
    >
      {sensors.length === 0 ? (
        <EmptyState title={say('property.sensors.none')}>{say('property.sensors.noneWhy')}</EmptyState>
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
                  aria-label={say('property.sensors.editNamed', {
                    senses: wordsOf(sensor.senses),
                    location: sensor.location,
                  })}
                  onPress={() => setEditing({ sensor })}
                >
                  {say('property.zones.edit')}
                </Button>
              </div>
              <div className="sensor-body">
                {sensor.link === 'wireless' ? (
                  <BatteryAge sensor={sensor} today={today} />
                ) : (
                  <p className="quiet">{say('property.sensors.wiredNoBattery')}</p>
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
  const type =
    sensor.batteryType === '' ? say('property.sensors.typeNotKnown') : `${sensor.batteryCells} × ${sensor.batteryType}`;
  if (sensor.batteryDate === null)
    return (
      <p className="battery-words">
        <strong>{say('property.sensors.dateNotKnown')}</strong>
        <span className="quiet">{type}</span>
      </p>
    );
  const due = addMonths(sensor.batteryDate, months);
  const life = daysBetween(sensor.batteryDate, due);
  const left = Math.max(0, Math.min(1, daysBetween(today, due) / life));
  const state = due <= today ? 'late' : left < 0.2 ? 'due' : 'good';
  const sayState =
    state === 'late'
      ? say('property.sensors.dueSince', { date: due })
      : state === 'due'
        ? say('property.sensors.dueAway', { away: formatAway(due, today) })
        : say('property.sensors.goodUntil', { date: due });
  return (
    <div className={`battery ${state}`}>
      <svg
        width="84"
        height="30"
        viewBox="0 0 84 30"
        role="img"
        aria-label={say('property.sensors.batteryLeft', { percent: Math.round(left * 100) })}
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
          {say('property.sensors.putIn', {
            type,
            date: sensor.batteryDate,
            away: formatAway(sensor.batteryDate, today),
          })}
        </span>
      </p>
    </div>
  );
}

const SIGNALS = texts({
  strong: 'property.sensors.signal.strong',
  weak: 'property.sensors.signal.weak',
  none: 'property.sensors.signal.none',
  'not-tested': 'property.sensors.signal.not-tested',
});

function sayTripPoints({ rainSetPointInches: rainInches, freezeSetPointF: freezeF }: Sensor): string | null {
  if (rainInches !== null && freezeF !== null) return say('property.sensors.tripsAtBoth', { rainInches, freezeF });
  if (rainInches !== null) return say('property.sensors.tripsAtRain', { rainInches });
  return freezeF === null ? null : say('property.sensors.tripsAtFreeze', { freezeF });
}

function LastCheck({ sensor, today }: { sensor: Sensor; today: string }) {
  return (
    <p className="battery-words">
      {sensor.lastCheckDate === null ? (
        <strong>{say('property.sensors.neverChecked')}</strong>
      ) : (
        <strong className={sensor.lastCheckPassed === false ? 'bad' : ''}>
          {say('property.sensors.checkedOn', { date: sensor.lastCheckDate, passed: sensor.lastCheckPassed })}{' '}
          <span className="quiet">({formatAway(sensor.lastCheckDate, today)})</span>
        </strong>
      )}
      <span className="quiet">
        {[
          sensor.lastSignal === null ? null : SIGNALS[sensor.lastSignal],
          sensor.cellsGood === null
            ? null
            : say('property.sensors.cellsGood', { good: sensor.cellsGood, cells: sensor.batteryCells }),
          sayTripPoints(sensor),
        ]
          .filter((part) => part !== null)
          .join(' · ')}
      </span>
    </p>
  );
}

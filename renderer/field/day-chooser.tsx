import { useState } from 'react';
import type { Technician } from '../../core/people/contract.ts';
import { addDays } from '../../core/dates.ts';
import { EmptyState } from '../parts/layout.tsx';
import { ButtonLink } from '../parts/button.tsx';
import { formatWindow } from '../parts/format.ts';
import { dayName } from './day-words.ts';
import { say } from '../state/say.ts';

/** Who is out today, and which day is looked at. */
export function DayChooser({
  technicians,
  technicianId,
  date,
  today,
  onChoose,
}: {
  technicians: readonly Technician[];
  technicianId: string | null;
  date: string;
  today: string;
  onChoose: (technicianId: string, date: string) => void;
}) {
  const [day, setDay] = useState(date);
  const active = technicians.filter((technician) => technician.active);
  if (active.length === 0) {
    return (
      <div className="fd-chooser">
        <EmptyState
          title={say('field.noTechnicians')}
          action={
            <ButtonLink big href="#/company/people">
              {say('field.addTechnicians')}
            </ButtonLink>
          }
        >
          {say('field.noTechniciansWhy')}
        </EmptyState>
      </div>
    );
  }
  return (
    <div className="fd-chooser">
      <h1>{say('field.whoseDay')}</h1>
      <div className="fd-days" role="group" aria-label={say('field.day')}>
        {[-1, 0, 1].map((step) => {
          const one = addDays(today, step);
          return (
            <button key={one} type="button" className="fd-day" aria-pressed={day === one} onClick={() => setDay(one)}>
              {step === 0
                ? say('field.day.today')
                : step === 1
                  ? say('field.day.tomorrow')
                  : say('field.day.yesterday')}
            </button>
          );
        })}
        <label className="fd-text fd-day-other">
          <span>{say('field.anotherDay')}</span>
          <input
            type="date"
            value={day}
            onChange={(event) => {
              if (event.target.value !== '') setDay(event.target.value);
            }}
          />
        </label>
      </div>
      <p className="fd-quiet" role="status">
        {dayName(day, today)}
      </p>
      <ul className="fd-people">
        {active.map((technician) => (
          <li key={technician.id}>
            <button
              type="button"
              className="fd-person"
              aria-current={technician.id === technicianId || undefined}
              onClick={() => onChoose(technician.id, day)}
            >
              <strong>{technician.name}</strong>
              <span className="fd-quiet">
                {technician.id === technicianId
                  ? say('field.chosenLast')
                  : formatWindow(technician.dayStart, technician.dayEnd)}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

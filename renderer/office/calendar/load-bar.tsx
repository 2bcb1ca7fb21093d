import { readLoad } from './calendar-model.ts';
import type { DayLoad } from './calendar-model.ts';
import { say } from '../../state/say.ts';

const SIGNS = { off: '', room: '', 'nearly-full': '◕', full: '■', over: '▲', unassigned: '' } as const;

/** How full a technician's day is: a bar, a sign and a word. */
export function LoadBar({ load, who, day }: { load: DayLoad | undefined; who: string; day: string }) {
  const reading = readLoad(load);
  if (reading.state === 'unassigned' && reading.word === '') return <div className="load" aria-hidden="true" />;
  const booked = load?.bookedMinutes ?? 0;
  const room = load?.availableMinutes ?? 0;
  const spoken =
    reading.state === 'unassigned'
      ? say('calendar.withNobody', { span: reading.word })
      : `${who}, ${day}: ${reading.word}; ${say('calendar.bookedOf', { booked, room })}`;
  return (
    <div className={`load ${reading.state}`} title={say('calendar.bookedNoDriving', { booked, room })}>
      <span className="visually-hidden">{spoken}</span>
      {reading.state === 'unassigned' ? null : (
        <svg className="load-bar" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
          <rect className="load-room" x="0" y="0" width="100" height="8" />
          <rect className="load-booked" x="0" y="0" width={Math.min(reading.share, 1) * 100} height="8" />
          <path className="load-ticks" d="M25 0v8M50 0v8M75 0v8" vectorEffect="non-scaling-stroke" />
        </svg>
      )}
      <span className="load-word" aria-hidden="true">
        {SIGNS[reading.state] === '' ? null : <span className="load-sign">{SIGNS[reading.state]}</span>}
        {reading.word}
      </span>
    </div>
  );
}

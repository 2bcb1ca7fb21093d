import { Button as AriaButton } from 'react-aria-components';
import { formatWeekday } from '../../parts/index.ts';
import type { DayLoad } from './calendar-model.ts';
import { say, words } from '../../state/say.ts';

/** On a narrow screen: the week's days to choose from, each with how full it is. */
export function DayStrip({
  days,
  chosen,
  today,
  loads,
  onChoose,
}: {
  days: string[];
  chosen: string;
  today: string;
  loads: ReadonlyMap<string, DayLoad>;
  onChoose: (date: string) => void;
}) {
  return (
    <nav className="day-strip" aria-label={say('calendar.dayOfWeek')}>
      {days.map((date) => {
        const total = { bookedMinutes: 0, availableMinutes: 0 };
        for (const load of loads.values()) {
          if (load.date !== date) continue;
          total.bookedMinutes += load.bookedMinutes;
          total.availableMinutes += load.availableMinutes;
        }

        return (
          <AriaButton
            key={date}
            className="day-tab"
            aria-current={date === chosen ? 'date' : undefined}
            onPress={() => onChoose(date)}
          >
            <span>{formatWeekday(date)}</span>
            <strong>{date === today ? say('parts.today') : words().dayOfMonth(date)}</strong>
            <span className="small quiet">{roughly(total)}</span>
          </AriaButton>
        );
      })}
    </nav>
  );
}

/** As much as fits under a day's name. */
function roughly(load: { bookedMinutes: number; availableMinutes: number }): string {
  const left = load.availableMinutes - load.bookedMinutes;
  if (load.availableMinutes === 0) return load.bookedMinutes === 0 ? say('calendar.off') : `${say('calendar.off')} !`;
  return left <= 0
    ? `${say('calendar.full')} ■`
    : say('calendar.left', { minutes: left < 90 ? left : Math.floor(left / 60) * 60 });
}

import { addDays } from '../../../core/dates.ts';
import type { Route } from '../../../core/people/contract.ts';
import { BackIcon, Button, CheckField, SelectField } from '../../parts/index.ts';
import { monthsAround, weekOfMonth, weekTitle } from './calendar-model.ts';
import { say } from '../../state/say.ts';

export interface Filters {
  kind: string;
  routeId: string;
  weekend: boolean;
  cancelled: boolean;
}

/** Which week, which visits of it, and the way back. */
export function CalendarBar({
  weekStart,
  today,
  filters,
  onFilters,
  routes,
  kinds,
  onGoTo,
  trayOpen,
  onTray,
  lastUndo,
  onPrint,
}: {
  weekStart: string;
  today: string;
  filters: Filters;
  onFilters: (filters: Filters) => void;
  routes: Route[];
  kinds: { id: string; label: string }[];
  onGoTo: (date: string) => void;
  trayOpen: boolean;
  onTray: (open: boolean) => void;
  lastUndo: { label: string; run: () => Promise<void> } | null;
  onPrint: () => void;
}) {
  const set = (change: Partial<Filters>) => onFilters({ ...filters, ...change });
  const thursday = addDays(weekStart, 3);
  return (
    <header className="calendar-bar">
      <div className="calendar-when">
        <Button
          className="icon-button"
          aria-label={say('calendar.weekBefore')}
          onPress={() => onGoTo(addDays(weekStart, -7))}
        >
          <BackIcon />
        </Button>
        <Button onPress={() => onGoTo(today)}>{say('calendar.today')}</Button>
        <Button
          className="icon-button turn"
          aria-label={say('calendar.weekAfter')}
          onPress={() => onGoTo(addDays(weekStart, 7))}
        >
          <BackIcon />
        </Button>
        <h1 aria-live="polite">{weekTitle(weekStart)}</h1>
      </div>
      <div className="calendar-filters">
        <SelectField
          className="calendar-month"
          label={say('calendar.goToMonth')}
          hideLabel
          value={thursday.slice(0, 7)}
          onChange={(month) => onGoTo(weekOfMonth(month))}
          options={monthsAround(thursday, today)}
        />
        <SelectField
          label={say('calendar.kindOfVisit')}
          hideLabel
          value={filters.kind}
          onChange={(kind) => set({ kind })}
          options={[{ id: '', label: say('calendar.allKinds') }, ...kinds]}
        />
        <SelectField
          label={say('calendar.route')}
          hideLabel
          value={filters.routeId}
          onChange={(routeId) => set({ routeId })}
          options={[
            { id: '', label: say('calendar.allRoutes') },
            ...routes.map(({ id, name }) => ({ id, label: name })),
          ]}
        />
        <CheckField label={say('calendar.weekend')} value={filters.weekend} onChange={(weekend) => set({ weekend })} />
        <CheckField
          label={say('calendar.cancelled')}
          value={filters.cancelled}
          onChange={(cancelled) => set({ cancelled })}
        />
      </div>
      <div className="calendar-acts">
        <Button
          isDisabled={lastUndo === null}
          {...(lastUndo === null ? {} : { 'aria-label': lastUndo.label })}
          onPress={() => void lastUndo?.run()}
        >
          {say('calendar.undo')}
        </Button>
        <Button onPress={onPrint}>{say('calendar.printSheetsMore')}</Button>
        <Button aria-expanded={trayOpen} onPress={() => onTray(!trayOpen)}>
          {trayOpen ? say('calendar.hideTray') : say('calendar.showTray')}
        </Button>
      </div>
    </header>
  );
}

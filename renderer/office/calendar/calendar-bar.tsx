import { addDays } from '../../../core/dates.ts';
import type { Route } from '../../../core/contract/entities.ts';
import { BackIcon, Button, CheckField, SelectField } from '../../parts/index.ts';
import { monthsAround, weekOfMonth, weekTitle } from './calendar-model.ts';

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
        <Button className="icon-button" aria-label="Week before" onPress={() => onGoTo(addDays(weekStart, -7))}>
          <BackIcon />
        </Button>
        <Button onPress={() => onGoTo(today)}>Today</Button>
        <Button className="icon-button turn" aria-label="Week after" onPress={() => onGoTo(addDays(weekStart, 7))}>
          <BackIcon />
        </Button>
        <h1 aria-live="polite">{weekTitle(weekStart)}</h1>
      </div>
      <div className="calendar-filters">
        <SelectField
          className="calendar-month"
          label="Go to month"
          hideLabel
          value={thursday.slice(0, 7)}
          onChange={(month) => onGoTo(weekOfMonth(month))}
          options={monthsAround(thursday, today)}
        />
        <SelectField
          label="Kind of visit"
          hideLabel
          value={filters.kind}
          onChange={(kind) => set({ kind })}
          options={[{ id: '', label: 'All kinds' }, ...kinds]}
        />
        <SelectField
          label="Route"
          hideLabel
          value={filters.routeId}
          onChange={(routeId) => set({ routeId })}
          options={[{ id: '', label: 'All routes' }, ...routes.map(({ id, name }) => ({ id, label: name }))]}
        />
        <CheckField label="Weekend" value={filters.weekend} onChange={(weekend) => set({ weekend })} />
        <CheckField label="Cancelled" value={filters.cancelled} onChange={(cancelled) => set({ cancelled })} />
      </div>
      <div className="calendar-acts">
        <Button
          isDisabled={lastUndo === null}
          {...(lastUndo === null ? {} : { 'aria-label': lastUndo.label })}
          onPress={() => void lastUndo?.run()}
        >
          Undo
        </Button>
        <Button onPress={onPrint}>Print day sheets…</Button>
        <Button aria-expanded={trayOpen} onPress={() => onTray(!trayOpen)}>
          {trayOpen ? 'Hide to-book list' : 'Show to-book list'}
        </Button>
      </div>
    </header>
  );
}

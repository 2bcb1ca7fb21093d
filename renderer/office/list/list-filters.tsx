import { DUE_KINDS } from '../../../core/contract/clients.ts';
import { SEASON_STATES } from '../../../core/contract/entities.ts';
import { DUE_WORDS, SEASON_WORDS, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useListView } from './list-view.ts';
import type { ListView } from './list-view.ts';

/** Stands among the seasons: the clients and properties no longer in use. */
export const PUT_AWAY = 'put-away';
type Choose = (change: Partial<ListView>) => void;

/** Route, season and what is due: the three ways to narrow the list besides typing. */
export function ListFilters({ onChoose }: { onChoose: Choose }) {
  const view = useListView();
  const routes = useRequest('people.list', {}).data?.routes ?? [];
  return (
    <div className="filters">
      <SelectField
        label="Route"
        hideLabel
        value={view.routeId}
        onChange={(routeId) => onChoose({ routeId })}
        options={[{ id: '', label: 'All routes' }, ...routes.map((route) => ({ id: route.id, label: route.name }))]}
      />
      <SelectField
        label="Season"
        hideLabel
        value={view.season}
        onChange={(season) => onChoose({ season })}
        options={[
          { id: '', label: 'Any season' },
          ...SEASON_STATES.map((id) => ({ id, label: SEASON_WORDS[id] })),
          { id: PUT_AWAY, label: 'Put away' },
        ]}
      />
      <SelectField
        label="What is due"
        hideLabel
        value={view.due}
        onChange={(due) => onChoose({ due })}
        options={[{ id: '', label: 'Due or not' }, ...DUE_KINDS.map((id) => ({ id, label: DUE_WORDS[id] }))]}
      />
    </div>
  );
}

const SORTS = [
  { id: 'name', label: 'by name' },
  { id: 'street', label: 'by street' },
  { id: 'route', label: 'by route' },
  { id: 'season', label: 'by season' },
  { id: 'next-visit', label: 'by next visit' },
];

/** The order of the list. */
export function ListOrder({ onChoose }: { onChoose: Choose }) {
  const sort = useListView((view) => view.sort);
  return (
    <SelectField
      className="sort"
      label="Order"
      hideLabel
      value={sort}
      onChange={(next) => onChoose({ sort: next })}
      options={SORTS}
    />
  );
}

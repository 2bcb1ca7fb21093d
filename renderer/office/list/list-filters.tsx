import { DUE_KINDS } from '../../../core/due/contract.ts';
import { SEASON_STATES } from '../../../core/due/contract.ts';
import { DUE_WORDS, SEASON_WORDS, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { say, texts } from '../../state/say.ts';
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
        label={say('office.route')}
        hideLabel
        value={view.routeId}
        onChange={(routeId) => onChoose({ routeId })}
        options={[
          { id: '', label: say('office.allRoutes') },
          ...routes.map((route) => ({ id: route.id, label: route.name })),
        ]}
      />
      <SelectField
        label={say('office.season')}
        hideLabel
        value={view.season}
        onChange={(season) => onChoose({ season })}
        options={[
          { id: '', label: say('office.anySeason') },
          ...SEASON_STATES.map((id) => ({ id, label: SEASON_WORDS[id] })),
          { id: PUT_AWAY, label: say('office.putAway') },
        ]}
      />
      <SelectField
        label={say('office.whatIsDue')}
        hideLabel
        value={view.due}
        onChange={(due) => onChoose({ due })}
        options={[{ id: '', label: say('office.dueOrNot') }, ...DUE_KINDS.map((id) => ({ id, label: DUE_WORDS[id] }))]}
      />
    </div>
  );
}

const SORTS = ['name', 'street', 'route', 'season', 'next-visit'] as const;
const SORT_WORDS = texts({
  name: 'office.by.name',
  street: 'office.by.street',
  route: 'office.by.route',
  season: 'office.by.season',
  'next-visit': 'office.by.next-visit',
});

/** The order of the list. */
export function ListOrder({ onChoose }: { onChoose: Choose }) {
  const sort = useListView((view) => view.sort);
  return (
    <SelectField
      className="sort"
      label={say('office.order')}
      hideLabel
      value={sort}
      onChange={(next) => onChoose({ sort: next })}
      options={SORTS.map((id) => ({ id, label: SORT_WORDS[id] }))}
    />
  );
}

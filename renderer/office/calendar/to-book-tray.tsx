import { useEffect, useMemo, useState } from 'react';
import {
  Button as AriaButton,
  Checkbox,
  GridList,
  GridListItem,
  ListLayout,
  useDragAndDrop,
  Virtualizer,
} from 'react-aria-components';
import type { Selection } from 'react-aria-components';
import { DUE_KINDS } from '../../../core/due/contract.ts';
import type { DueItem, DueKind } from '../../../core/due/contract.ts';
import {
  Button,
  DueMark,
  DUE_WORDS,
  EmptyState,
  ErrorNote,
  formatCount,
  formatDay,
  formatSpan,
  SelectField,
  TextField,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { GripIcon } from './calendar-icons.tsx';
import { dueKey, oneStopEach } from './calendar-model.ts';
import { DUE_DRAG } from './drag-types.ts';
import { say } from '../../state/say.ts';

const AHEAD = ['14', '30', '60', '120', '366'] as const;
const MOST = 500;
const ROW_HEIGHT = 78;
const NO_ITEMS: DueItem[] = [];

/** What is due and not booked: to be dragged onto a day, or booked by a form. */
export function ToBookTray({
  routeId,
  gone,
  onBook,
  onItems,
}: {
  routeId: string;
  gone: ReadonlySet<string>;
  onBook: (items: DueItem[]) => void;
  /** What the tray holds, for those who take a drop. */
  onItems: (items: DueItem[]) => void;
}) {
  const [kind, setKind] = useState<DueKind | ''>('');
  const [ahead, setAhead] = useState('60');
  const [search, setSearch] = useState('');
  const [selected, setSelected] = useState<Selection>(new Set());
  const due = useRequest('due.list', {
    horizonDays: Number(ahead),
    routeId: routeId === '' ? null : routeId,
    limit: MOST,
    ...(kind === '' ? {} : { kinds: [kind] }),
  });
  const answer = due.data;
  const all = useMemo(() => oneStopEach(answer?.items ?? NO_ITEMS), [answer]);
  useEffect(() => onItems(all), [all, onItems]);
  const items = useMemo(() => {
    const wanted = search.trim().toLowerCase();
    return all.filter(
      (item) =>
        !gone.has(dueKey(item)) &&
        (wanted === '' ||
          `${item.street} ${item.city} ${item.clientName} ${item.phone}`.toLowerCase().includes(wanted)),
    );
  }, [all, gone, search]);
  const chosen = selected === 'all' ? items : items.filter((item) => selected.has(dueKey(item)));
  const { dragAndDropHooks } = useDragAndDrop<DueItem>({
    getItems: (keys, dragged) =>
      [...keys].map((key, index) => ({ [DUE_DRAG]: String(key), 'text/plain': dragged[index]?.street ?? '' })),
    getAllowedDropOperations: () => ['move'],
    renderDragPreview: (dragged) => (
      <div className="drag-preview">
        {dragged.length === 1 ? dragged[0]?.['text/plain'] : say('calendar.visits', { count: dragged.length })}
      </div>
    ),
  });
  const counts = answer?.counts;
  return (
    <aside className="tray" aria-label={say('calendar.toBook')}>
      <div className="tray-head">
        <h2>
          {say('calendar.toBook')}
          {answer === undefined ? null : <span className="quiet"> {formatCount(answer.total)}</span>}
        </h2>
        {chosen.length > 0 ? (
          <Button look="primary" onPress={() => onBook(chosen)}>
            {say('calendar.bookChosen', { count: chosen.length })}
          </Button>
        ) : null}
      </div>
      <div className="tray-filters">
        <SelectField
          label={say('calendar.what')}
          value={kind}
          onChange={(next) => {
            setKind(next as DueKind | '');
            setSelected(new Set());
          }}
          options={[
            { id: '', label: say('calendar.everything') },
            ...DUE_KINDS.map((id) => ({
              id,
              label:
                kind === '' && counts !== undefined
                  ? `${DUE_WORDS[id]} (${formatCount(counts[id] ?? 0)})`
                  : DUE_WORDS[id],
            })),
          ]}
        />
        <SelectField
          label={say('calendar.dueWithin')}
          value={ahead}
          onChange={setAhead}
          options={AHEAD.map((id) => ({ id, label: say(`calendar.ahead.${id}`) }))}
        />
        <TextField
          label={say('calendar.findInList')}
          type="search"
          value={search}
          onChange={setSearch}
          placeholder={say('calendar.streetClientPhone')}
          className="tray-find"
        />
      </div>
      {due.error === null ? null : <ErrorNote error={due.error} onRetry={due.reload} />}
      <Virtualizer layout={ListLayout} layoutOptions={{ rowHeight: ROW_HEIGHT }}>
        <GridList
          aria-label={say('calendar.dueNotBooked')}
          className="tray-list"
          items={items.map((item) => ({ ...item, id: dueKey(item) }))}
          selectionMode="multiple"
          selectedKeys={selected}
          onSelectionChange={setSelected}
          onAction={(key) => onBook(items.filter((item) => dueKey(item) === key))}
          dragAndDropHooks={dragAndDropHooks as never}
          renderEmptyState={() => (answer === undefined ? null : <TrayEmpty searched={search !== ''} />)}
        >
          {(item) => <DueCard item={item} />}
        </GridList>
      </Virtualizer>
      {answer !== undefined && answer.total > answer.items.length ? (
        <p className="tray-foot small quiet">{say('calendar.mostUrgent', { count: answer.items.length })}</p>
      ) : null}
      <p className="tray-foot small quiet">{say('calendar.dragOrEnter')}</p>
    </aside>
  );
}

function DueCard({ item }: { item: DueItem }) {
  const late = item.daysLate > 0;
  return (
    <GridListItem
      id={dueKey(item)}
      value={item}
      className="due-card"
      textValue={`${item.street}, ${DUE_WORDS[item.kind]}, ${say('calendar.dueOn', { day: formatDay(item.dueOn) })}, ${item.clientName}`}
    >
      <Checkbox slot="selection" className="check">
        <span className="check-box" aria-hidden="true">
          <svg viewBox="0 0 16 16">
            <path d="M3 8.500l3.200 3.200L13 4.800" />
          </svg>
        </span>
      </Checkbox>
      <span className="visit-text">
        <span className="visit-street">{item.street}</span>
        <span className="visit-what">
          <DueMark kind={item.kind} late={late} />
          <span className="small">
            {late ? formatSpan(item.daysLate) : say('parts.by', { clock: formatDay(item.dueOn) })}
          </span>
        </span>
        <span className="visit-window">
          {item.clientName}
          {item.routeName === null ? '' : ` · ${item.routeName}`}
        </span>
      </span>
      <AriaButton slot="drag" className="grip" aria-label={say('calendar.pickUp', { street: item.street })}>
        <GripIcon />
      </AriaButton>
    </GridListItem>
  );
}

function TrayEmpty({ searched }: { searched: boolean }) {
  return searched ? (
    <EmptyState title={say('calendar.nothingByName')}>{say('calendar.clearSearch')}</EmptyState>
  ) : (
    <EmptyState title={say('calendar.nothingWaiting')}>{say('calendar.nothingWaitingWhy')}</EmptyState>
  );
}

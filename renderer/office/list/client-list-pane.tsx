import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { KeyboardEvent as ReactKeyboardEvent } from 'react';
import { useVirtualizer } from '@tanstack/react-virtual';
import type { ClientRow } from '../../../core/clients/contract.ts';
import type { DueKind } from '../../../core/due/contract.ts';
import type { SeasonState } from '../../../core/due/contract.ts';
import { Button, ButtonLink, EmptyState, ErrorNote, Kbd, Said, SearchIcon } from '../../parts/index.ts';
import { navigate } from '../../state/view.ts';
import { say } from '../../state/say.ts';
import { ClientListRow, hrefOfRow } from './client-list-row.tsx';
import { ListFilters, ListOrder, PUT_AWAY } from './list-filters.tsx';
import { useListView } from './list-view.ts';
import { useClientRows } from './use-client-rows.ts';
import type { ListQuery } from './use-client-rows.ts';

const ROW = 58;
// On a tablet the keyboard would come up over the list.
const HAS_KEYBOARD = window.matchMedia('(hover: hover)').matches;

/** One search field and the list. The field keeps the keyboard: letters search, arrows move, Enter opens. */
export function ClientListPane({ openId, onAddClient }: { openId: string | null; onAddClient: () => void }) {
  const { search, routeId, season, due, sort, cursor } = useListView();
  const set = useListView.setState;
  const setCursor = (next: number) => set({ cursor: next });
  const listId = useId();
  const input = useRef<HTMLInputElement>(null);
  const scroller = useRef<HTMLDivElement>(null);
  const query = useMemo<ListQuery>(
    () => ({
      search: search.trim().slice(0, 200),
      routeId: routeId === '' ? null : routeId,
      seasonState: season === '' || season === PUT_AWAY ? null : (season as SeasonState),
      archived: season === PUT_AWAY,
      due: due === '' ? null : (due as DueKind),
      sort: sort as NonNullable<ListQuery['sort']>,
    }),
    [search, routeId, season, due, sort],
  );
  const filtered = search.trim() !== '' || routeId !== '' || season !== '' || due !== '';

  const [range, setRange] = useState<[number, number]>([0, 40]);
  const rows = useClientRows(query, range[0], range[1]);
  const virtual = useVirtualizer({
    count: rows.total,
    initialOffset: useListView.getState().top,
    getScrollElement: () => scroller.current,
    estimateSize: () => ROW,
    overscan: 12,
    getItemKey: (index) => index,
  });
  const items = virtual.getVirtualItems();
  const first = items[0]?.index ?? 0;
  const last = items.at(-1)?.index ?? 40;
  useEffect(() => setRange((old) => (old[0] === first && old[1] === last ? old : [first, last])), [first, last]);
  // A new question starts at its top; an answer brought up to date keeps its place.
  const shownKey = JSON.stringify(rows.query);
  const startedAt = useRef<string | null>(null);
  const goneDown = useRef({ byKeys: false, byScroll: false });
  // Before the answer is drawn: whoever sees it and scrolls at once must not be thrown back.
  useLayoutEffect(() => {
    if (rows.first || startedAt.current === shownKey) return;
    const returning = startedAt.current === null;
    startedAt.current = shownKey;
    if (returning) return;
    // Whoever has already gone down the list while the answer was on its way stays where they are.
    if (goneDown.current.byKeys && useListView.getState().cursor < rows.total) return;
    set({ cursor: 0 });
    if (!goneDown.current.byScroll) scroller.current?.scrollTo({ top: 0 });
  }, [shownKey, rows.first, rows.total, set]);
  useTypeAnywhere(input);

  const open = (row: ClientRow | undefined, opts: { focusPage?: boolean } = {}) => {
    if (row === undefined) return;
    navigate(hrefOfRow(row));
    if (opts.focusPage === true)
      requestAnimationFrame(() => document.getElementById('property-page')?.focus({ preventScroll: true }));
  };
  const move = (to: number) => {
    const next = Math.max(0, Math.min(rows.total - 1, to));
    goneDown.current.byKeys = true;
    setCursor(next);
    virtual.scrollToIndex(next, { align: 'auto' });
  };
  const onKeyDown = (event: ReactKeyboardEvent) => {
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? 400) / ROW) - 1);
    const steps: Record<string, number> = {
      ArrowDown: cursor + 1,
      ArrowUp: cursor - 1,
      PageDown: cursor + page,
      PageUp: cursor - page,
    };
    const to = steps[event.key];
    if (to !== undefined) {
      event.preventDefault();
      move(to);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      // Enter pressed faster than the answer came: open what the answer says, not what stood there before.
      if (shownKey === JSON.stringify(query)) open(rows.rowAt(cursor), { focusPage: event.ctrlKey || event.metaKey });
      else openWhenThere.current = true;
    } else if (event.key === 'Escape') {
      event.preventDefault();
      goneDown.current = { byKeys: false, byScroll: false };
      if (search !== '') set({ search: '' });
      else if (filtered) clear();
    }
  };
  const openWhenThere = useRef(false);
  // After the effect that puts the cursor on the new answer's first row.
  useEffect(() => {
    if (!openWhenThere.current || shownKey !== JSON.stringify(query)) return;
    openWhenThere.current = false;
    open(rows.rowAt(Math.min(useListView.getState().cursor, rows.total - 1)));
  });
  const clear = () => {
    goneDown.current = { byKeys: false, byScroll: false };
    set({ search: '', routeId: '', season: '', due: '' });
    input.current?.focus();
  };

  return (
    <section className="list-pane" aria-label={say('office.clientsAndProperties')}>
      <div className="list-top">
        <div className="search">
          <SearchIcon />
          <input
            ref={input}
            id="client-search"
            type="text"
            role="combobox"
            aria-label={say('office.findClient')}
            aria-expanded="true"
            aria-controls={listId}
            aria-autocomplete="list"
            {...(rows.total > 0 ? { 'aria-activedescendant': `${listId}-${cursor}` } : {})}
            autoComplete="off"
            spellCheck={false}
            autoFocus={HAS_KEYBOARD}
            placeholder={say('office.nameStreetPhone')}
            value={search}
            onChange={(event) => {
              goneDown.current = { byKeys: false, byScroll: false };
              set({ search: event.target.value });
            }}
            onKeyDown={onKeyDown}
          />
          <Kbd>/</Kbd>
        </div>
        <ListFilters
          onChoose={(change) => {
            goneDown.current = { byKeys: false, byScroll: false };
            set(change);
          }}
        />
        <div className="list-count">
          <p role="status">
            {rows.first
              ? say('office.reading')
              : say(filtered ? 'office.found' : 'office.inList', { count: rows.total })}
          </p>
          {filtered ? (
            <Button look="quiet" onPress={clear}>
              {say('office.showAll')}
            </Button>
          ) : null}
          <ListOrder
            onChoose={(change) => {
              goneDown.current = { byKeys: false, byScroll: false };
              set(change);
            }}
          />
          <Button onPress={onAddClient}>{say('office.addClient')}</Button>
        </div>
      </div>
      {rows.error !== null ? <ErrorNote error={rows.error} onRetry={rows.reload} /> : null}
      {!rows.first && rows.total === 0 ? (
        <NoRows filtered={filtered} onClear={clear} onAddClient={onAddClient} />
      ) : null}
      <div
        id={listId}
        className="list-scroll"
        ref={scroller}
        role="listbox"
        aria-label={say('shell.clients')}
        tabIndex={rows.total > 0 ? 0 : -1}
        {...(rows.total > 0 ? { 'aria-activedescendant': `${listId}-${cursor}` } : {})}
        onKeyDown={onKeyDown}
        onScroll={(event) => {
          set({ top: event.currentTarget.scrollTop });
          if (shownKey !== JSON.stringify(query)) goneDown.current.byScroll = true;
        }}
      >
        <div role="presentation" className="rows" style={{ height: virtual.getTotalSize() }}>
          {items.map((item) => (
            <ClientListRow
              key={item.key}
              id={`${listId}-${item.index}`}
              row={rows.rowAt(item.index)}
              top={item.start}
              position={item.index + 1}
              total={rows.total}
              isCursor={item.index === cursor}
              isOpen={
                openId !== null &&
                (rows.rowAt(item.index)?.propertyId === openId || rows.rowAt(item.index)?.clientId === openId)
              }
              onPress={() => {
                setCursor(item.index);
                open(rows.rowAt(item.index));
              }}
            />
          ))}
        </div>
      </div>
      <p className="list-keys small quiet" aria-hidden="true">
        <Said
          text={say('office.listKeys')}
          parts={{ up: <Kbd>↑</Kbd>, down: <Kbd>↓</Kbd>, enter: <Kbd>Enter</Kbd>, escape: <Kbd>Esc</Kbd> }}
        />
      </p>
    </section>
  );
}

function NoRows({
  filtered,
  onClear,
  onAddClient,
}: {
  filtered: boolean;
  onClear: () => void;
  onAddClient: () => void;
}) {
  if (filtered) {
    return (
      <EmptyState
        title={say('office.nobody')}
        action={
          <>
            <Button onPress={onClear}>{say('office.showAll')}</Button>
            <Button onPress={onAddClient}>{say('office.addClient')}</Button>
          </>
        }
      >
        {say('office.nobodyWhy')}
      </EmptyState>
    );
  }
  return (
    <EmptyState
      title={say('office.emptyBook')}
      action={
        <>
          <ButtonLink href="#/office/import" look="primary">
            {say('office.importList')}
          </ButtonLink>
          <Button onPress={onAddClient}>{say('office.addFirst')}</Button>
        </>
      }
    >
      {say('office.emptyWhy')}
    </EmptyState>
  );
}

/** Letters typed anywhere on the page go to the search field; "/" only moves there. */
function useTypeAnywhere(input: { current: HTMLInputElement | null }) {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented || event.key.length !== 1) return;
      const target = event.target instanceof HTMLElement ? event.target : null;
      if (
        target?.closest(
          'input, textarea, select, [contenteditable], [role="grid"], [role="dialog"], [role="menu"], [role="listbox"], [aria-haspopup="listbox"]',
        )
      )
        return;
      if (document.querySelector('[role="dialog"]') !== null) return;
      if (event.key === ' ') return;
      if (event.key === '/') event.preventDefault();
      input.current?.focus();
      if (event.key !== '/') input.current?.select();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [input]);
}

import type { ClientRow } from '../../../core/clients/contract.ts';
import { DueMark, formatDay, SeasonMark } from '../../parts/index.ts';
import { say } from '../../state/say.ts';

/** Where a row leads: to its property, or to the client who has none yet. */
export function hrefOfRow(row: ClientRow): string {
  return row.propertyId === null ? `#/office/client/${row.clientId}` : `#/office/property/${row.propertyId}`;
}

/** One row of the home list: who, where, what is due, how far the season is. */
export function ClientListRow({
  id,
  row,
  top,
  position,
  total,
  isCursor,
  isOpen,
  onPress,
}: {
  id: string;
  row: ClientRow | undefined;
  top: number;
  position: number;
  total: number;
  isCursor: boolean;
  isOpen: boolean;
  onPress: () => void;
}) {
  const place = { transform: `translateY(${top}px)` };
  if (row === undefined) {
    return (
      <div
        id={id}
        role="option"
        aria-selected={false}
        aria-posinset={position}
        aria-setsize={total}
        className="row empty-row"
        style={place}
      >
        <span className="visually-hidden">{say('office.notReadYet')}</span>
      </div>
    );
  }
  const where =
    row.propertyId === null
      ? say('office.noPropertyYet')
      : row.label === ''
        ? row.street
        : `${row.street} · ${row.label}`;
  const shown = row.due.slice(0, 3);
  return (
    <div
      id={id}
      role="option"
      aria-selected={isOpen}
      aria-posinset={position}
      aria-setsize={total}
      className={`row${isCursor ? ' cursor' : ''}${isOpen ? ' open' : ''}`}
      style={place}
      onClick={onPress}
    >
      <span className="row-name">{row.clientName}</span>
      <span className="row-season">{row.seasonState === null ? null : <SeasonMark state={row.seasonState} />}</span>
      <span className="row-where">
        {where}
        {row.routeName === null ? '' : <span className="quiet"> · {row.routeName}</span>}
      </span>
      <span className="row-due">
        {shown.length === 1 && shown[0] !== undefined ? (
          <DueMark kind={shown[0]} />
        ) : (
          shown.map((kind) => <DueMark key={kind} kind={kind} iconOnly />)
        )}
        {row.due.length > shown.length ? <span className="small quiet">+{row.due.length - shown.length}</span> : null}
        {row.due.length === 0 && row.nextVisitDate !== null ? (
          <span className="small quiet">{formatDay(row.nextVisitDate)}</span>
        ) : null}
      </span>
    </div>
  );
}

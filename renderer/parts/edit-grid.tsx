import { useEffect, useRef, useState } from 'react';
import type { KeyboardEvent as ReactKeyboardEvent, ReactNode } from 'react';
import { say } from '../state/say.ts';
import type { Option } from './fields.tsx';

export type CellValue = string | number | boolean | null;

export interface GridColumn<Row> {
  id: string;
  label: string;
  /** Stands in the column head. */
  unit?: string;
  kind: 'text' | 'number' | 'select' | 'check' | 'static' | 'action';
  options?: readonly Option[];
  min?: number;
  max?: number;
  value?: (row: Row) => CellValue;
  /** How the value is shown; for 'static' and 'action' the whole content. */
  show?: (row: Row) => ReactNode;
  className?: string;
}

interface Place {
  row: number;
  column: number;
}

/**
 * A table edited in place. Arrows move, Enter or typing edits, Enter saves and goes down, Tab saves and goes on, Escape leaves the old value.
 * `onEdit` answers with a sentence when the value was not taken.
 */
export function EditGrid<Row>({
  label,
  rows,
  rowKey,
  rowName,
  columns,
  onEdit,
}: {
  label: string;
  rows: readonly Row[];
  rowKey: (row: Row) => string;
  rowName: (row: Row) => string;
  columns: ReadonlyArray<GridColumn<Row>>;
  onEdit: (row: Row, columnId: string, value: CellValue) => Promise<string | null>;
}) {
  const [active, setActive] = useState<Place>({ row: 0, column: 1 });
  const [editing, setEditing] = useState<{ place: Place; start: string | null } | null>(null);
  const [refused, setRefused] = useState<{ key: string; column: string; message: string } | null>(null);
  const table = useRef<HTMLTableElement>(null);
  const wantFocus = useRef(false);
  useEffect(() => {
    if (!wantFocus.current || editing !== null) return;
    wantFocus.current = false;
    focusTarget(table.current, active)?.focus();
  });

  const go = (row: number, column: number) => {
    wantFocus.current = true;
    setActive({
      row: Math.max(0, Math.min(rows.length - 1, row)),
      column: Math.max(0, Math.min(columns.length - 1, column)),
    });
  };
  const begin = (place: Place, start: string | null) => {
    const column = columns[place.column];
    const row = rows[place.row];
    if (column === undefined || row === undefined) return;
    setRefused(null);
    setActive(place);
    if (column.kind === 'check') void finish(row, column, !(column.value?.(row) === true));
    else if (column.kind !== 'static' && column.kind !== 'action') setEditing({ place, start });
  };
  const finish = async (row: Row, column: GridColumn<Row>, value: CellValue) => {
    if (value === (column.value?.(row) ?? null)) return;
    const message = await onEdit(row, column.id, value);
    setRefused(message === null ? null : { key: rowKey(row), column: column.id, message });
  };
  const onKeyDown = (event: ReactKeyboardEvent) => {
    if (editing !== null || event.altKey) return;
    const { row, column } = active;
    const kind = columns[column]?.kind;
    const jump = event.ctrlKey || event.metaKey;
    if (event.key === 'ArrowRight') go(row, column + 1);
    else if (event.key === 'ArrowLeft') go(row, column - 1);
    else if (event.key === 'ArrowDown') go(row + 1, column);
    else if (event.key === 'ArrowUp') go(row - 1, column);
    else if (event.key === 'Home') go(jump ? 0 : row, 0);
    else if (event.key === 'End') go(jump ? rows.length - 1 : row, columns.length - 1);
    else if (kind === 'action') return;
    else if (event.key === 'Enter' || event.key === 'F2' || (event.key === ' ' && kind !== 'text')) begin(active, null);
    else if (event.key.length === 1 && !jump && (kind === 'text' || kind === 'number')) begin(active, event.key);
    else return;
    event.preventDefault();
  };

  return (
    <div className="table-scroll">
      <table
        className="edit-grid"
        role="grid"
        aria-label={label}
        aria-rowcount={rows.length + 1}
        ref={table}
        onKeyDown={onKeyDown}
      >
        <thead>
          <tr role="row">
            {columns.map((column) => (
              <th
                key={column.id}
                role="columnheader"
                scope="col"
                className={`${column.kind === 'number' ? 'figure' : ''} ${column.className ?? ''}`}
              >
                {column.kind === 'action' ? <span className="visually-hidden">{column.label}</span> : column.label}
                {column.unit === undefined ? null : <span className="unit">{column.unit}</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, rowIndex) => (
            <tr key={rowKey(row)} role="row">
              {columns.map((column, columnIndex) => {
                const isEditing =
                  editing !== null && editing.place.row === rowIndex && editing.place.column === columnIndex;
                const isActive = active.row === rowIndex && active.column === columnIndex;
                const message =
                  refused !== null && refused.key === rowKey(row) && refused.column === column.id
                    ? refused.message
                    : null;
                const editable = column.kind !== 'static' && column.kind !== 'action';
                return (
                  <td
                    key={column.id}
                    role={columnIndex === 0 ? 'rowheader' : 'gridcell'}
                    data-cell={`${rowIndex}:${columnIndex}`}
                    tabIndex={column.kind === 'action' ? undefined : isActive && !isEditing ? 0 : -1}
                    aria-readonly={editable ? undefined : true}
                    aria-invalid={message === null ? undefined : true}
                    className={`cell cell-${column.kind} ${column.kind === 'number' ? 'figure' : ''}${editable ? ' editable' : ''}${message === null ? '' : ' refused'} ${column.className ?? ''}`}
                    onFocus={() => {
                      if (!isActive) setActive({ row: rowIndex, column: columnIndex });
                    }}
                    onClick={() => {
                      if (!isEditing && editable) begin({ row: rowIndex, column: columnIndex }, null);
                    }}
                  >
                    {isEditing ? (
                      <CellEditor
                        column={column}
                        label={`${column.label}${column.unit === undefined ? '' : `, ${column.unit}`}, ${rowName(row)}`}
                        value={column.value?.(row) ?? null}
                        start={editing.start}
                        onDone={(value, moved) => {
                          setEditing(null);
                          if (moved !== null) go(rowIndex + moved.down, columnIndex + moved.right);
                          if (value !== undefined) void finish(row, column, value);
                        }}
                      />
                    ) : column.show !== undefined ? (
                      column.show(row)
                    ) : column.kind === 'check' ? (
                      <Ticked on={column.value?.(row) === true} />
                    ) : (
                      String(column.value?.(row) ?? '–')
                    )}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      {refused === null ? null : (
        <p role="alert" className="field-error grid-error">
          {refused.message}
        </p>
      )}
    </div>
  );
}

function Ticked({ on }: { on: boolean }) {
  return on ? (
    <span>
      ✓<span className="visually-hidden">{say('parts.yes')}</span>
    </span>
  ) : (
    <span className="quiet">
      –<span className="visually-hidden">{say('parts.no')}</span>
    </span>
  );
}

function focusTarget(table: HTMLTableElement | null, place: Place): HTMLElement | null {
  const cell = table?.querySelector<HTMLElement>(`[data-cell="${place.row}:${place.column}"]`) ?? null;
  return cell?.querySelector<HTMLElement>('button, a') ?? cell;
}

interface Moved {
  down: number;
  right: number;
}

function CellEditor<Row>({
  column,
  label,
  value,
  start,
  onDone,
}: {
  column: GridColumn<Row>;
  label: string;
  value: CellValue;
  start: string | null;
  /** value undefined = leave as it was; moved null = focus went elsewhere by itself. */
  onDone: (value: CellValue | undefined, moved: Moved | null) => void;
}) {
  const [text, setText] = useState(start ?? (value === null ? '' : String(value)));
  const closed = useRef(false);
  const field = useRef<HTMLInputElement & HTMLSelectElement>(null);
  useEffect(() => {
    field.current?.focus();
    if (start === null && column.kind !== 'select') field.current?.select();
  }, [start, column.kind]);
  const done = (next: CellValue | undefined, moved: Moved | null) => {
    if (closed.current) return;
    closed.current = true;
    onDone(next, moved);
  };
  const read = (): CellValue | undefined => {
    if (column.kind === 'select') return text;
    if (column.kind === 'text') return text.trim();
    const plain = text.trim().replace(',', '.');
    if (plain === '') return null;
    const number = Number(plain);
    return Number.isFinite(number) ? number : undefined;
  };
  const onKeyDown = (event: ReactKeyboardEvent) => {
    event.stopPropagation();
    if (event.key === 'Escape') done(undefined, { down: 0, right: 0 });
    else if (event.key === 'Enter') done(read(), { down: column.kind === 'select' ? 0 : 1, right: 0 });
    else if (event.key === 'Tab') done(read(), { down: 0, right: event.shiftKey ? -1 : 1 });
    else return;
    event.preventDefault();
  };
  if (column.kind === 'select') {
    return (
      <select
        ref={field}
        className="cell-input"
        aria-label={label}
        value={text}
        onChange={(event) => setText(event.target.value)}
        onKeyDown={onKeyDown}
        onBlur={() => done(read(), null)}
      >
        {column.options?.map((option) => (
          <option key={option.id} value={option.id}>
            {option.label}
          </option>
        ))}
      </select>
    );
  }
  return (
    <input
      ref={field}
      className={`cell-input${column.kind === 'number' ? ' figure' : ''}`}
      aria-label={label}
      inputMode={column.kind === 'number' ? 'decimal' : 'text'}
      value={text}
      onChange={(event) => setText(event.target.value)}
      onKeyDown={onKeyDown}
      onBlur={() => done(read(), null)}
    />
  );
}

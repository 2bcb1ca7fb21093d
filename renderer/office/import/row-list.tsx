import { useVirtualizer } from '@tanstack/react-virtual';
import { useRef } from 'react';
import { ScrollRegion } from '../../parts/scroll-region.tsx';

interface Column<Row> {
  label: string;
  figure?: boolean;
  of: (row: Row) => string;
}

/** A table of thousands of rows, of which only those in view are drawn. */
export function RowList<Row>({
  label,
  rows,
  columns,
  template,
}: {
  label: string;
  rows: readonly Row[];
  columns: readonly Column<Row>[];
  template: string;
}) {
  const scroller = useRef<HTMLDivElement>(null);
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => 34,
    overscan: 12,
  });
  const style = { gridTemplateColumns: template };
  return (
    <ScrollRegion className="row-list" label={label} ref={scroller}>
      <div role="table" aria-label={label} aria-rowcount={rows.length + 1} className="row-table">
        <div role="rowgroup">
          <div role="row" aria-rowindex={1} className="row-line row-head" style={style}>
            {columns.map((column) => (
              <span key={column.label} role="columnheader" className={column.figure === true ? 'figure' : ''}>
                {column.label}
              </span>
            ))}
          </div>
        </div>
        <div role="rowgroup" style={{ height: virtual.getTotalSize(), position: 'relative' }}>
          {virtual.getVirtualItems().map((item) => {
            const row = rows[item.index];
            if (row === undefined) return null;
            return (
              <div
                key={item.key}
                ref={virtual.measureElement}
                data-index={item.index}
                role="row"
                aria-rowindex={item.index + 2}
                className="row-line"
                style={{ ...style, position: 'absolute', insetInline: 0, transform: `translateY(${item.start}px)` }}
              >
                {columns.map((column) => (
                  <span key={column.label} role="cell" className={column.figure === true ? 'figure' : ''}>
                    {column.of(row)}
                  </span>
                ))}
              </div>
            );
          })}
        </div>
      </div>
    </ScrollRegion>
  );
}

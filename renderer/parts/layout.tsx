import { useId, useState } from 'react';
import type { ReactNode } from 'react';
import { ProgressBar } from 'react-aria-components';
import type { Progress as ProgressState } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';
import { Button } from './button.tsx';
import { WarnIcon } from './icons.tsx';
import { say, sayError, sayTold } from '../state/say.ts';

/** A part of a page with its label at the side, as on a well-kept valve box. */
export function Section({
  title,
  note,
  actions,
  children,
  id,
  wide = false,
}: {
  title: string;
  note?: ReactNode;
  actions?: ReactNode;
  children: ReactNode;
  id?: string;
  /** The label stands above, for what needs the whole width. */ wide?: boolean;
}) {
  const heading = useId();
  return (
    <section className={`section${wide ? ' wide' : ''}`} aria-labelledby={heading} id={id}>
      <header className="section-head">
        <h2 id={heading}>{title}</h2>
        {note === undefined || note === null ? null : <p className="section-note">{note}</p>}
        {actions === undefined || actions === null ? null : <div className="section-actions">{actions}</div>}
      </header>
      <div className="section-body">{children}</div>
    </section>
  );
}

/** Says what would be here and how to make it so. */
export function EmptyState({
  title,
  children,
  action,
  art,
}: {
  title: string;
  children?: ReactNode;
  action?: ReactNode;
  art?: ReactNode;
}) {
  return (
    <div className="empty">
      {art}
      <h3>{title}</h3>
      {children === undefined ? null : <p>{children}</p>}
      {action === undefined ? null : <div className="empty-actions">{action}</div>}
    </div>
  );
}

/** What went wrong and how to go on. */
export function ErrorNote({
  error,
  onRetry,
  action,
}: {
  error: Failure | string;
  onRetry?: () => void;
  action?: ReactNode;
}) {
  return (
    <div className="error-note" role="alert">
      <WarnIcon />
      <p>{typeof error === 'string' ? error : sayError(error)}</p>
      {onRetry === undefined ? null : <Button onPress={onRetry}>{say('parts.tryAgain')}</Button>}
      {action}
    </div>
  );
}

function sayProgress({ label, text }: ProgressState, usual: string): string {
  if (text !== undefined) return sayTold(text);
  return label === '' ? usual : label;
}

/** A caution where work can hurt. */
export function Caution({ children }: { children: ReactNode }) {
  return (
    <div className="caution" role="note">
      <WarnIcon />
      <p>
        <strong>{say('parts.caution')}</strong> {children}
      </p>
    </div>
  );
}

/** How far a long job is, with a way to stop it. */
export function Progress({
  progress,
  label,
  onCancel,
}: {
  progress: ProgressState | null;
  label: string;
  onCancel?: () => void;
}) {
  const known = progress !== null && progress.total > 0;
  return (
    <div className="progress">
      <ProgressBar
        aria-label={label}
        {...(known ? { value: progress.done, maxValue: progress.total } : { isIndeterminate: true })}
      >
        {({ percentage }) => (
          <>
            <div className="progress-words">
              <span>{progress === null ? label : sayProgress(progress, label)}</span>
              <span className="figure">
                {known ? say('parts.progress', { done: progress.done, total: progress.total }) : ''}
              </span>
            </div>
            <div className={`progress-track${known ? '' : ' unknown'}`}>
              <div className="progress-fill" style={{ width: `${known ? (percentage ?? 0) : 30}%` }} />
            </div>
          </>
        )}
      </ProgressBar>
      {onCancel === undefined ? null : <Button onPress={onCancel}>{say('parts.stop')}</Button>}
    </div>
  );
}

export interface TableColumn {
  id: string;
  label: string;
  /** Figures stand right. */
  figure?: boolean;
}

/** A drawing that opens its own figures: the table behind it is one press away and always there for a screen reader. */
export function ChartWithTable({
  title,
  caption,
  columns,
  rows,
  children,
  actions,
}: {
  title: string;
  caption?: ReactNode;
  columns: readonly TableColumn[];
  rows: ReadonlyArray<Record<string, ReactNode>>;
  children: ReactNode;
  actions?: ReactNode;
}) {
  const [open, setOpen] = useState(false);
  const tableId = useId();
  return (
    <figure className="chart" aria-label={title}>
      <div className="chart-head">
        <figcaption>
          <span className="chart-title">{title}</span>
          {caption === undefined ? null : <span className="chart-caption">{caption}</span>}
        </figcaption>
        <div className="chart-actions no-print">
          {actions}
          <Button look="quiet" aria-expanded={open} aria-controls={tableId} onPress={() => setOpen(!open)}>
            {say(open ? 'parts.hideTable' : 'parts.showTable')}
          </Button>
        </div>
      </div>
      <div className="chart-drawing">{children}</div>
      <div id={tableId} className={open ? 'chart-table' : 'visually-hidden'}>
        <table className="data">
          <caption className="visually-hidden">{title}</caption>
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column.id} scope="col" className={column.figure === true ? 'figure' : ''}>
                  {column.label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, index) => (
              <tr key={index}>
                {columns.map((column) => (
                  <td key={column.id} className={column.figure === true ? 'figure' : ''}>
                    {row[column.id]}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </figure>
  );
}

import { useDeferredValue, useEffect, useRef, useState } from 'react';
import { Button } from '../parts/button.tsx';
import { ErrorNote } from '../parts/layout.tsx';
import { useRequest } from '../state/use-request.ts';
import type { ClientRow } from '../../core/clients/contract.ts';
import { LineField } from './forms/line-field.tsx';
import { say } from '../state/say.ts';

type PropertyRow = ClientRow & { propertyId: string };

/** Finds the property where unplanned work was done. */
export function FindProperty({ onChoose, onBack }: { onChoose: (row: PropertyRow) => void; onBack: () => void }) {
  const [typed, setTyped] = useState('');
  const search = useDeferredValue(typed.trim());
  const { data, error, reload } = useRequest('client.list', search.length < 2 ? null : { search, limit: 30 });
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.querySelector('input')?.focus(), []);
  const rows = search.length < 2 ? [] : (data?.rows ?? []).filter((row): row is PropertyRow => row.propertyId !== null);
  return (
    <div className="fd-scroll fd-find">
      <section className="fd-form" aria-labelledby="fd-find-title">
        <header className="fd-form-head">
          <Button big look="quiet" onPress={onBack} aria-label={say('field.backToDay')}>
            {say('field.back')}
          </Button>
          <h2 id="fd-find-title">{say('field.logUnplanned')}</h2>
        </header>
        <div ref={box}>
          <LineField label={say('field.findProperty')} value={typed} maxLength={200} onChange={setTyped} />
        </div>
        {error !== null && <ErrorNote error={error} onRetry={reload} />}
        <p className="fd-quiet" role="status">
          {search.length < 2
            ? say('field.typeTwo')
            : rows.length === 0
              ? say('field.noPropertyFits')
              : say('field.found', { total: data?.total ?? rows.length, shown: rows.length })}
        </p>
        <ul className="fd-people">
          {rows.map((row) => (
            <li key={row.propertyId}>
              <button type="button" className="fd-person" onClick={() => onChoose(row)}>
                <strong>
                  {row.street}
                  {row.city === '' ? '' : `, ${row.city}`}
                </strong>
                <span className="fd-quiet">
                  {row.clientName}
                  {row.label === '' ? '' : `, ${row.label}`}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </section>
    </div>
  );
}

import { useDeferredValue, useEffect, useRef, useState } from 'react';
import { Button } from '../parts/button.tsx';
import { ErrorNote } from '../parts/layout.tsx';
import { plural } from '../parts/format.ts';
import { useRequest } from '../state/use-request.ts';
import type { ClientRow } from '../../core/contract/clients.ts';
import { LineField } from './forms/line-field.tsx';

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
          <Button big look="quiet" onPress={onBack} aria-label="Back to the day">
            ‹ Back
          </Button>
          <h2 id="fd-find-title">Log unplanned work</h2>
        </header>
        <div ref={box}>
          <LineField
            label="Find the property: name, street or phone"
            value={typed}
            maxLength={200}
            onChange={setTyped}
          />
        </div>
        {error !== null && <ErrorNote error={error} onRetry={reload} />}
        <p className="fd-quiet" role="status">
          {search.length < 2
            ? 'Type two letters or more.'
            : rows.length === 0
              ? 'No property fits.'
              : `${plural(data?.total ?? rows.length, 'property', 'properties')}${(data?.total ?? 0) > rows.length ? `; the first ${rows.length} are shown, type more to narrow it down` : ''}`}
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

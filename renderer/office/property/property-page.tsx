import { useState } from 'react';
import type { LedgerEntry } from '../../../core/ledger/entry-contract.ts';
import { Button, ErrorNote, SealLine } from '../../parts/index.ts';
import { useToday } from '../../state/use-settings.ts';
import { useRequest } from '../../state/use-request.ts';
import { say } from '../../state/say.ts';
import { BookVisitDialog } from './log/book-visit-dialog.tsx';
import type { BookingWish } from './log/book-visit-dialog.tsx';
import { LogWorkDialog } from './log/log-work-dialog.tsx';
import { AccessSection } from './access-section.tsx';
import { DueSection } from './due-section.tsx';
import { FindingsSection } from './findings-section.tsx';
import { LedgerSection } from './ledger-section.tsx';
import { PropertyHead } from './property-head.tsx';
import { ProgramsSection } from './programs-section.tsx';
import { SensorsSection } from './sensors-section.tsx';
import { usePropertyEditor } from './use-property-editor.ts';
import type { OpenProperty } from './use-property-editor.ts';
import { VisitsSection } from './visits-section.tsx';
import { ZonesSection } from './zones-section.tsx';

/** One property, read from top to bottom. */
export function PropertyPage({ propertyId }: { propertyId: string }) {
  const { data, error, reload } = useRequest('property.open', { propertyId }, { keepPrevious: false });
  if (data === undefined) {
    return error === null ? (
      <p className="waiting" role="status">
        {say('property.opening')}
      </p>
    ) : (
      <div className="property-page">
        <ErrorNote error={error} onRetry={reload} />
      </div>
    );
  }
  return <Opened data={data} reload={reload} />;
}

function Opened({ data, reload }: { data: OpenProperty; reload: () => void }) {
  const today = useToday();
  // For paper: whoever prints the page prints the seal with it.
  const seal = useRequest('book.seal', {});
  const editor = usePropertyEditor(data);
  const [booking, setBooking] = useState<BookingWish | null>(null);
  const [logging, setLogging] = useState<{ visitId: string | null; finding?: LedgerEntry } | null>(null);
  const property = { id: data.property.id, street: data.property.street, clientName: data.client.name };
  return (
    <article
      className="property-page"
      id="property-page"
      tabIndex={-1}
      aria-label={`${data.client.name}, ${data.property.street}`}
    >
      <PropertyHead data={data} onBook={() => setBooking({})} onLog={() => setLogging({ visitId: null })} />
      {editor.conflict === null ? null : (
        <ErrorNote
          error={say('property.conflict', { what: editor.conflict })}
          action={
            <Button
              onPress={() => {
                reload();
                editor.dropConflict();
              }}
            >
              {say('property.showNewest')}
            </Button>
          }
        />
      )}
      <DueSection items={data.due} today={today} onBook={setBooking} />
      <FindingsSection findings={data.openFindings} onClose={(finding) => setLogging({ visitId: null, finding })} />
      <AccessSection data={data} today={today} />
      <ZonesSection data={data} editor={editor} />
      <ProgramsSection data={data} today={today} />
      <SensorsSection data={data} today={today} onLog={() => setLogging({ visitId: null })} />
      <VisitsSection data={data} today={today} onBook={setBooking} onLog={(visitId) => setLogging({ visitId })} />
      <LedgerSection data={data} onLog={() => setLogging({ visitId: null })} />
      {booking === null ? null : (
        <BookVisitDialog property={property} wish={booking} today={today} onClose={() => setBooking(null)} />
      )}
      {logging === null ? null : (
        <LogWorkDialog data={data} {...logging} today={today} onClose={() => setLogging(null)} />
      )}
      <SealLine seal={seal.data} />
    </article>
  );
}

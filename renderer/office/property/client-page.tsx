import { useState } from 'react';
import {
  BackIcon,
  Button,
  ButtonLink,
  EmptyState,
  ErrorNote,
  MailLink,
  PhoneLink,
  Section,
  wordsOf,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { navigate } from '../../state/view.ts';
import { say } from '../../state/say.ts';
import { ClientForm } from './edit/client-form.tsx';
import { PropertyForm } from './edit/property-form.tsx';

/** One client with their properties; the place to add a first or a further one. */
export function ClientPage({ clientId }: { clientId: string }) {
  const { data, error, reload } = useRequest('client.open', { clientId }, { keepPrevious: false });
  const [form, setForm] = useState<'client' | 'property' | null>(null);
  if (data === undefined)
    return error === null ? (
      <p className="waiting" role="status">
        {say('property.openingClient')}
      </p>
    ) : (
      <div className="property-page">
        <ErrorNote error={error} onRetry={reload} />
      </div>
    );
  const { client, properties } = data;
  return (
    <article className="property-page" id="property-page" tabIndex={-1} aria-label={client.name}>
      <header className="property-head">
        <a className="back-link" href="#/office">
          <BackIcon /> {say('property.allClients')}
        </a>
        <div className="head-words">
          <h1>{client.name}</h1>
          <p className="head-facts">
            {[client.phone, client.phone2]
              .filter((phone) => phone !== '')
              .map((phone) => (
                <PhoneLink key={phone} phone={phone} className="phone" />
              ))}
            {client.email === '' ? null : <MailLink email={client.email} />}
            <span>{wordsOf(client.kind)}</span>
            {client.accountNumber === '' ? null : (
              <span>{say('property.account', { number: client.accountNumber })}</span>
            )}
          </p>
          {client.billingAddress === '' ? null : <p className="head-note">{client.billingAddress}</p>}
          {client.notes === '' ? null : <p className="head-note">{client.notes}</p>}
        </div>
        <div className="head-actions no-print">
          <Button look={properties.length === 0 ? 'primary' : 'plain'} onPress={() => setForm('property')}>
            {say('property.addProperty')}
          </Button>
          <Button onPress={() => setForm('client')}>{say('property.editClient')}</Button>
        </div>
      </header>
      <Section title={say('property.properties')}>
        {properties.length === 0 ? (
          <EmptyState
            title={say('property.noProperty')}
            action={
              <Button look="primary" onPress={() => setForm('property')}>
                {say('property.addProperty')}
              </Button>
            }
          >
            {say('property.noPropertyWhy')}
          </EmptyState>
        ) : (
          <ul className="client-properties">
            {properties.map((property) => (
              <li key={property.id}>
                <ButtonLink href={`#/office/property/${property.id}`}>
                  {property.street}
                  {property.label === '' ? '' : ` · ${property.label}`}
                </ButtonLink>
                <span className="quiet">
                  {property.city}
                  {property.archived ? ` · ${say('property.putAwayToo')}` : ''}
                </span>
              </li>
            ))}
          </ul>
        )}
      </Section>
      {form === 'client' ? (
        <ClientForm clientId={clientId} onClose={() => setForm(null)} onSaved={() => setForm(null)} />
      ) : null}
      {form === 'property' ? (
        <PropertyForm
          clientId={clientId}
          onClose={() => setForm(null)}
          onSaved={(id) => {
            setForm(null);
            navigate(`#/office/property/${id}`);
          }}
        />
      ) : null}
    </article>
  );
}

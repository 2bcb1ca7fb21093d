import { useState } from 'react';
import { BackIcon, Button, ButtonLink, MailLink, Menu, PhoneLink, SeasonMark, wordsOf } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { ClientForm } from './edit/client-form.tsx';
import { PropertyForm } from './edit/property-form.tsx';
import { navigate } from '../../state/view.ts';
import { say } from '../../state/say.ts';
import { saveProperty } from './save-property.ts';
import type { OpenProperty } from './use-property-editor.ts';

/** Who and where, how to reach them, and the things one does most. */
export function PropertyHead({ data, onBook, onLog }: { data: OpenProperty; onBook: () => void; onLog: () => void }) {
  const { client, property, siblings, route, season } = data;
  const [form, setForm] = useState<'client' | 'property' | 'new-property' | null>(null);
  const phones = [client.phone, client.phone2].filter((phone) => phone !== '');
  const place = [property.city, property.region, property.postcode].filter((part) => part !== '').join(' ');
  const archive = async () => {
    const was = property.archived;
    const says = { ...property, archived: !was };
    const reply = await saveProperty({ property }, { property: says }, data.version);
    if (!reply.ok) return;
    toast({
      text: say(was ? 'property.inUseAgain' : 'property.isPutAway', { street: property.street }),
      undo: () => void saveProperty({ property: says }, { property }, reply.data.version),
    });
  };
  return (
    <header className="property-head">
      <a className="back-link" href="#/office">
        <BackIcon /> {say('property.allClients')}
      </a>
      <div className="head-words">
        <h1>
          <a href={`#/office/client/${client.id}`}>{client.name}</a>
        </h1>
        <p className="head-where">
          {property.street}
          {property.label === '' ? '' : ` · ${property.label}`}
          {place === '' ? '' : `, ${place}`}
        </p>
        <p className="head-facts">
          {phones.map((phone) => (
            <PhoneLink key={phone} phone={phone} className="phone" />
          ))}
          {client.email === '' ? null : <MailLink email={client.email} />}
          <span>{wordsOf(client.kind)}</span>
          {route === null ? null : <span>{route.name}</span>}
          <SeasonMark state={season.state} />
          {property.archived ? <strong>{say('office.putAway')}</strong> : null}
        </p>
        {siblings.length === 0 ? null : (
          <nav className="siblings" aria-label={say('property.otherOf', { client: client.name })}>
            <span className="quiet">{say('property.alsoTheirs')}</span>
            <ul>
              {siblings.map((other) => (
                <li key={other.id}>
                  <a href={`#/office/property/${other.id}`}>
                    {other.street}
                    {other.label === '' ? '' : ` · ${other.label}`}
                  </a>
                </li>
              ))}
            </ul>
          </nav>
        )}
        {client.notes === '' ? null : <p className="head-note">{client.notes}</p>}
      </div>
      <div className="head-actions no-print">
        <Button look="primary" onPress={onBook}>
          {say('property.bookVisit')}
        </Button>
        <Button onPress={onLog}>{say('property.logWork')}</Button>
        <ButtonLink href={`#/office/property/${property.id}/review`}>{say('property.reviewProgram')}</ButtonLink>
        <Menu
          look="plain"
          label={say('property.more')}
          items={[
            { id: 'property', label: say('property.editProperty'), onAction: () => setForm('property') },
            { id: 'client', label: say('property.editClient'), onAction: () => setForm('client') },
            {
              id: 'new',
              label: say('property.addPropertyFor', { client: client.name }),
              onAction: () => setForm('new-property'),
            },
            {
              id: 'archive',
              label: property.archived ? say('property.takeBack') : say('property.putPropertyAway'),
              onAction: () => void archive(),
            },
          ]}
        />
      </div>
      {form === 'client' ? (
        <ClientForm clientId={client.id} onClose={() => setForm(null)} onSaved={() => setForm(null)} />
      ) : null}
      {form === 'property' ? (
        <PropertyForm
          clientId={client.id}
          existing={{ property, version: data.version }}
          onClose={() => setForm(null)}
          onSaved={() => setForm(null)}
        />
      ) : null}
      {form === 'new-property' ? (
        <PropertyForm
          clientId={client.id}
          like={property}
          onClose={() => setForm(null)}
          onSaved={(id) => {
            setForm(null);
            navigate(`#/office/property/${id}`);
          }}
        />
      ) : null}
    </header>
  );
}

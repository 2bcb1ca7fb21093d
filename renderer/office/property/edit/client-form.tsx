import { useState } from 'react';
import { CLIENT_KINDS } from '../../../../core/clients/contract.ts';
import type { Client, ClientKind } from '../../../../core/clients/contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { CheckField, SelectField, TextField, wordsOf } from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { useRequest } from '../../../state/use-request.ts';
import { newId, write } from '../../../state/write.ts';
import { say } from '../../../state/say.ts';
import { errorAt, FormSheet } from './form-sheet.tsx';

const newClient = (id: string): Client => ({
  id,
  name: '',
  kind: 'household',
  phone: '',
  phone2: '',
  email: '',
  billingAddress: '',
  notes: '',
  accountNumber: '',
  archived: false,
});

/** Adds a client, or changes one that is read first so that the save is over what was seen. */
export function ClientForm({
  clientId,
  onClose,
  onSaved,
}: {
  clientId?: string;
  onClose: () => void;
  onSaved: (clientId: string) => void;
}) {
  const open = useRequest('client.open', clientId === undefined ? null : { clientId });
  if (clientId !== undefined && open.data === undefined) return null;
  return (
    <Fields
      existing={open.data === undefined ? null : { client: open.data.client, version: open.data.version }}
      onClose={onClose}
      onSaved={onSaved}
    />
  );
}

function Fields({
  existing: given,
  onClose,
  onSaved,
}: {
  existing: { client: Client; version: number } | null;
  onClose: () => void;
  onSaved: (clientId: string) => void;
}) {
  // The first reading counts: a later one would let a save pass over somebody's change unseen.
  const [existing] = useState(given);
  const [draft, setDraft] = useState<Client>(() => existing?.client ?? newClient(newId()));
  const [writeId] = useState(newId);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const set = (change: Partial<Client>) => setDraft((old) => ({ ...old, ...change }));
  const save = async () => {
    setSaving(true);
    const reply = await write(
      'client.save',
      {
        writeId: failure === null ? writeId : newId(),
        client: draft,
        ...(existing === null ? {} : { version: existing.version }),
      },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    toast(
      existing === null
        ? { text: say('forms.added', { name: draft.name }) }
        : {
            text: say('forms.saved', { name: draft.name }),
            undo: () =>
              void write('client.save', { writeId: newId(), client: existing.client, version: reply.data.version }),
          },
    );
    onSaved(reply.data.clientId);
  };
  return (
    <FormSheet
      title={existing === null ? say('office.addClient') : say('forms.edit', { name: existing.client.name })}
      save={() => void save()}
      saveWords={existing === null ? say('office.addClient') : say('forms.saveClient')}
      saving={saving}
      failure={failure}
      onClose={onClose}
    >
      <div className="form-grid">
        <TextField
          className="full"
          label={say('forms.name')}
          value={draft.name}
          onChange={(name) => set({ name })}
          maxLength={160}
          isRequired
          autoFocus
          error={errorAt(failure, 'name')}
          description={say('forms.nameWhy')}
        />
        <SelectField
          label={say('forms.kind')}
          value={draft.kind}
          onChange={(kind) => set({ kind: kind as ClientKind })}
          options={CLIENT_KINDS.map((id) => ({ id, label: wordsOf(id) }))}
        />
        <TextField
          label={say('forms.accountNumber')}
          value={draft.accountNumber}
          onChange={(accountNumber) => set({ accountNumber })}
          maxLength={60}
          error={errorAt(failure, 'accountNumber')}
        />
        <TextField
          label={say('forms.phone')}
          type="tel"
          value={draft.phone}
          onChange={(phone) => set({ phone })}
          maxLength={40}
          error={errorAt(failure, 'phone')}
        />
        <TextField
          label={say('forms.secondPhone')}
          type="tel"
          value={draft.phone2}
          onChange={(phone2) => set({ phone2 })}
          maxLength={40}
          error={errorAt(failure, 'phone2')}
        />
        <TextField
          className="full"
          label={say('forms.email')}
          type="email"
          value={draft.email}
          onChange={(email) => set({ email })}
          maxLength={160}
          error={errorAt(failure, 'email')}
        />
        <TextField
          className="full"
          label={say('forms.billingAddress')}
          rows={3}
          value={draft.billingAddress}
          onChange={(billingAddress) => set({ billingAddress })}
          error={errorAt(failure, 'billingAddress')}
        />
        <TextField
          className="full"
          label={say('forms.notes')}
          rows={4}
          value={draft.notes}
          onChange={(notes) => set({ notes })}
          error={errorAt(failure, 'notes')}
        />
        {existing === null ? null : (
          <CheckField
            className="full"
            label={say('forms.putAway')}
            value={draft.archived}
            onChange={(archived) => set({ archived })}
            description={say('forms.putAwayWhy')}
          />
        )}
      </div>
    </FormSheet>
  );
}

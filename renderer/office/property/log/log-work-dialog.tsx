import { useState } from 'react';
import type { LedgerDetailInput, LedgerEntry, LedgerKind } from '../../../../core/ledger/entry-contract.ts';
import type { VisitKind } from '../../../../core/contract/parts.ts';
import type { Failure } from '../../../../core/errors.ts';
import {
  Button,
  CheckField,
  CloseIcon,
  DateField,
  SelectField,
  TextField,
  VISIT_WORDS,
  wordsOf,
} from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { useRequest } from '../../../state/use-request.ts';
import { newId, write } from '../../../state/write.ts';
import { visitAfter } from '../../../../core/recording/visit-after.ts';
import { afterWords } from '../../../parts/after-words.ts';
import { say, sayTold } from '../../../state/say.ts';
import { FormSheet } from '../edit/form-sheet.tsx';
import type { OpenProperty } from '../use-property-editor.ts';
import { canLog, firstDetail, LOGGABLE } from './detail-drafts.ts';
import { DetailFields } from './detail-fields.tsx';

interface Draft {
  id: string;
  detail: LedgerDetailInput;
  note: string;
}
const ENTRY_FOR_VISIT: Record<VisitKind, LedgerKind> = {
  'start-up': 'start-up',
  winterization: 'winterization',
  'sensor-check': 'sensor-check',
  'battery-swap': 'battery-swap',
  'program-adjustment': 'run-time-change',
  repair: 'repair',
  'backflow-test': 'backflow-test',
  'walk-through': 'walk-through',
};
const VISIT_FOR_ENTRY: Partial<Record<LedgerKind, VisitKind>> = Object.fromEntries(
  Object.entries(ENTRY_FOR_VISIT).map(([visit, entry]) => [entry, visit]),
);

/** Logs work from the office: one or more facts, with the visit they belong to. */
export function LogWorkDialog({
  data: given,
  visitId: startVisit,
  finding,
  today,
  onClose,
}: {
  data: OpenProperty;
  visitId: string | null;
  /** A finding that this work closes: a repair to begin with. */
  finding?: LedgerEntry;
  today: string;
  onClose: () => void;
}) {
  const [data] = useState(given);
  const planned = data.visits.filter((visit) => visit.state === 'planned');
  const [visitId, setVisitId] = useState(startVisit ?? '');
  const visit = planned.find((item) => item.id === visitId);
  const [newVisitId] = useState(newId);
  const [drafts, setDrafts] = useState<Draft[]>(() =>
    finding !== undefined
      ? [closingDraft(finding, data)]
      : visit !== undefined && canLog(ENTRY_FOR_VISIT[visit.kind], data)
        ? [draftOf(ENTRY_FOR_VISIT[visit.kind], data)]
        : [],
  );
  const [technicianId, setTechnicianId] = useState(visit?.technicianId ?? '');
  const [doneOn, setDoneOn] = useState<string | null>(visit !== undefined && visit.date < today ? visit.date : today);
  const [close, setClose] = useState(true);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const technicians = (useRequest('people.list', {}).data?.technicians ?? []).filter((person) => person.active);
  const kinds = drafts.map((draft) => draft.detail.kind);
  const mainKind = kinds.map((kind) => VISIT_FOR_ENTRY[kind]).find((kind) => kind !== undefined);
  const itsVisit = visit ?? (mainKind === undefined ? null : { kind: mainKind, state: 'planned' });
  const after = visitAfter(itsVisit, kinds, close);
  const change = (id: string, part: Partial<Draft>) =>
    setDrafts((old) => old.map((draft) => (draft.id === id ? { ...draft, ...part } : draft)));
  const save = async () => {
    if (doneOn === null) return;
    setSaving(true);
    const reply = await write(
      'visit.record',
      {
        writeId: newId(),
        propertyId: data.property.id,
        doneOn,
        closeVisit: close,
        technicianId: technicianId === '' ? null : technicianId,
        ...(visit !== undefined
          ? { visitId: visit.id }
          : mainKind === undefined
            ? {}
            : { visitId: newVisitId, unplannedKind: mainKind }),
        entries: drafts.map(({ id, detail, note }) => ({ id, detail, note })),
      },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const { entries } = reply.data;
    const cautions = reply.data.cautions.map(sayTold);
    toast({
      text:
        entries.length === 0
          ? say('work.visitClosed', { cautions })
          : say('work.logged', { work: entries.map((entry) => wordsOf(entry.kind)), cautions }),
    });
    onClose();
  };
  const indexOf = failure?.field === undefined ? null : /entries\.(\d+)/.exec(failure.field)?.[1];
  return (
    <FormSheet
      title={say('work.logTitle', { client: data.client.name, street: data.property.street })}
      save={() => void save()}
      saveWords={say('property.logWork')}
      saving={saving}
      failure={failure}
      onClose={onClose}
      canSave={doneOn !== null && (drafts.length > 0 || (visit !== undefined && close))}
    >
      <div className="form-grid">
        <SelectField
          label={say('work.forVisit')}
          value={visitId}
          onChange={setVisitId}
          options={[
            { id: '', label: say('work.notBooked') },
            ...planned.map((item) => ({
              id: item.id,
              label: say('work.visitOn', { visit: VISIT_WORDS[item.kind], date: item.date }),
            })),
          ]}
        />
        <SelectField
          label={say('work.doneBy')}
          value={technicianId}
          onChange={setTechnicianId}
          options={[
            { id: '', label: say('work.theOffice') },
            ...technicians.map((person) => ({ id: person.id, label: person.name })),
          ]}
        />
        <DateField label={say('work.doneOn')} value={doneOn} onChange={setDoneOn} isRequired />
        {visit === undefined ? null : (
          <CheckField
            label={say('work.visitDone')}
            value={after !== 'open'}
            onChange={setClose}
            isDisabled={kinds.includes('not-done') || after === 'closed-by-season'}
            description={afterWords(itsVisit, kinds, close)}
          />
        )}
        {visit === undefined && kinds.includes('not-done') ? (
          <p className="quiet small">{afterWords(itsVisit, kinds, close)}</p>
        ) : null}
      </div>
      <ol className="drafts">
        {drafts.map((draft, index) => (
          <li key={draft.id} className={indexOf === String(index) ? 'draft refused' : 'draft'}>
            <div className="draft-head">
              <h3>{wordsOf(draft.detail.kind)}</h3>
              <Button
                look="quiet"
                className="icon-button"
                aria-label={say('work.remove', { work: wordsOf(draft.detail.kind) })}
                onPress={() => setDrafts((old) => old.filter((item) => item.id !== draft.id))}
              >
                <CloseIcon />
              </Button>
            </div>
            <DetailFields
              detail={draft.detail}
              data={data}
              failure={indexOf === String(index) ? failure : null}
              onChange={(detail) => change(draft.id, { detail })}
            />
            {draft.detail.kind === 'note' ? null : (
              <TextField
                label={say('work.remark')}
                value={draft.note}
                onChange={(note) => change(draft.id, { note })}
              />
            )}
          </li>
        ))}
      </ol>
      <div className="add-work">
        <p className="field-label" id="add-work-label">
          {drafts.length === 0 ? say('work.whatWasDone') : say('work.andAlso')}
        </p>
        <div className="chips" role="group" aria-labelledby="add-work-label">
          {LOGGABLE.filter((kind) => canLog(kind, data)).map((kind) => (
            <Button key={kind} onPress={() => setDrafts((old) => [...old, draftOf(kind, data)])}>
              {wordsOf(kind)}
            </Button>
          ))}
        </div>
      </div>
    </FormSheet>
  );
}

function draftOf(kind: LedgerKind, data: OpenProperty): Draft {
  return { id: newId(), detail: firstDetail(kind, data), note: '' };
}

function closingDraft(finding: LedgerEntry, data: OpenProperty): Draft {
  const draft = draftOf('repair', data);
  if (draft.detail.kind !== 'repair' || finding.detail.kind !== 'finding') return draft;
  return { ...draft, detail: { ...draft.detail, zoneId: finding.detail.zoneId, closesFindingId: finding.id } };
}

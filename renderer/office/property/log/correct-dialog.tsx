import { useState } from 'react';
import { Radio, RadioGroup, Label } from 'react-aria-components';
import type { LedgerEntry, LedgerDetailInput } from '../../../../core/ledger/entry-contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { DateField, TextField, wordsOf } from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { newId, write } from '../../../state/write.ts';
import { say, sayError, sayTold } from '../../../state/say.ts';
import { errorAt, FormSheet } from '../edit/form-sheet.tsx';
import type { OpenProperty } from '../use-property-editor.ts';
import { detailForCorrection } from './detail-drafts.ts';
import { DetailFields } from './detail-fields.tsx';

/** Corrects a ledger entry by a new one: other facts, or "it did not happen". The old one stays and can be read. */
export function CorrectDialog({
  data: given,
  entry,
  onClose,
}: {
  data: OpenProperty;
  entry: LedgerEntry;
  onClose: () => void;
}) {
  const [data] = useState(given);
  const [id] = useState(newId);
  const [how, setHow] = useState<'replace' | 'void'>('replace');
  const [detail, setDetail] = useState<LedgerDetailInput>(() => detailForCorrection(entry.detail));
  const [doneOn, setDoneOn] = useState<string | null>(entry.doneOn);
  const [note, setNote] = useState(entry.note);
  const [reason, setReason] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const save = async () => {
    setSaving(true);
    const facts = how === 'replace' ? detail : null;
    const reply = await write(
      'ledger.correct',
      {
        writeId: newId(),
        id,
        correctsId: entry.id,
        correction: how,
        reason,
        ...(facts === null ? {} : { detail: facts, doneOn: doneOn ?? entry.doneOn, note }),
      },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    toast({
      text:
        how === 'void'
          ? say('work.declaredVoid', { work: wordsOf(entry.kind), date: entry.doneOn })
          : say('work.corrected', { work: wordsOf(entry.kind) }),
    });
    onClose();
  };
  return (
    <FormSheet
      title={say('work.correctTitle', { work: wordsOf(entry.kind), date: entry.doneOn })}
      save={() => void save()}
      saveWords={how === 'replace' ? say('work.correctEntry') : say('work.declareVoid')}
      saving={saving}
      failure={failure}
      onClose={onClose}
      canSave={reason.trim() !== ''}
    >
      <p className="form-lead">{say('work.nowReads', { summary: sayTold(entry.summary) })}</p>
      <RadioGroup value={how} onChange={(value) => setHow(value as 'replace' | 'void')} className="choice">
        <Label className="field-label">{say('work.whatIsWrong')}</Label>
        <Radio value="replace" className="radio">
          <span className="radio-dot" aria-hidden="true" />
          {say('work.factsDiffered')}
        </Radio>
        <Radio value="void" className="radio">
          <span className="radio-dot" aria-hidden="true" />
          {say('work.didNotHappen')}
        </Radio>
      </RadioGroup>
      {how === 'void' ? (
        <p className="form-lead">{say('work.voidWhy')}</p>
      ) : (
        <>
          <DetailFields detail={detail} data={data} failure={failure} onChange={setDetail} />
          <div className="form-grid form-part">
            <DateField
              label={say('work.doneOn')}
              value={doneOn}
              onChange={setDoneOn}
              error={errorAt(failure, 'doneOn')}
            />
            <TextField
              className="full"
              label={say('work.remark')}
              value={note}
              onChange={setNote}
              error={errorAt(failure, 'note')}
            />
          </div>
        </>
      )}
      <div className="form-part">
        <TextField
          label={say('work.whyCorrected')}
          value={reason}
          onChange={setReason}
          maxLength={300}
          isRequired
          error={failure?.field === 'reason' ? sayError(failure) : null}
          description={say('work.keptForGood')}
        />
      </div>
    </FormSheet>
  );
}

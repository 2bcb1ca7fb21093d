import {
  DECIDED_BY,
  NOT_DONE_REASONS,
  URGENCIES,
  type LedgerDetailInput,
} from '../../../../core/ledger/entry-contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { Caution, NumberField, SelectField, TextField } from '../../../parts/index.ts';
import { say, sayTold } from '../../../state/say.ts';
import { errorAt } from '../edit/form-sheet.tsx';
import type { OpenProperty } from '../use-property-editor.ts';
import { zoneOptions } from './zone-options.ts';

// What was found, decided, run by hand or could not be done.

type Of<K extends LedgerDetailInput['kind']> = Extract<LedgerDetailInput, { kind: K }>;
interface Props<D extends LedgerDetailInput> {
  detail: D;
  data: OpenProperty;
  failure: Failure | null;
  onChange: (detail: LedgerDetailInput) => void;
}

/** Which open finding an entry closes; not shown where nothing is open. */
export function FindingPick({
  data,
  value,
  failure,
  onChange,
}: {
  data: OpenProperty;
  value: string | null;
  failure: Failure | null;
  onChange: (findingId: string | null) => void;
}) {
  if (data.openFindings.length === 0 && value === null) return null;
  return (
    <SelectField
      className="full"
      label={say('log.closes')}
      value={value ?? ''}
      onChange={(id) => onChange(id === '' ? null : id)}
      options={[
        { id: '', label: say('log.closesNone') },
        ...data.openFindings.map((finding) => ({ id: finding.id, label: sayTold(finding.summary) })),
        ...(value === null || data.openFindings.some((finding) => finding.id === value)
          ? []
          : [{ id: value, label: say('log.closesAnother') }]),
      ]}
      error={errorAt(failure, 'closesFindingId')}
    />
  );
}

export function FindingFields({ detail, data, failure, onChange }: Props<Of<'finding'>>) {
  return (
    <>
      <div className="form-grid">
        <SelectField
          label={say('property.program.zone')}
          value={detail.zoneId ?? ''}
          onChange={(id) => onChange({ ...detail, zoneId: id === '' ? null : id })}
          options={[{ id: '', label: say('work.notAZone') }, ...zoneOptions(data)]}
        />
        <SelectField
          label={say('log.urgency')}
          value={detail.urgency}
          onChange={(id) => onChange({ ...detail, urgency: id as Of<'finding'>['urgency'] })}
          options={URGENCIES.map((id) => ({ id, label: say(`log.urgency.${id}`) }))}
        />
        <TextField
          className="full"
          label={say('log.place')}
          description={say('log.placeHint')}
          value={detail.place}
          onChange={(place) => onChange({ ...detail, place })}
          maxLength={200}
          error={errorAt(failure, 'place')}
        />
        <TextField
          className="full"
          label={say('log.what')}
          value={detail.what}
          onChange={(what) => onChange({ ...detail, what })}
          maxLength={300}
          isRequired
          error={errorAt(failure, 'what')}
        />
      </div>
      {detail.urgency === 'at-once' ? <Caution>{say('log.atOnceCaution')}</Caution> : null}
    </>
  );
}

export function DecisionFields({ detail, data, failure, onChange }: Props<Of<'decision'>>) {
  return (
    <div className="form-grid">
      <SelectField
        label={say('log.decidedBy')}
        value={detail.decidedBy}
        onChange={(id) => onChange({ ...detail, decidedBy: id as Of<'decision'>['decidedBy'] })}
        options={DECIDED_BY.map((id) => ({ id, label: say(`log.by.${id}`) }))}
      />
      <TextField
        className="full"
        label={say('log.decided')}
        value={detail.what}
        onChange={(what) => onChange({ ...detail, what })}
        maxLength={300}
        isRequired
        error={errorAt(failure, 'what')}
      />
      <FindingPick
        data={data}
        value={detail.closesFindingId}
        failure={failure}
        onChange={(closesFindingId) => onChange({ ...detail, closesFindingId })}
      />
    </div>
  );
}

export function ManualRunFields({ detail, data, failure, onChange }: Props<Of<'manual-run'>>) {
  return (
    <div className="form-grid">
      <SelectField
        label={say('property.program.zone')}
        value={detail.zoneId}
        onChange={(zoneId) => onChange({ ...detail, zoneId })}
        options={zoneOptions(data)}
        error={errorAt(failure, 'zoneId')}
      />
      <NumberField
        label={say('log.runMinutes')}
        unit="min"
        value={detail.runMinutes}
        min={0.5}
        max={720}
        onChange={(runMinutes) => onChange({ ...detail, runMinutes: runMinutes ?? 0 })}
        error={errorAt(failure, 'runMinutes')}
      />
      <TextField
        className="full"
        label={say('log.whyRun')}
        value={detail.why}
        onChange={(why) => onChange({ ...detail, why })}
        maxLength={300}
        error={errorAt(failure, 'why')}
      />
    </div>
  );
}

export function NotDoneFields({ detail, onChange }: Props<Of<'not-done'>>) {
  return (
    <div className="form-grid">
      <SelectField
        label={say('log.whyNotDone')}
        value={detail.why}
        onChange={(id) => onChange({ ...detail, why: id as Of<'not-done'>['why'] })}
        options={NOT_DONE_REASONS.map((id) => ({ id, label: say(`log.why.${id}`) }))}
      />
    </div>
  );
}

import { useState } from 'react';
import type { Settings } from '../../core/settings/contract.ts';
import type { Failure } from '../../core/errors.ts';
import { CheckField, ErrorNote, NumberField, PathField } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { toast } from '../state/toasts.ts';
import { newId, write } from '../state/write.ts';
import { placedErrors } from './placed-errors.ts';
import { SaveBar } from './save-bar.tsx';
import { useDraft } from './use-draft.ts';
import { say } from '../state/say.ts';

/** Whether backups come by themselves, how many stay, and where else they go. */
export function BackupChoices() {
  const saved = useRequest('settings.get', {});
  const { draft, set, replace, changed, reset } = useDraft('backups', saved.data?.backups);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [busy, setBusy] = useState(false);
  if (draft === undefined || saved.data === undefined) return null;
  const settings = saved.data;
  const errors = placedErrors(failure);
  const at = (field: keyof Settings['backups']) => errors.at(`settings.backups.${field}`);
  const save = async (backups: Settings['backups'], before: Settings['backups'] | null) => {
    setBusy(true);
    const reply = await write(
      'settings.save',
      {
        writeId: newId(),
        settings: { ...settings, backups: { ...backups, secondFolder: backups.secondFolder.trim() } },
      },
      { quiet: true },
    );
    setBusy(false);
    setFailure(reply.ok ? null : reply.error);
    if (!reply.ok) return;
    replace(reply.data.backups);
    toast(
      before === null
        ? { text: say('company.backupsAsBefore') }
        : { text: say('company.choicesSaved'), undo: () => void save(before, null) },
    );
  };
  const count = (field: 'keepDays' | 'keepWeeks' | 'keepMonths', label: string, min: number, max: number) => (
    <NumberField
      label={label}
      value={draft[field]}
      onChange={(value) => set({ [field]: value ?? draft[field] })}
      min={min}
      max={max}
      digits={0}
      error={at(field)}
    />
  );
  return (
    <div className="backup-choices">
      <CheckField
        label={say('company.makeByItself')}
        value={draft.automatic}
        onChange={(automatic) => set({ automatic })}
        description={say('company.lookedAt')}
      />
      <div className="backup-counts" role="group" aria-label={say('company.howManyStay')}>
        <span className="quiet">{say('company.ofThose')}</span>
        {count('keepDays', say('company.days'), 1, 366)}
        {count('keepWeeks', say('company.weeks'), 0, 104)}
        {count('keepMonths', say('company.months'), 0, 120)}
        <span className="quiet">{say('company.stays')}</span>
      </div>
      <PathField
        choice="backup-folder"
        label={say('company.secondPlace')}
        value={draft.secondFolder}
        onChange={(secondFolder) => set({ secondFolder })}
        placeholder={say('company.none')}
        description={say('company.secondPlaceWhy')}
        error={at('secondFolder')}
      />
      {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
      <SaveBar
        changed={changed}
        busy={busy}
        onReset={() => {
          reset();
          setFailure(null);
        }}
        onSave={() => void save(draft, settings.backups)}
        label={say('company.saveChoices')}
      />
    </div>
  );
}

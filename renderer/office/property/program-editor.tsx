import { useState } from 'react';
import type { Program } from '../../../core/programs/contract.ts';
import type { Failure } from '../../../core/errors.ts';
import { Button, CheckField, Dialog, ErrorNote, NumberField, SelectField, TextField } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { ask } from '../../state/use-request.ts';
import { newId, write } from '../../state/write.ts';
import { currentReader, say, sayStored } from '../../state/say.ts';
import { useSaving } from '../use-saving.ts';
import type { OpenProperty } from './use-property-editor.ts';
import { DaysFields, RevisionFields, StartTimes, ZoneMinutes } from './program-fields.tsx';
import { ProgramWeeks } from './program-weeks.tsx';
import { useProgramDraft } from './use-program-draft.ts';
import type { ProgramDraft, RevisionNote } from './use-program-draft.ts';
import { keepStored, STORED } from '../../../core/text/stored.ts';

/** Changes a program with the week before and after in view; saving makes a new dated revision. */
export function ProgramEditor({
  data,
  program,
  controllerId: firstController,
  today,
  onClose,
}: {
  data: OpenProperty;
  program: Program | null;
  controllerId: string;
  today: string;
  onClose: () => void;
}) {
  const draft = useProgramDraft(data, program, firstController);
  const [note, setNote] = useState<RevisionNote>(() => ({
    effectiveDate: today,
    madeBy: sayStored(STORED.office),
    reason: '',
  }));
  const { failure, saving, save, takeOver } = useProgramSave(program, draft, note, onClose);
  const otherRevisionId = revisionOf(failure);
  return (
    <Dialog
      title={program === null ? say('property.program.add') : say('property.program.editNamed', { name: program.name })}
      size="wide"
      keepOpen={draft.changed}
      isOpen
      onClose={onClose}
      footer={
        <>
          {draft.problem === null ? null : <p className="field-error foot-words">{draft.problem}</p>}
          <Button data-way-out onPress={onClose}>
            {program === null ? say('forms.leave') : say('property.program.keepAsIs')}
          </Button>
          <Button
            look="primary"
            isDisabled={draft.problem !== null || note.effectiveDate === null || !draft.changed || saving}
            onPress={() => void save()}
          >
            {program === null ? say('property.program.add') : say('property.program.saveRevision')}
          </Button>
        </>
      }
    >
      <div className="program-editor">
        <div className="program-form">
          {failure === null ? null : (
            <ErrorNote
              error={failure}
              action={
                otherRevisionId === null ? undefined : (
                  <>
                    <Button onPress={() => void takeOver(otherRevisionId)}>{say('property.program.takeOver')}</Button>
                    <Button onPress={() => void save(otherRevisionId)}>{say('property.program.saveOver')}</Button>
                  </>
                )
              }
            />
          )}
          <NameFields data={data} draft={draft} isNew={program === null} />
          <DaysFields days={draft.settings.days} today={today} onChange={(days) => draft.set({ days })} />
          <StartTimes times={draft.settings.startTimes} onChange={(startTimes) => draft.set({ startTimes })} />
          <ZoneMinutes draft={draft} />
          <CheckField
            label={say('property.program.runs')}
            value={draft.settings.enabled}
            onChange={(enabled) => draft.set({ enabled })}
            description={say('property.program.runsWhy')}
          />
          <RevisionFields note={note} set={(change) => setNote((old) => ({ ...old, ...change }))} />
        </div>
        <ProgramWeeks propertyId={data.property.id} draft={draft} isNew={program === null} today={today} />
      </div>
    </Dialog>
  );
}

/** Saves the draft as a revision and offers the way back, or begins again from what somebody else set meanwhile. */
function useProgramSave(program: Program | null, draft: ProgramDraft, note: RevisionNote, onClose: () => void) {
  const { failure, setFailure, saving, answered } = useSaving();
  const { ids, before, settings, name } = draft;
  const takeOver = async (revisionId: string) => {
    const reply = await ask('program.history', { programId: ids.programId });
    if (!reply.ok) return setFailure(reply.error);
    const theirs = reply.data.revisions.find((one) => one.id === revisionId);
    if (theirs === undefined) return;
    draft.beginFrom(theirs);
    setFailure(null);
  };
  /** `over` = the revision that the person has been shown and sets aside. */
  const save = async (over?: string) => {
    const { effectiveDate, reason } = note;
    if (draft.problem !== null || effectiveDate === null) return;
    const madeBy = keepStored(currentReader(), note.madeBy);
    const saved = await answered(
      write(
        'program.revise',
        {
          ...ids,
          seenRevisionId: over ?? draft.begunFrom,
          // A program that there is keeps its controller and its name.
          ...(program === null ? { controllerId: draft.controllerId, name } : {}),
          effectiveDate,
          settings,
          madeBy,
          reason,
        },
        { quiet: true },
      ),
    );
    if (saved === null) return;
    const undo =
      before === null
        ? undefined
        : () =>
            void write('program.revise', {
              writeId: newId(),
              programId: ids.programId,
              revisionId: newId(),
              effectiveDate,
              settings: before,
              seenRevisionId: saved.revision.id,
              madeBy,
              reason: STORED.revisionTakenBack,
            });
    toast({
      text:
        program === null
          ? say('property.program.added', { name })
          : say('property.program.revised', { name, revision: saved.revision.revisionNumber }),
      ...(undo === undefined ? {} : { undo }),
    });
    onClose();
  };
  return { failure, saving, save, takeOver };
}

/** The controller and the name of a new program, and the seasonal percentage. The book renames no program that there is. */
function NameFields({ data, draft, isNew }: { data: OpenProperty; draft: ProgramDraft; isNew: boolean }) {
  const controllers = data.controllers.filter((controller) => !controller.retired);
  return (
    <div className="form-grid">
      {isNew && controllers.length > 1 ? (
        <SelectField
          label={say('property.program.controller')}
          value={draft.controllerId}
          onChange={draft.chooseController}
          options={controllers.map((controller) => ({ id: controller.id, label: controller.name }))}
        />
      ) : null}
      <TextField
        label={say('property.program.name')}
        value={draft.name}
        onChange={draft.setName}
        maxLength={40}
        isRequired={isNew}
        isReadOnly={!isNew}
        description={isNew ? undefined : say('property.program.nameStays')}
      />
      <NumberField
        label={say('property.program.seasonal')}
        unit="%"
        value={draft.settings.seasonalPercent}
        min={0}
        max={300}
        step={5}
        digits={0}
        onChange={(value) => draft.set({ seasonalPercent: Math.round(value ?? 100) })}
      />
    </div>
  );
}

/** The revision that somebody else set meanwhile, where a refusal tells of one. */
function revisionOf(failure: Failure | null): string | null {
  if (failure?.code !== 'stale') return null;
  const given = failure.text?.given as { revisionId?: unknown } | undefined;
  return typeof given?.revisionId === 'string' ? given.revisionId : null;
}

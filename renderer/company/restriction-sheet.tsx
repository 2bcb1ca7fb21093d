import { useState } from 'react';
import type { Restriction, RestrictionStage } from '../../core/settings/contract.ts';
import type { Failure } from '../../core/errors.ts';
import { Button, ErrorNote, SelectField, Sheet, TextField } from '../parts/index.ts';
import { placedErrors } from './placed-errors.ts';
import { saveRestriction } from './save-rules.ts';
import { StageFields } from './stage-fields.tsx';
import { say } from '../state/say.ts';

const NEW_STAGE: RestrictionStage = {
  title: '',
  dayRule: { kind: 'weekdays', oddAddress: [2, 4, 6], evenAddress: [1, 3, 5] },
  maxDaysPerWeek: 3,
  forbiddenHours: [{ from: '10:00', to: '18:00' }],
  dripExempt: true,
};

/** One water provider's rule with all its stages. */
export function RestrictionSheet({
  restriction,
  isNew,
  onClose,
}: {
  restriction: Restriction;
  isNew: boolean;
  onClose: () => void;
}) {
  const [draft, setDraft] = useState(restriction);
  const [failure, setFailure] = useState<Failure | null>(null);
  const errors = placedErrors(failure);
  const at = (path: string) => errors.at(`restrictions.0.${path}`);
  const set = (change: Partial<Restriction>) => setDraft((old) => ({ ...old, ...change }));
  const setStages = (stages: RestrictionStage[]) =>
    set({ stages, currentStage: Math.min(draft.currentStage, stages.length - 1) });
  const swap = (index: number, by: -1 | 1) => {
    const stages = [...draft.stages];
    const [one, other] = [stages[index], stages[index + by]];
    if (one === undefined || other === undefined) return;
    stages[index] = other;
    stages[index + by] = one;
    // The stage in force stays the same rule, wherever it now stands.
    const current =
      draft.currentStage === index ? index + by : draft.currentStage === index + by ? index : draft.currentStage;
    set({ stages, currentStage: current });
  };
  const remove = (index: number) => {
    const stages = draft.stages.filter((_, other) => other !== index);
    set({
      stages,
      currentStage: Math.min(
        index < draft.currentStage ? draft.currentStage - 1 : draft.currentStage,
        stages.length - 1,
      ),
    });
  };
  const save = async () => {
    const error = await saveRestriction(
      draft,
      say(isNew ? 'company.addedNamed' : 'company.savedNamed', { name: draft.name }),
      isNew ? null : restriction,
    );
    if (error === null) onClose();
    else setFailure(error);
  };
  return (
    <Sheet
      title={isNew ? say('company.addRestriction') : restriction.name}
      isOpen
      onClose={onClose}
      footer={
        <Button look="primary" onPress={() => void save()}>
          {isNew ? say('company.addRestriction') : say('company.saveRestriction')}
        </Button>
      }
    >
      <div className="form-grid">
        <TextField
          label={say('company.nameOf')}
          value={draft.name}
          onChange={(name) => set({ name })}
          isRequired
          autoFocus
          error={at('name')}
        />
        <TextField
          label={say('company.whereHolds')}
          value={draft.area}
          onChange={(area) => set({ area })}
          error={at('area')}
        />
        <TextField
          className="full"
          label={say('company.source')}
          value={draft.source}
          onChange={(source) => set({ source })}
          error={at('source')}
          description={say('company.restrictionSource')}
        />
        <SelectField
          label={say('company.stageInForceLabel')}
          value={String(draft.currentStage)}
          onChange={(stage) => set({ currentStage: Number(stage) })}
          options={draft.stages.map((stage, index) => ({
            id: String(index),
            label: stage.title === '' ? say('company.stageNumber', { number: index + 1 }) : stage.title,
          }))}
          error={at('currentStage')}
        />
      </div>
      {draft.stages.map((stage, index) => (
        <StageFields
          key={index}
          stage={stage}
          index={index}
          count={draft.stages.length}
          at={(path) => at(`stages.${index}.${path}`)}
          onChange={(next) => setStages(draft.stages.map((other, place) => (place === index ? next : other)))}
          onMove={(by) => swap(index, by)}
          onRemove={() => remove(index)}
        />
      ))}
      <p className="form-part">
        <Button isDisabled={draft.stages.length >= 20} onPress={() => setStages([...draft.stages, NEW_STAGE])}>
          {say('company.addStage')}
        </Button>
      </p>
      {at('stages') === null ? null : <ErrorNote error={at('stages') ?? ''} />}
      {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
    </Sheet>
  );
}

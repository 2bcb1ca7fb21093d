import { useState } from 'react';
import type { Restriction, RestrictionStage } from '../../core/contract/entities.ts';
import { Button, EmptyState, ErrorNote, formatClock, plural, Section, SelectField } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { newId } from '../state/write.ts';
import { RestrictionSheet } from './restriction-sheet.tsx';
import { saveRestriction } from './save-rules.ts';
import { ThumbRules } from './thumb-rules.tsx';
import { weekdayWords } from './weekday-picks.tsx';

export const FREE_STAGE: RestrictionStage = {
  title: 'No restriction',
  dayRule: { kind: 'any-day' },
  maxDaysPerWeek: null,
  forbiddenHours: [],
  dripExempt: true,
};

/** What the water providers allow, and what the company goes by. */
export function RulesPage() {
  const rules = useRequest('rules.list', {});
  const [opened, setOpened] = useState<{ restriction: Restriction; isNew: boolean } | null>(null);
  if (rules.data === undefined)
    return rules.error === null ? (
      <p className="waiting" role="status">
        Reading the rules…
      </p>
    ) : (
      <ErrorNote error={rules.error} onRetry={rules.reload} />
    );
  const { restrictions, thumbRules } = rules.data;
  const add = () =>
    setOpened({
      isNew: true,
      restriction: { id: newId(), name: '', area: '', source: '', currentStage: 0, stages: [FREE_STAGE] },
    });
  return (
    <>
      <h1>Watering rules</h1>
      <Section
        title="Watering restrictions"
        note="As the water providers publish them. Every program is checked against the stage in force."
        actions={<Button onPress={add}>Add restriction</Button>}
      >
        {restrictions.length === 0 ? (
          <EmptyState
            title="No restriction yet"
            action={
              <Button look="primary" onPress={add}>
                Add restriction
              </Button>
            }
          >
            Enter a provider's rule once with its stages: which days for odd and even house numbers, which hours are
            forbidden. When the provider changes the stage, change it here, and every program that breaks it shows.
          </EmptyState>
        ) : (
          <ul className="restrictions">
            {restrictions.map((restriction) => (
              <RestrictionCard
                key={restriction.id}
                restriction={restriction}
                onChange={() => setOpened({ restriction, isNew: false })}
              />
            ))}
          </ul>
        )}
      </Section>
      <ThumbRules rules={thumbRules} />
      {opened === null ? null : (
        <RestrictionSheet
          key={opened.restriction.id}
          restriction={opened.restriction}
          isNew={opened.isNew}
          onClose={() => setOpened(null)}
        />
      )}
    </>
  );
}

function RestrictionCard({ restriction, onChange }: { restriction: Restriction; onChange: () => void }) {
  return (
    <li className="card restriction">
      <div className="restriction-head">
        <div>
          <h3>{restriction.name}</h3>
          <p className="small quiet">
            {[restriction.area, restriction.source].filter((text) => text !== '').join(' · ')}
          </p>
        </div>
        <SelectField
          label="Stage in force"
          value={String(restriction.currentStage)}
          options={restriction.stages.map((stage, index) => ({ id: String(index), label: stage.title }))}
          onChange={(stage) => {
            if (Number(stage) !== restriction.currentStage)
              void saveRestriction(
                { ...restriction, currentStage: Number(stage) },
                `${restriction.name}: ${restriction.stages[Number(stage)]?.title ?? ''} is in force.`,
                restriction,
              );
          }}
        />
        <Button aria-label={`Change ${restriction.name}`} onPress={onChange}>
          Change
        </Button>
      </div>
      <ol className="stages">
        {restriction.stages.map((stage, index) => (
          <li key={index} data-current={index === restriction.currentStage || undefined}>
            <span className="stage-title">
              {index === restriction.currentStage ? '▶ ' : ''}
              {stage.title}
              {index === restriction.currentStage ? <span className="visually-hidden"> (in force)</span> : null}
            </span>
            <span>{stageWords(stage)}</span>
          </li>
        ))}
      </ol>
    </li>
  );
}

/** A stage in one line. */
export function stageWords(stage: RestrictionStage): string {
  const rule = stage.dayRule;
  const days =
    rule.kind === 'any-day'
      ? 'Any day'
      : rule.kind === 'no-watering'
        ? 'No watering'
        : rule.kind === 'date-parity'
          ? 'Odd addresses on odd dates, even on even'
          : `Odd addresses ${weekdayWords(rule.oddAddress)}; even ${weekdayWords(rule.evenAddress)}`;
  const parts = [days];
  if (stage.maxDaysPerWeek !== null && rule.kind !== 'no-watering')
    parts.push(`at most ${plural(stage.maxDaysPerWeek, 'day')} a week`);
  if (stage.forbiddenHours.length > 0)
    parts.push(
      `not ${stage.forbiddenHours.map(({ from, to }) => `${formatClock(from)}–${formatClock(to)}`).join(', ')}`,
    );
  parts.push(stage.dripExempt ? 'drip is free' : 'drip too');
  return parts.join(' · ');
}

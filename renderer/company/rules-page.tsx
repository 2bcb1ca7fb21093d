import { useState } from 'react';
import type { Restriction, RestrictionStage } from '../../core/settings/contract.ts';
import { Button, EmptyState, ErrorNote, formatClock, Section, SelectField } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { newId } from '../state/write.ts';
import { RestrictionSheet } from './restriction-sheet.tsx';
import { saveRestriction } from './save-rules.ts';
import { ThumbRules } from './thumb-rules.tsx';
import { weekdayWords } from './weekday-picks.tsx';
import { say } from '../state/say.ts';

/** A stage that forbids nothing, its title in the words of whoever adds it: it is theirs to change. */
export const freeStage = (): RestrictionStage => ({
  title: say('company.noRestriction'),
  dayRule: { kind: 'any-day' },
  maxDaysPerWeek: null,
  forbiddenHours: [],
  dripExempt: true,
});

/** What the water providers allow, and what the company goes by. */
export function RulesPage() {
  const rules = useRequest('rules.list', {});
  const [opened, setOpened] = useState<{ restriction: Restriction; isNew: boolean } | null>(null);
  if (rules.data === undefined)
    return rules.error === null ? (
      <p className="waiting" role="status">
        {say('company.readingRules')}
      </p>
    ) : (
      <ErrorNote error={rules.error} onRetry={rules.reload} />
    );
  const { restrictions, thumbRules } = rules.data;
  const add = () =>
    setOpened({
      isNew: true,
      restriction: { id: newId(), name: '', area: '', source: '', currentStage: 0, stages: [freeStage()] },
    });
  return (
    <>
      <h1>{say('company.rules')}</h1>
      <Section
        title={say('company.restrictions')}
        note={say('company.restrictionsWhy')}
        actions={<Button onPress={add}>{say('company.addRestriction')}</Button>}
      >
        {restrictions.length === 0 ? (
          <EmptyState
            title={say('company.noRestrictionYet')}
            action={
              <Button look="primary" onPress={add}>
                {say('company.addRestriction')}
              </Button>
            }
          >
            {say('company.noRestrictionWhy')}
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
          label={say('company.stageInForceLabel')}
          value={String(restriction.currentStage)}
          options={restriction.stages.map((stage, index) => ({ id: String(index), label: stage.title }))}
          onChange={(stage) => {
            if (Number(stage) !== restriction.currentStage)
              void saveRestriction(
                { ...restriction, currentStage: Number(stage) },
                say('company.stageInForce', {
                  name: restriction.name,
                  stage: restriction.stages[Number(stage)]?.title ?? '',
                }),
                restriction,
              );
          }}
        />
        <Button aria-label={say('company.changeNamed', { name: restriction.name })} onPress={onChange}>
          {say('company.change')}
        </Button>
      </div>
      <ol className="stages">
        {restriction.stages.map((stage, index) => (
          <li key={index} data-current={index === restriction.currentStage || undefined}>
            <span className="stage-title">
              {index === restriction.currentStage ? '▶ ' : ''}
              {stage.title}
              {index === restriction.currentStage ? (
                <span className="visually-hidden">{say('company.inForceMark')}</span>
              ) : null}
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
      ? say('company.rule.any-day')
      : rule.kind === 'no-watering'
        ? say('company.rule.no-watering')
        : rule.kind === 'date-parity'
          ? say('company.rule.date-parity')
          : say('company.oddEven', { odd: weekdayWords(rule.oddAddress), even: weekdayWords(rule.evenAddress) });
  const parts = [days];
  if (stage.maxDaysPerWeek !== null && rule.kind !== 'no-watering')
    parts.push(say('company.atMostDays', { days: stage.maxDaysPerWeek }));
  if (stage.forbiddenHours.length > 0)
    parts.push(
      say('company.notHours', {
        hours: stage.forbiddenHours.map(({ from, to }) => `${formatClock(from)}–${formatClock(to)}`),
      }),
    );
  parts.push(stage.dripExempt ? say('company.dripFree') : say('company.dripToo'));
  return parts.join(' · ');
}

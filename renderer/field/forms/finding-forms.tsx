import type { NotDoneReason, Urgency } from '../../../core/ledger/entry-contract.ts';
import { afterWords } from '../../parts/after-words.ts';
import { say } from '../../state/say.ts';
import { Caution } from '../caution.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { FindingPick } from './finding-pick.tsx';
import { defineForm, type DetailOf, type LogContext } from './form-spec.ts';
import { LineField } from './line-field.tsx';
import { ZonePick } from './zone-pick.tsx';

interface FindingValues {
  zoneId: string;
  place: string;
  what: string;
  urgency: Urgency;
}

export const findingForm = defineForm<'finding', FindingValues>({
  kind: 'finding',
  get title() {
    return say('log.do.finding');
  },
  needsPage: false,
  begin: (_context, from) => ({
    zoneId: from?.zoneId ?? '',
    place: from?.place ?? '',
    what: from?.what ?? '',
    urgency: from?.urgency ?? 'soon',
  }),
  Fields: ({ value, change, context }) => (
    <>
      <ZonePick context={context} value={value.zoneId} onChange={(zoneId) => change({ zoneId })} />
      <LineField
        label={say('log.place')}
        value={value.place}
        maxLength={200}
        hint={say('log.placeHint')}
        onChange={(place) => change({ place })}
      />
      <LineField label={say('log.what')} value={value.what} maxLength={300} onChange={(what) => change({ what })} />
      <Choice
        label={say('log.urgency')}
        value={value.urgency}
        onChange={(urgency) => change({ urgency })}
        options={[
          { id: 'at-once', word: say('log.urgency.at-once'), sign: '▲', tone: 'bad' },
          { id: 'soon', word: say('log.urgency.soon') },
          { id: 'when-convenient', word: say('log.urgency.when-convenient') },
        ]}
      />
      {value.urgency === 'at-once' && (
        <Caution title={say('log.atOnceCautionTitle')}>{say('log.atOnceCaution')}</Caution>
      )}
    </>
  ),
  finish(value) {
    if (value.what.trim() === '') return { problem: say('log.sayWhat') };
    if (value.zoneId === '' && value.place.trim() === '') return { problem: say('log.sayWhere') };
    return {
      detail: {
        kind: 'finding',
        zoneId: value.zoneId === '' ? null : value.zoneId,
        place: value.place.trim(),
        what: value.what.trim(),
        urgency: value.urgency,
      },
    };
  },
});

interface DecisionValues {
  what: string;
  decidedBy: DetailOf<'decision'>['decidedBy'];
  closesFindingId: string;
}

export const decisionForm = defineForm<'decision', DecisionValues>({
  kind: 'decision',
  get title() {
    return say('log.do.decision');
  },
  needsPage: false,
  begin: (_context, from) => ({
    what: from?.what ?? '',
    decidedBy: from?.decidedBy ?? 'client',
    closesFindingId: from?.closesFindingId ?? '',
  }),
  Fields: ({ value, change, context }) => (
    <>
      <LineField label={say('log.decided')} value={value.what} maxLength={300} onChange={(what) => change({ what })} />
      <Choice
        label={say('log.decidedBy')}
        value={value.decidedBy}
        onChange={(decidedBy) => change({ decidedBy })}
        options={[
          { id: 'client', word: say('log.by.client') },
          { id: 'office', word: say('log.by.office') },
          { id: 'technician', word: say('log.by.technician') },
        ]}
      />
      <FindingPick
        context={context}
        value={value.closesFindingId}
        onChange={(closesFindingId) => change({ closesFindingId })}
      />
    </>
  ),
  finish: (value) =>
    value.what.trim() === ''
      ? { problem: say('log.sayDecided') }
      : {
          detail: {
            kind: 'decision',
            what: value.what.trim(),
            decidedBy: value.decidedBy,
            closesFindingId: value.closesFindingId === '' ? null : value.closesFindingId,
          },
        },
});

/** What the zone runs by its programs, to begin from; a few minutes where that is not known. */
function usualMinutes({ page }: LogContext, zoneId: string): number {
  const runs = page?.programs.flatMap((program) => program.revision.runs) ?? [];
  const longest = Math.max(0, ...runs.filter((run) => run.zoneId === zoneId).map((run) => run.runMinutes));
  return longest >= 0.5 ? longest : 5;
}

interface ManualRunValues {
  zoneId: string;
  runMinutes: number | null;
  why: string;
}

export const manualRunForm = defineForm<'manual-run', ManualRunValues>({
  kind: 'manual-run',
  get title() {
    return say('log.do.manual-run');
  },
  needsPage: true,
  begin: (_context, from) => ({
    zoneId: from?.zoneId ?? '',
    runMinutes: from?.runMinutes ?? null,
    why: from?.why ?? '',
  }),
  Fields: ({ value, change, context }) => (
    <>
      <ZonePick context={context} value={value.zoneId} onChange={(zoneId) => change({ zoneId })} />
      <Stepper
        label={say('log.runMinutes')}
        value={value.runMinutes}
        min={0.5}
        max={720}
        step={1}
        digits={1}
        startAt={usualMinutes(context, value.zoneId)}
        unit="min"
        onChange={(runMinutes) => change({ runMinutes })}
      />
      <LineField label={say('log.whyRun')} value={value.why} maxLength={300} onChange={(why) => change({ why })} />
    </>
  ),
  finish(value) {
    if (value.zoneId === '') return { problem: say('log.sayZone') };
    if (value.runMinutes === null) return { problem: say('log.sayMinutes') };
    return {
      detail: { kind: 'manual-run', zoneId: value.zoneId, runMinutes: value.runMinutes, why: value.why.trim() },
    };
  },
});

interface NotDoneValues {
  why: NotDoneReason | '';
}

export const notDoneForm = defineForm<'not-done', NotDoneValues>({
  kind: 'not-done',
  get title() {
    return say('log.do.not-done');
  },
  needsPage: false,
  begin: (_context, from) => ({ why: from?.why ?? '' }),
  Fields: ({ value, change, context: { visit, kinds } }) => (
    <>
      <Choice
        label={say('log.whyNotDone')}
        value={value.why === '' ? null : value.why}
        onChange={(why) => change({ why })}
        options={[
          { id: 'no-access', word: say('log.why.no-access') },
          { id: 'client-away', word: say('log.why.client-away') },
          { id: 'declined', word: say('log.why.declined') },
          { id: 'weather', word: say('log.why.weather') },
          { id: 'other', word: say('log.why.other') },
        ]}
      />
      <p className="fd-fact">{afterWords(visit, [...kinds, 'not-done'], true)}</p>
    </>
  ),
  finish: (value) =>
    value.why === '' ? { problem: say('log.sayWhyNot') } : { detail: { kind: 'not-done', why: value.why } },
});

import { useState } from 'react';
import type { ProgramSettings } from '../../../core/programs/contract.ts';
import type { WaterWeek } from '../../../core/programs/contract.ts';
import { WaterWeekChart } from '../../charts/water-week.tsx';
import { weekScale } from '../../charts/water-week-layout.ts';
import { ErrorNote } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { newId } from '../../state/write.ts';
import type { AcceptPlan } from '../../../core/programs/accept-plan.ts';
import { useDebounced } from './use-debounced.ts';
import { say } from '../../state/say.ts';

export interface PreviewWeek {
  week: WaterWeek | undefined;
  error: ReturnType<typeof useRequest<'program.week'>>['error'];
  loading: boolean;
}

/** Ids for programs that are not in the book yet: the same for the same name, so that a question asked twice is the same question. */
function newProgramIds(): (key: string) => string {
  const ids = new Map<string, string>();
  return (key) => {
    const id = ids.get(key) ?? newId();
    ids.set(key, id);
    return id;
  };
}

/** The week as it would be with the plan in force: the review's own when all of it is taken, else asked of the book. */
export function usePreviewWeek(propertyId: string, plan: AcceptPlan, whole: WaterWeek): PreviewWeek {
  const [idOfNew] = useState(newProgramIds);
  const instead = plan.programs.map((program) => {
    return {
      programId: program.programId ?? idOfNew(`${program.controllerId} ${program.name}`),
      name: program.name,
      controllerId: program.controllerId,
      settings: program.settings satisfies ProgramSettings,
    };
  });
  const input = plan.isWhole ? null : { propertyId, date: whole.weekStart, instead };
  const key = useDebounced(JSON.stringify(input));
  const asked = useRequest('program.week', JSON.parse(key) as typeof input);
  if (plan.isWhole) return { week: whole, error: null, loading: false };
  return { week: asked.data, error: asked.error, loading: asked.loading || key !== JSON.stringify(input) };
}

/** The water week as set and as it would be, one above the other on the same hours. */
export function TwoWeeks({
  now,
  preview,
  isWhole,
  rarely,
}: {
  now: WaterWeek;
  preview: PreviewWeek;
  isWhole: boolean;
  rarely: string | null;
}) {
  const then = preview.week;
  const scale = weekScale(then === undefined ? [now] : [now, then]);
  return (
    <div className="pr-weeks">
      <WaterWeekChart week={now} title={say('pr.now')} scale={scale} legend={false} />
      {preview.error !== null ? (
        <ErrorNote error={preview.error} />
      ) : then === undefined ? (
        <p className="waiting" role="status">
          {say('pr.workingWeek')}
        </p>
      ) : (
        <WaterWeekChart week={then} title={isWhole ? say('pr.asAdvised') : say('pr.withChosen')} scale={scale} />
      )}
      {rarely === null ? null : <p className="small quiet">{say('pr.rarely', { what: rarely })}</p>}
    </div>
  );
}

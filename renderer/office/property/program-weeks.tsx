import { useDeferredValue } from 'react';
import { programSettingsSchema } from '../../../core/programs/contract.ts';
import { WaterWeekChart } from '../../charts/water-week.tsx';
import { weekScale } from '../../charts/water-week-layout.ts';
import { ErrorNote } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { say } from '../../state/say.ts';
import type { ProgramDraft } from './use-program-draft.ts';

/** The week as it is set, where the program is set already, and the week as it would be; both on one scale. */
export function ProgramWeeks({
  propertyId,
  draft,
  isNew,
  today,
}: {
  propertyId: string;
  draft: ProgramDraft;
  isNew: boolean;
  today: string;
}) {
  const { ids, name, controllerId } = draft;
  const drawn = useDeferredValue(draft.settings);
  const drawable = programSettingsSchema.safeParse(drawn).success;
  const now = useRequest('program.week', isNew ? null : { propertyId, date: today });
  const then = useRequest(
    'program.week',
    drawable
      ? { propertyId, date: today, instead: [{ programId: ids.programId, name, controllerId, settings: drawn }] }
      : null,
  );
  const scale = weekScale([now.data, then.data].filter((week) => week !== undefined));
  return (
    <div className="program-weeks">
      {now.data === undefined ? null : (
        <WaterWeekChart
          week={now.data}
          scale={scale}
          title={say('property.program.now')}
          today={today}
          legend={false}
          breaches="count"
        />
      )}
      {then.data === undefined ? (
        then.error === null ? null : (
          <ErrorNote error={then.error} />
        )
      ) : (
        <WaterWeekChart
          week={then.data}
          scale={scale}
          title={isNew ? say('property.program.withThis') : say('property.program.asChanged')}
          today={today}
        />
      )}
    </div>
  );
}

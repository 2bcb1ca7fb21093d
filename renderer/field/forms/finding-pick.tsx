import { say, sayTold } from '../../state/say.ts';
import type { LogContext } from './form-spec.ts';

/** Picks the open finding that an entry closes, or none; not shown where nothing is open. */
export function FindingPick({
  context,
  value,
  onChange,
}: {
  context: LogContext;
  value: string;
  onChange: (findingId: string) => void;
}) {
  const open = context.page?.openFindings ?? [];
  if (open.length === 0 && value === '') return null;
  return (
    <label className="fd-text">
      <span>{say('log.closes')}</span>
      <select value={value} onChange={(event) => onChange(event.target.value)}>
        <option value="">{say('log.closesNone')}</option>
        {open.map((finding) => (
          <option key={finding.id} value={finding.id}>
            {sayTold(finding.summary)}
          </option>
        ))}
        {value === '' || open.some((finding) => finding.id === value) ? null : (
          <option value={value}>{say('log.closesAnother')}</option>
        )}
      </select>
    </label>
  );
}

import type { LogContext } from './form-spec.ts';
import { say } from '../../state/say.ts';

/** Picks a zone, or none; a native list, which a phone shows full screen. */
export function ZonePick({
  context,
  value,
  onChange,
}: {
  context: LogContext;
  value: string;
  onChange: (zoneId: string) => void;
}) {
  const zones = (context.page?.zones ?? []).filter((zone) => !zone.retired).sort((a, b) => a.station - b.station);
  if (zones.length === 0) return null;
  return (
    <label className="fd-text">
      <span>{say('field.zone')}</span>
      <select value={value} onChange={(event) => onChange(event.target.value)}>
        <option value="">{say('field.noZone')}</option>
        {zones.map((zone) => (
          <option key={zone.id} value={zone.id}>
            {zone.station} · {zone.name}
          </option>
        ))}
      </select>
    </label>
  );
}

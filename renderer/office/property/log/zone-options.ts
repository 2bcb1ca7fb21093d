import type { OpenProperty } from '../use-property-editor.ts';

/** The zones in use, by station, to pick one of. */
export function zoneOptions(data: OpenProperty) {
  return data.zones
    .filter((zone) => !zone.retired)
    .sort((a, b) => a.station - b.station)
    .map((zone) => ({ id: zone.id, label: `${zone.station} ${zone.name}` }));
}

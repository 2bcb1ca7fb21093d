import { EMISSION_DEVICES, PLANT_KINDS, SOILS, SUN_EXPOSURES } from '../../../core/agronomy/contract.ts';
import type { Zone } from '../../../core/properties/contract.ts';
import { fromStored, toStored, unitDigits, unitLabel } from '../../../core/units.ts';
import type { Quantity, UnitSystem } from '../../../core/units.ts';
import { Button, formatFigure, formatNumber, Guess, wordsOf, ZoneTag } from '../../parts/index.ts';
import type { CellValue, GridColumn } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import { say, texts } from '../../state/say.ts';

const PR_FROM: Readonly<Record<Zone['prMethod'], string>> = texts({
  'catch-can': 'property.zones.pr.catch-can',
  'flow-area': 'property.zones.pr.flow-area',
  spacing: 'property.zones.pr.spacing',
  drip: 'property.zones.pr.drip',
  table: 'property.zones.pr.table',
});
const choices = (ids: readonly string[]) => ids.map((id) => ({ id, label: wordsOf(id) }));

const figure = (quantity: Quantity, value: number | null, units: UnitSystem) =>
  value === null ? null : Number(fromStored(quantity, value, units).toFixed(unitDigits(quantity, units)));

/** The columns of the zones, in the reader's units; the last one opens every figure of a zone. */
export function zoneColumns(
  units: UnitSystem,
  reclaimed: boolean,
  onEditAll: (zone: Zone) => void,
): Array<GridColumn<Zone>> {
  return [
    {
      id: 'station',
      label: say('property.zones.zone'),
      kind: 'static',
      show: (zone) => <ZoneTag station={zone.station} reclaimed={reclaimed} />,
    },
    { id: 'name', label: say('property.zones.name'), kind: 'text', value: (zone) => zone.name, className: 'grow' },
    {
      id: 'plantKind',
      label: say('property.zones.plants'),
      kind: 'select',
      options: choices(PLANT_KINDS),
      value: (zone) => zone.plantKind,
      show: (zone) => wordsOf(zone.plantKind),
    },
    {
      id: 'emissionDevice',
      label: say('property.zones.heads'),
      kind: 'select',
      options: choices(EMISSION_DEVICES),
      value: (zone) => zone.emissionDevice,
      show: (zone) => wordsOf(zone.emissionDevice),
    },
    {
      id: 'flowGpm',
      label: say('property.zones.flow'),
      unit: unitLabel('flow', units),
      kind: 'number',
      value: (zone) => figure('flow', zone.flowGpm, units),
      show: (zone) => <Known value={zone.flowGpm} quantity="flow" known={zone.flowKnown} />,
    },
    {
      id: 'areaFt2',
      label: say('property.zones.area'),
      unit: unitLabel('area', units),
      kind: 'number',
      value: (zone) => figure('area', zone.areaFt2, units),
      show: (zone) => <Known value={zone.areaFt2} quantity="area" known={zone.areaKnown} />,
    },
    {
      id: 'precipitationRateInPerHour',
      label: say('property.zones.rate'),
      unit: unitLabel('rate', units),
      kind: 'number',
      value: (zone) => figure('rate', zone.precipitationRateInPerHour, units),
      show: (zone) =>
        zone.precipitationRateInPerHour === null ? (
          <span className="quiet nowrap" title={say('property.zones.workedOut')}>
            {PR_FROM[zone.prMethod]}
          </span>
        ) : (
          formatFigure('rate', zone.precipitationRateInPerHour, units)
        ),
    },
    {
      id: 'soil',
      label: say('property.zones.soil'),
      kind: 'select',
      options: choices(SOILS),
      value: (zone) => zone.soil,
      show: (zone) => <Guess known={zone.soilKnown}>{wordsOf(zone.soil)}</Guess>,
    },
    {
      id: 'slopePercent',
      label: say('property.zones.slope'),
      unit: '%',
      kind: 'number',
      value: (zone) => zone.slopePercent,
      show: (zone) => formatNumber(zone.slopePercent, 1),
    },
    {
      id: 'sunExposure',
      label: say('property.zones.sun'),
      kind: 'select',
      options: choices(SUN_EXPOSURES),
      value: (zone) => zone.sunExposure,
      show: (zone) => <span className="nowrap">{wordsOf(zone.sunExposure)}</span>,
    },
    {
      id: 'betweenHouses',
      label: say('property.zones.betweenHouses'),
      kind: 'check',
      value: (zone) => zone.betweenHouses,
    },
    {
      id: 'more',
      label: say('property.zones.allOfZone'),
      kind: 'action',
      show: (zone) => (
        <Button
          look="quiet"
          aria-label={say('property.zones.editAllOf', { station: zone.station, zone: zone.name })}
          onPress={() => onEditAll(zone)}
        >
          {say('property.zones.edit')}
        </Button>
      ),
    },
  ];
}

/** What an edited cell changes in its zone: a figure somebody typed is no guess any more. */
export function changeOfCell(zone: Zone, columnId: string, value: CellValue, units: UnitSystem) {
  const change: Partial<Zone> & { id: string } = { id: zone.id };
  const stored = (quantity: Quantity) => (typeof value === 'number' ? toStored(quantity, value, units) : null);
  if (columnId === 'flowGpm')
    Object.assign(change, { flowGpm: stored('flow'), flowKnown: value === null ? 'guess' : 'measured' });
  else if (columnId === 'areaFt2')
    Object.assign(change, { areaFt2: stored('area'), areaKnown: value === null ? 'guess' : 'measured' });
  else if (columnId === 'precipitationRateInPerHour')
    Object.assign(change, { precipitationRateInPerHour: stored('rate') });
  else if (columnId === 'soil') Object.assign(change, { soil: value, soilKnown: 'measured' });
  else if (columnId === 'slopePercent') change.slopePercent = typeof value === 'number' ? value : 0;
  else Object.assign(change, { [columnId]: value });
  return change;
}

function Known({ value, quantity, known }: { value: number | null; quantity: Quantity; known: Zone['flowKnown'] }) {
  const units = useUnits();
  if (value === null)
    return (
      <span className="quiet" title={say('property.zones.notKnownTitle')}>
        –<span className="visually-hidden"> {say('parts.notKnown')}</span>
      </span>
    );
  return <Guess known={known}>{formatFigure(quantity, value, units)}</Guess>;
}

/** A cell's value in words. */
export function sayValue(value: CellValue): string {
  if (value === null || value === '') return say('parts.notKnown');
  if (typeof value === 'boolean') return say(value ? 'property.zones.yes' : 'property.zones.no');
  return typeof value === 'number' ? formatNumber(value, 2) : wordsOf(value);
}

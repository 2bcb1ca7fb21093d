import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS, SOILS, SUN_EXPOSURES, zoneSchema } from '../../../core/contract/entities.ts';
import type { Zone } from '../../../core/contract/entities.ts';
import { toStored, unitLabel } from '../../../core/units.ts';
import type { Quantity } from '../../../core/units.ts';
import {
  Button,
  EditGrid,
  EmptyState,
  formatFigure,
  formatNumber,
  Guess,
  plural,
  Section,
  wordsOf,
  ZoneTag,
} from '../../parts/index.ts';
import type { CellValue, GridColumn } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { useUnits } from '../../state/use-settings.ts';
import { ZoneForm } from '../forms/zone-form.tsx';
import { ControllerForm } from '../forms/controller-form.tsx';
import type { OpenProperty, PropertyEditor } from './use-property-editor.ts';

const PR_FROM: Record<Zone['prMethod'], string> = {
  'catch-can': 'by cans',
  'flow-area': 'by flow',
  spacing: 'by spacing',
  drip: 'by drip',
  table: 'by table',
};
const choices = (ids: readonly string[]) => ids.map((id) => ({ id, label: wordsOf(id) }));

/** The zones of each controller, edited where they stand. A figure nobody measured says so. */
export function ZonesSection({ data, editor }: { data: OpenProperty; editor: PropertyEditor }) {
  const units = useUnits();
  const [editing, setEditing] = useState<{ zone: Zone | null; controllerId: string } | null>(null);
  const [controllerForm, setControllerForm] = useState<{ controllerId: string | null } | null>(null);
  const controllers = data.controllers.filter((controller) => !controller.retired);
  const zones = editor.zones.filter((zone) => !zone.retired);
  const retired = editor.zones.length - zones.length;
  const stored = (quantity: Quantity, value: CellValue) =>
    typeof value === 'number' ? toStored(quantity, value, units) : null;
  const figure = (quantity: Quantity, value: number | null) =>
    value === null ? null : Number(formatFigure(quantity, value, units).replaceAll(',', ''));

  const columns: Array<GridColumn<Zone>> = [
    {
      id: 'station',
      label: 'Zone',
      kind: 'static',
      show: (zone) => <ZoneTag station={zone.station} reclaimed={data.property.waterSupply === 'reclaimed'} />,
    },
    { id: 'name', label: 'Name', kind: 'text', value: (zone) => zone.name, className: 'grow' },
    {
      id: 'plantKind',
      label: 'Plants',
      kind: 'select',
      options: choices(PLANT_KINDS),
      value: (zone) => zone.plantKind,
      show: (zone) => wordsOf(zone.plantKind),
    },
    {
      id: 'emissionDevice',
      label: 'Heads or drip',
      kind: 'select',
      options: choices(EMISSION_DEVICES),
      value: (zone) => zone.emissionDevice,
      show: (zone) => wordsOf(zone.emissionDevice),
    },
    {
      id: 'flowGpm',
      label: 'Flow',
      unit: unitLabel('flow', units),
      kind: 'number',
      value: (zone) => figure('flow', zone.flowGpm),
      show: (zone) => <Known value={zone.flowGpm} quantity="flow" known={zone.flowKnown} />,
    },
    {
      id: 'areaFt2',
      label: 'Area',
      unit: unitLabel('area', units),
      kind: 'number',
      value: (zone) => figure('area', zone.areaFt2),
      show: (zone) => <Known value={zone.areaFt2} quantity="area" known={zone.areaKnown} />,
    },
    {
      id: 'precipitationRateInPerHour',
      label: 'Rate',
      unit: unitLabel('rate', units),
      kind: 'number',
      value: (zone) => figure('rate', zone.precipitationRateInPerHour),
      show: (zone) =>
        zone.precipitationRateInPerHour === null ? (
          <span className="quiet nowrap" title="Worked out, not measured">
            {PR_FROM[zone.prMethod]}
          </span>
        ) : (
          formatFigure('rate', zone.precipitationRateInPerHour, units)
        ),
    },
    {
      id: 'soil',
      label: 'Soil',
      kind: 'select',
      options: choices(SOILS),
      value: (zone) => zone.soil,
      show: (zone) => <Guess known={zone.soilKnown}>{wordsOf(zone.soil)}</Guess>,
    },
    {
      id: 'slopePercent',
      label: 'Slope',
      unit: '%',
      kind: 'number',
      value: (zone) => zone.slopePercent,
      show: (zone) => formatNumber(zone.slopePercent, 1),
    },
    {
      id: 'sunExposure',
      label: 'Sun',
      kind: 'select',
      options: choices(SUN_EXPOSURES),
      value: (zone) => zone.sunExposure,
      show: (zone) => <span className="nowrap">{wordsOf(zone.sunExposure)}</span>,
    },
    { id: 'betweenHouses', label: 'Between houses', kind: 'check', value: (zone) => zone.betweenHouses },
    {
      id: 'more',
      label: 'All of a zone',
      kind: 'action',
      show: (zone) => (
        <Button
          look="quiet"
          aria-label={`Edit all of zone ${zone.station}, ${zone.name}`}
          onPress={() => setEditing({ zone, controllerId: zone.controllerId })}
        >
          Edit
        </Button>
      ),
    },
  ];

  const onEdit = async (zone: Zone, columnId: string, value: CellValue): Promise<string | null> => {
    const change: Partial<Zone> & { id: string } = { id: zone.id };
    if (columnId === 'flowGpm')
      Object.assign(change, { flowGpm: stored('flow', value), flowKnown: value === null ? 'guess' : 'measured' });
    else if (columnId === 'areaFt2')
      Object.assign(change, { areaFt2: stored('area', value), areaKnown: value === null ? 'guess' : 'measured' });
    else if (columnId === 'precipitationRateInPerHour')
      Object.assign(change, { precipitationRateInPerHour: stored('rate', value) });
    else if (columnId === 'soil') Object.assign(change, { soil: value, soilKnown: 'measured' });
    else if (columnId === 'slopePercent') change.slopePercent = typeof value === 'number' ? value : 0;
    else Object.assign(change, { [columnId]: value });
    const label = columns.find((column) => column.id === columnId)?.label ?? columnId;
    const checked = zoneSchema.safeParse({ ...zone, ...change });
    if (!checked.success)
      return `Zone ${zone.station}, ${label}: ${checked.error.issues[0]?.message ?? 'that is not possible'}.`;
    const said = `Zone ${zone.station}, ${label.toLowerCase()}: ${sayValue(value)}`;
    const failure = await editor.save({ zones: [change] }, said);
    return failure === null || failure.code === 'stale' ? null : failure.message;
  };

  if (controllers.length === 0) {
    return (
      <Section title="Zones">
        <EmptyState
          title="No controller yet"
          action={
            <Button look="primary" onPress={() => setControllerForm({ controllerId: null })}>
              Add controller
            </Button>
          }
        >
          A controller holds the zones: add it, then its zones, and the page can draw when they run and say whether that
          is too much.
        </EmptyState>
        {controllerForm === null ? null : (
          <ControllerForm data={data} controllerId={null} onClose={() => setControllerForm(null)} />
        )}
      </Section>
    );
  }
  return (
    <Section
      wide
      title="Zones"
      note={plural(zones.length, 'zone')}
      actions={
        <Button look="quiet" onPress={() => setControllerForm({ controllerId: null })}>
          Add controller
        </Button>
      }
    >
      {controllers.map((controller) => {
        const own = zones.filter((zone) => zone.controllerId === controller.id).sort((a, b) => a.station - b.station);
        return (
          <div key={controller.id} className="controller">
            <div className="controller-head">
              <h3>{controller.name}</h3>
              <span className="quiet small">
                {controller.location === '' ? 'place not known' : controller.location} · {own.length} of{' '}
                {plural(controller.stationCount, 'station')} in use
              </span>
              <span className="controller-actions">
                <Button look="quiet" onPress={() => setControllerForm({ controllerId: controller.id })}>
                  Edit controller
                </Button>
                <Button look="quiet" onPress={() => setEditing({ zone: null, controllerId: controller.id })}>
                  Add zone
                </Button>
              </span>
            </div>
            {own.length === 0 ? (
              <p className="quiet">
                No zones yet. Add the first one, or <a href="#/office/import">import them from a CSV</a>.
              </p>
            ) : (
              <EditGrid
                label={`Zones of ${controller.name}`}
                rows={own}
                rowKey={(zone) => zone.id}
                rowName={(zone) => `zone ${zone.station} ${zone.name}`}
                columns={columns}
                onEdit={onEdit}
              />
            )}
          </div>
        );
      })}
      {retired === 0 ? null : (
        <details className="retired">
          <summary>{plural(retired, 'retired zone')}</summary>
          <ul>
            {editor.zones
              .filter((zone) => zone.retired)
              .map((zone) => (
                <li key={zone.id}>
                  <ZoneTag station={zone.station} /> {zone.name}{' '}
                  <Button
                    look="quiet"
                    aria-label={`Take back into use: zone ${zone.station} ${zone.name}`}
                    onPress={() =>
                      void editor
                        .save({ zones: [{ id: zone.id, retired: false }] }, `Zone ${zone.station} is in use again`)
                        .then((failure) => {
                          if (failure !== null && failure.code !== 'stale')
                            toast({ text: failure.message, tone: 'error' });
                        })
                    }
                  >
                    Take back into use
                  </Button>
                </li>
              ))}
          </ul>
        </details>
      )}
      {editing === null ? null : (
        <ZoneForm
          data={data}
          zone={editing.zone}
          zones={editor.zones}
          controllerId={editing.controllerId}
          onClose={() => setEditing(null)}
        />
      )}
      {controllerForm === null ? null : (
        <ControllerForm
          data={data}
          controllerId={controllerForm.controllerId}
          onClose={() => setControllerForm(null)}
        />
      )}
    </Section>
  );
}

function Known({ value, quantity, known }: { value: number | null; quantity: Quantity; known: Zone['flowKnown'] }) {
  const units = useUnits();
  if (value === null)
    return (
      <span className="quiet" title="Not known">
        –<span className="visually-hidden"> not known</span>
      </span>
    );
  return <Guess known={known}>{formatFigure(quantity, value, units)}</Guess>;
}

function sayValue(value: CellValue): string {
  if (value === null || value === '') return 'not known';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'number' ? formatNumber(value, 2) : wordsOf(value);
}

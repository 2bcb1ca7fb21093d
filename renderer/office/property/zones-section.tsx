import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS, SOILS, SUN_EXPOSURES } from '../../../core/agronomy/contract.ts';
import { zoneSchema } from '../../../core/properties/contract.ts';
import type { Zone } from '../../../core/properties/contract.ts';
import { fromStored, toStored, unitDigits, unitLabel } from '../../../core/units.ts';
import type { Quantity } from '../../../core/units.ts';
import {
  Button,
  EditGrid,
  EmptyState,
  formatFigure,
  formatNumber,
  Guess,
  Said,
  Section,
  wordsOf,
  ZoneTag,
} from '../../parts/index.ts';
import type { CellValue, GridColumn } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { useUnits } from '../../state/use-settings.ts';
import { say, sayError, texts } from '../../state/say.ts';
import { ZoneForm } from './edit/zone-form.tsx';
import { ControllerForm } from './edit/controller-form.tsx';
import type { OpenProperty, PropertyEditor } from './use-property-editor.ts';

const PR_FROM: Readonly<Record<Zone['prMethod'], string>> = texts({
  'catch-can': 'property.zones.pr.catch-can',
  'flow-area': 'property.zones.pr.flow-area',
  spacing: 'property.zones.pr.spacing',
  drip: 'property.zones.pr.drip',
  table: 'property.zones.pr.table',
});
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
    value === null ? null : Number(fromStored(quantity, value, units).toFixed(unitDigits(quantity, units)));

  const columns: Array<GridColumn<Zone>> = [
    {
      id: 'station',
      label: say('property.zones.zone'),
      kind: 'static',
      show: (zone) => <ZoneTag station={zone.station} reclaimed={data.property.waterSupply === 'reclaimed'} />,
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
      value: (zone) => figure('flow', zone.flowGpm),
      show: (zone) => <Known value={zone.flowGpm} quantity="flow" known={zone.flowKnown} />,
    },
    {
      id: 'areaFt2',
      label: say('property.zones.area'),
      unit: unitLabel('area', units),
      kind: 'number',
      value: (zone) => figure('area', zone.areaFt2),
      show: (zone) => <Known value={zone.areaFt2} quantity="area" known={zone.areaKnown} />,
    },
    {
      id: 'precipitationRateInPerHour',
      label: say('property.zones.rate'),
      unit: unitLabel('rate', units),
      kind: 'number',
      value: (zone) => figure('rate', zone.precipitationRateInPerHour),
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
          onPress={() => setEditing({ zone, controllerId: zone.controllerId })}
        >
          {say('property.zones.edit')}
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
      return say('property.zones.refused', {
        station: zone.station,
        column: label,
        why: checked.error.issues[0]?.message ?? say('property.zones.notPossible'),
      });
    const said = say('property.zones.changed', { station: zone.station, column: label, value: sayValue(value) });
    const failure = await editor.save({ zones: [change] }, said);
    return failure === null || failure.code === 'stale' ? null : sayError(failure);
  };

  if (controllers.length === 0) {
    return (
      <Section title={say('property.zones.title')}>
        <EmptyState
          title={say('property.zones.noController')}
          action={
            <Button look="primary" onPress={() => setControllerForm({ controllerId: null })}>
              {say('property.zones.addController')}
            </Button>
          }
        >
          {say('property.zones.noControllerWhy')}
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
      title={say('property.zones.title')}
      note={say('property.zones.count', { count: zones.length })}
      actions={
        <Button look="quiet" onPress={() => setControllerForm({ controllerId: null })}>
          {say('property.zones.addController')}
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
                {controller.location === '' ? say('property.zones.placeNotKnown') : controller.location} ·{' '}
                {say('property.zones.stationsInUse', { used: own.length, stations: controller.stationCount })}
              </span>
              <span className="controller-actions">
                <Button look="quiet" onPress={() => setControllerForm({ controllerId: controller.id })}>
                  {say('property.zones.editController')}
                </Button>
                <Button look="quiet" onPress={() => setEditing({ zone: null, controllerId: controller.id })}>
                  {say('property.zones.add')}
                </Button>
              </span>
            </div>
            {own.length === 0 ? (
              <p className="quiet">
                <Said
                  text={say('property.zones.noneYet')}
                  parts={{ import: <a href="#/office/import">{say('property.zones.importThem')}</a> }}
                />
              </p>
            ) : (
              <EditGrid
                label={say('property.zones.of', { controller: controller.name })}
                rows={own}
                rowKey={(zone) => zone.id}
                rowName={(zone) => say('property.zones.named', { station: zone.station, zone: zone.name })}
                columns={columns}
                onEdit={onEdit}
              />
            )}
          </div>
        );
      })}
      {retired === 0 ? null : (
        <details className="retired">
          <summary>{say('property.zones.retired', { count: retired })}</summary>
          <ul>
            {editor.zones
              .filter((zone) => zone.retired)
              .map((zone) => (
                <li key={zone.id}>
                  <ZoneTag station={zone.station} /> {zone.name}{' '}
                  <Button
                    look="quiet"
                    aria-label={say('property.zones.takeBack', { station: zone.station, zone: zone.name })}
                    onPress={() =>
                      void editor
                        .save(
                          { zones: [{ id: zone.id, retired: false }] },
                          say('property.zones.inUseAgain', { station: zone.station }),
                        )
                        .then((failure) => {
                          if (failure !== null && failure.code !== 'stale')
                            toast({ text: sayError(failure), tone: 'error' });
                        })
                    }
                  >
                    {say('property.takeBack')}
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
      <span className="quiet" title={say('property.zones.notKnownTitle')}>
        –<span className="visually-hidden"> {say('parts.notKnown')}</span>
      </span>
    );
  return <Guess known={known}>{formatFigure(quantity, value, units)}</Guess>;
}

function sayValue(value: CellValue): string {
  if (value === null || value === '') return say('parts.notKnown');
  if (typeof value === 'boolean') return say(value ? 'property.zones.yes' : 'property.zones.no');
  return typeof value === 'number' ? formatNumber(value, 2) : wordsOf(value);
}

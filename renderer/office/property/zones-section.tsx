import { useState } from 'react';
import { zoneSchema } from '../../../core/properties/contract.ts';
import type { Controller, Zone } from '../../../core/properties/contract.ts';
import { Button, EditGrid, EmptyState, Said, Section, ZoneTag } from '../../parts/index.ts';
import type { CellValue, GridColumn } from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { useUnits } from '../../state/use-settings.ts';
import { say, sayError } from '../../state/say.ts';
import { ZoneForm } from './edit/zone-form.tsx';
import { ControllerForm } from './edit/controller-form.tsx';
import type { OpenProperty, PropertyEditor } from './use-property-editor.ts';
import { changeOfCell, sayValue, zoneColumns } from './zone-columns.tsx';

/** The zones of each controller, edited where they stand. A figure nobody measured says so. */
export function ZonesSection({ data, editor }: { data: OpenProperty; editor: PropertyEditor }) {
  const units = useUnits();
  const [editing, setEditing] = useState<{ zone: Zone | null; controllerId: string } | null>(null);
  const [controllerForm, setControllerForm] = useState<{ controllerId: string | null } | null>(null);
  const controllers = data.controllers.filter((controller) => !controller.retired);
  const zones = editor.zones.filter((zone) => !zone.retired);
  const columns = zoneColumns(units, data.property.waterSupply === 'reclaimed', (zone) =>
    setEditing({ zone, controllerId: zone.controllerId }),
  );
  const onEdit = async (zone: Zone, columnId: string, value: CellValue): Promise<string | null> => {
    const change = changeOfCell(zone, columnId, value, units);
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
      {controllers.map((controller) => (
        <ControllerZones
          key={controller.id}
          controller={controller}
          zones={zones.filter((zone) => zone.controllerId === controller.id).sort((a, b) => a.station - b.station)}
          columns={columns}
          onEdit={onEdit}
          onEditController={() => setControllerForm({ controllerId: controller.id })}
          onAddZone={() => setEditing({ zone: null, controllerId: controller.id })}
        />
      ))}
      <RetiredZones editor={editor} />
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

/** One controller: where it hangs, and its zones as a table. */
function ControllerZones({
  controller,
  zones,
  columns,
  onEdit,
  onEditController,
  onAddZone,
}: {
  controller: Controller;
  zones: readonly Zone[];
  columns: ReadonlyArray<GridColumn<Zone>>;
  onEdit: (zone: Zone, columnId: string, value: CellValue) => Promise<string | null>;
  onEditController: () => void;
  onAddZone: () => void;
}) {
  return (
    <div className="controller">
      <div className="controller-head">
        <h3>{controller.name}</h3>
        <span className="quiet small">
          {controller.location === '' ? say('property.zones.placeNotKnown') : controller.location} ·{' '}
          {say('property.zones.stationsInUse', { used: zones.length, stations: controller.stationCount })}
        </span>
        <span className="controller-actions">
          <Button look="quiet" onPress={onEditController}>
            {say('property.zones.editController')}
          </Button>
          <Button look="quiet" onPress={onAddZone}>
            {say('property.zones.add')}
          </Button>
        </span>
      </div>
      {zones.length === 0 ? (
        <p className="quiet">
          <Said
            text={say('property.zones.noneYet')}
            parts={{ import: <a href="#/office/import">{say('property.zones.importThem')}</a> }}
          />
        </p>
      ) : (
        <EditGrid
          label={say('property.zones.of', { controller: controller.name })}
          rows={zones}
          rowKey={(zone) => zone.id}
          rowName={(zone) => say('property.zones.named', { station: zone.station, zone: zone.name })}
          columns={columns}
          onEdit={onEdit}
        />
      )}
    </div>
  );
}

/** Zones out of use, each with its way back. */
function RetiredZones({ editor }: { editor: PropertyEditor }) {
  const retired = editor.zones.filter((zone) => zone.retired);
  if (retired.length === 0) return null;
  return (
    <details className="retired">
      <summary>{say('property.zones.retired', { count: retired.length })}</summary>
      <ul>
        {retired.map((zone) => (
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
                    if (failure !== null && failure.code !== 'stale') toast({ text: sayError(failure), tone: 'error' });
                  })
              }
            >
              {say('property.takeBack')}
            </Button>
          </li>
        ))}
      </ul>
    </details>
  );
}

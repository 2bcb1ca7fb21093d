import { useState } from 'react';
import type { ReactNode } from 'react';
import { formatAway, formatDate, formatMeasure, Section, Button, wordsOf } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useUnits } from '../../state/use-settings.ts';
import { PropertyForm } from '../forms/property-form.tsx';
import type { OpenProperty } from './use-property-editor.ts';

/** How to get in and where the water comes from and is turned off. */
export function AccessSection({ data, today }: { data: OpenProperty; today: string }) {
  const [editing, setEditing] = useState(false);
  const units = useUnits();
  const { property, restriction } = data;
  const stage = restriction?.stages[restriction.currentStage];
  const stations = useRequest('station.list', property.weatherStationId === null ? null : {}).data?.stations ?? [];
  const backflow = [
    property.backflowKind === 'unknown' ? '' : wordsOf(property.backflowKind),
    property.backflowLocation,
  ]
    .filter((part) => part !== '')
    .join(', ');
  const station = stations.find((item) => item.id === property.weatherStationId);
  return (
    <Section
      title="Access and water"
      actions={
        <Button look="quiet" onPress={() => setEditing(true)}>
          Edit access
        </Button>
      }
    >
      <dl className="facts">
        <Fact name="Gate code">
          {property.gateCode === '' ? null : <span className="gate-code">{property.gateCode}</span>}
        </Fact>
        <Fact name="Dog">{property.dogNote === '' ? null : property.dogNote}</Fact>
        <Fact name="Shutoff">{property.shutoffLocation === '' ? null : property.shutoffLocation}</Fact>
        <Fact name="Water">
          {property.waterSupply === 'unknown' ? null : (
            <span className={`supply ${property.waterSupply}`}>
              {wordsOf(property.waterSupply)}
              {property.waterSupply === 'reclaimed' ? ' – not for drinking' : ''}
            </span>
          )}
          {property.staticPressurePsi === null ? null : (
            <span>
              {property.waterSupply === 'unknown' ? '' : ', '}
              {formatMeasure('pressure', property.staticPressurePsi, units)}
            </span>
          )}
        </Fact>
        <Fact name="Backflow">
          {backflow === '' ? null : backflow}
          {property.backflowSerial === '' ? null : <span className="quiet"> serial {property.backflowSerial}</span>}
          {property.backflowTestDue === null ? null : (
            <span>
              {backflow === '' && property.backflowSerial === '' ? '' : ' · '}test by{' '}
              {formatDate(property.backflowTestDue)}{' '}
              <span className="quiet">({formatAway(property.backflowTestDue, today)})</span>
            </span>
          )}
        </Fact>
        <Fact name="Pipe">{property.pipeMaterial === 'unknown' ? null : wordsOf(property.pipeMaterial)}</Fact>
        <Fact name="Restriction">
          {restriction === null ? (
            'none'
          ) : (
            <>
              {restriction.name}
              {stage === undefined ? '' : ` · ${stage.title}`}
            </>
          )}
        </Fact>
        <Fact name="Weather from">{station === undefined ? null : station.name}</Fact>
        <Fact name="We do">
          {[property.servicesStartUp ? 'start-up' : null, property.servicesWinterization ? 'winterization' : null]
            .filter((item) => item !== null)
            .join(' and ') || 'neither start-up nor winterization'}
        </Fact>
      </dl>
      {property.accessNotes === '' ? null : <p className="access-notes">{property.accessNotes}</p>}
      {editing ? (
        <PropertyForm
          clientId={property.clientId}
          existing={{ property, version: data.version }}
          onClose={() => setEditing(false)}
          onSaved={() => setEditing(false)}
        />
      ) : null}
    </Section>
  );
}

function Fact({ name, children }: { name: string; children: ReactNode }) {
  const parts = Array.isArray(children)
    ? children.filter((child) => child !== null && child !== false)
    : children === null
      ? []
      : [children];
  return (
    <div>
      <dt>{name}</dt>
      <dd>{parts.length === 0 ? <span className="quiet">not known</span> : children}</dd>
    </div>
  );
}

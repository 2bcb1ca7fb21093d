import { useState } from 'react';
import type { ReactNode } from 'react';
import { formatAway, formatMeasure, Section, Button, wordsOf } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useUnits } from '../../state/use-settings.ts';
import { say } from '../../state/say.ts';
import { PropertyForm } from './edit/property-form.tsx';
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
      title={say('property.accessAndWater')}
      actions={
        <Button look="quiet" onPress={() => setEditing(true)}>
          {say('property.editAccess')}
        </Button>
      }
    >
      <dl className="facts">
        <Fact name={say('property.gateCode')}>
          {property.gateCode === '' ? null : <span className="gate-code">{property.gateCode}</span>}
        </Fact>
        <Fact name={say('property.dog')}>{property.dogNote === '' ? null : property.dogNote}</Fact>
        <Fact name={say('property.shutoff')}>{property.shutoffLocation === '' ? null : property.shutoffLocation}</Fact>
        <Fact name={say('property.water')}>
          {property.waterSupply === 'unknown' ? null : (
            <span className={`supply ${property.waterSupply}`}>
              {property.waterSupply === 'reclaimed'
                ? say('property.notForDrinking', { supply: wordsOf(property.waterSupply) })
                : wordsOf(property.waterSupply)}
            </span>
          )}
          {property.staticPressurePsi === null ? null : (
            <span>
              {property.waterSupply === 'unknown' ? '' : ', '}
              {formatMeasure('pressure', property.staticPressurePsi, units)}
            </span>
          )}
        </Fact>
        <Fact name={say('property.backflow')}>
          {backflow === '' ? null : backflow}
          {property.backflowSerial === '' ? null : (
            <span className="quiet"> {say('property.serial', { serial: property.backflowSerial })}</span>
          )}
          {property.backflowTestDue === null ? null : (
            <span>
              {backflow === '' && property.backflowSerial === '' ? '' : ' · '}
              {say('property.testBy', { date: property.backflowTestDue })}{' '}
              <span className="quiet">({formatAway(property.backflowTestDue, today)})</span>
            </span>
          )}
        </Fact>
        <Fact name={say('property.pipe')}>
          {property.pipeMaterial === 'unknown' ? null : wordsOf(property.pipeMaterial)}
        </Fact>
        <Fact name={say('property.restriction')}>
          {restriction === null ? (
            say('property.noRestriction')
          ) : (
            <>
              {restriction.name}
              {stage === undefined ? '' : ` · ${stage.title}`}
            </>
          )}
        </Fact>
        <Fact name={say('property.weatherFrom')}>{station === undefined ? null : station.name}</Fact>
        <Fact name={say('property.weDo')}>
          {property.servicesStartUp
            ? say(property.servicesWinterization ? 'property.weDo.both' : 'property.weDo.start-up')
            : say(property.servicesWinterization ? 'property.weDo.winterization' : 'property.weDo.neither')}
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
      <dd>{parts.length === 0 ? <span className="quiet">{say('parts.notKnown')}</span> : children}</dd>
    </div>
  );
}

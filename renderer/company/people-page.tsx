import { useState } from 'react';
import type { Route, Technician, Truck } from '../../core/people/contract.ts';
import { Button, Caution, EmptyState, ErrorNote, formatClock, PhoneLink, Section, wordsOf } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { newId } from '../state/write.ts';
import { RouteDialog, TruckDialog } from './truck-and-route-dialogs.tsx';
import { TechnicianDialog } from './technician-dialog.tsx';
import { weekdayWords } from './weekday-picks.tsx';
import { say } from '../state/say.ts';

type Opened =
  | { kind: 'technician'; of: Technician; isNew: boolean }
  | { kind: 'truck'; of: Truck; isNew: boolean }
  | { kind: 'route'; of: Route; isNew: boolean };

/** Who works, with what, and where. */
export function PeoplePage() {
  const people = useRequest('people.list', {});
  const [opened, setOpened] = useState<Opened | null>(null);
  if (people.data === undefined)
    return people.error === null ? (
      <p className="waiting" role="status">
        {say('company.readingPeople')}
      </p>
    ) : (
      <ErrorNote error={people.error} onRetry={people.reload} />
    );
  const { technicians, trucks, routes } = people.data;
  const truckName = (id: string | null) => trucks.find((truck) => truck.id === id)?.name ?? '–';
  const close = () => setOpened(null);
  const addTechnician = () =>
    setOpened({
      kind: 'technician',
      isNew: true,
      of: {
        id: newId(),
        name: '',
        phone: '',
        skills: [],
        workWeekdays: [1, 2, 3, 4, 5],
        dayStart: '07:30',
        dayEnd: '16:00',
        truckId: null,
        active: true,
      },
    });
  const addTruck = () =>
    setOpened({ kind: 'truck', isNew: true, of: { id: newId(), name: '', compressorCfm: null, active: true } });
  const addRoute = () => setOpened({ kind: 'route', isNew: true, of: { id: newId(), name: '', technicianId: null } });
  return (
    <>
      <h1>{say('company.people')}</h1>
      <Section
        title={say('company.technicians')}
        note={say('company.techniciansWhy')}
        actions={<Button onPress={addTechnician}>{say('company.addTechnician')}</Button>}
      >
        {technicians.length === 0 ? (
          <EmptyState
            title={say('company.noTechnician')}
            action={
              <Button look="primary" onPress={addTechnician}>
                {say('company.addTechnician')}
              </Button>
            }
          >
            {say('company.noTechnicianWhy')}
          </EmptyState>
        ) : (
          <div className="table-scroll">
            <table className="data company-table">
              <thead>
                <tr>
                  <th scope="col">{say('company.nameOf')}</th>
                  <th scope="col">{say('company.works')}</th>
                  <th scope="col">{say('company.hours')}</th>
                  <th scope="col">{say('company.canDo')}</th>
                  <th scope="col">{say('company.truck')}</th>
                  <th scope="col">{say('company.phone')}</th>
                  <th scope="col">
                    <span className="visually-hidden">{say('company.change')}</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {technicians.map((one) => (
                  <tr key={one.id} data-out={!one.active || undefined}>
                    <th scope="row">
                      {one.name}
                      {one.active ? null : <span className="quiet"> {say('company.hasLeft')}</span>}
                    </th>
                    <td>{weekdayWords(one.workWeekdays)}</td>
                    <td className="no-wrap">
                      {formatClock(one.dayStart)}–{formatClock(one.dayEnd)}
                    </td>
                    <td>
                      {one.skills.length === 0 ? (
                        <span className="quiet">{say('company.nothingSpecial')}</span>
                      ) : (
                        one.skills.map((skill) => wordsOf(skill)).join(', ')
                      )}
                    </td>
                    <td>{truckName(one.truckId)}</td>
                    <td className="no-wrap">{one.phone === '' ? '–' : <PhoneLink phone={one.phone} />}</td>
                    <td className="row-act">
                      <Button
                        aria-label={say('company.changeNamed', { name: one.name })}
                        onPress={() => setOpened({ kind: 'technician', of: one, isNew: false })}
                      >
                        {say('company.change')}
                      </Button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
      </Section>
      <Section title={say('company.trucks')} actions={<Button onPress={addTruck}>{say('company.addTruck')}</Button>}>
        {trucks.length === 0 ? (
          <EmptyState title={say('company.noTruck')}>{say('company.noTruckWhy')}</EmptyState>
        ) : (
          <table className="data company-table">
            <thead>
              <tr>
                <th scope="col">{say('company.nameOf')}</th>
                <th scope="col" className="figure">
                  {say('company.compressorCfm')}
                </th>
                <th scope="col">
                  <span className="visually-hidden">{say('company.change')}</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {trucks.map((one) => (
                <tr key={one.id} data-out={!one.active || undefined}>
                  <th scope="row">
                    {one.name}
                    {one.active ? null : <span className="quiet"> {say('company.notInUse')}</span>}
                  </th>
                  <td className="figure">{one.compressorCfm ?? say('company.noneOrUnknown')}</td>
                  <td className="row-act">
                    <Button
                      aria-label={say('company.changeNamed', { name: one.name })}
                      onPress={() => setOpened({ kind: 'truck', of: one, isNew: false })}
                    >
                      {say('company.change')}
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        <Caution>{say('company.airCaution')}</Caution>
      </Section>
      <Section
        title={say('company.routes')}
        note={say('company.routesWhy')}
        actions={<Button onPress={addRoute}>{say('company.addRoute')}</Button>}
      >
        {routes.length === 0 ? (
          <EmptyState title={say('company.noRoute')}>{say('company.noRouteWhy')}</EmptyState>
        ) : (
          <table className="data company-table">
            <thead>
              <tr>
                <th scope="col">{say('company.nameOf')}</th>
                <th scope="col">{say('company.usualTechnician')}</th>
                <th scope="col">
                  <span className="visually-hidden">{say('company.change')}</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {routes.map((one) => (
                <tr key={one.id}>
                  <th scope="row">{one.name}</th>
                  <td>{technicians.find(({ id }) => id === one.technicianId)?.name ?? '–'}</td>
                  <td className="row-act">
                    <Button
                      aria-label={say('company.changeNamed', { name: one.name })}
                      onPress={() => setOpened({ kind: 'route', of: one, isNew: false })}
                    >
                      {say('company.change')}
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </Section>
      {opened?.kind === 'technician' ? (
        <TechnicianDialog
          key={opened.of.id}
          technician={opened.of}
          isNew={opened.isNew}
          trucks={trucks}
          onClose={close}
        />
      ) : null}
      {opened?.kind === 'truck' ? (
        <TruckDialog key={opened.of.id} truck={opened.of} isNew={opened.isNew} onClose={close} />
      ) : null}
      {opened?.kind === 'route' ? (
        <RouteDialog
          key={opened.of.id}
          route={opened.of}
          isNew={opened.isNew}
          technicians={technicians}
          onClose={close}
        />
      ) : null}
    </>
  );
}

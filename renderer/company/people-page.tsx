import { useState } from 'react';
import type { Route, Technician, Truck } from '../../core/contract/entities.ts';
import { Button, Caution, EmptyState, ErrorNote, formatClock, PhoneLink, Section, wordsOf } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { newId } from '../state/write.ts';
import { RouteDialog, TruckDialog } from './truck-and-route-dialogs.tsx';
import { TechnicianDialog } from './technician-dialog.tsx';
import { weekdayWords } from './weekday-picks.tsx';

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
        Reading the people…
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
      <h1>People, trucks, routes</h1>
      <Section
        title="Technicians"
        note="Their days and hours decide how full a day on the calendar is."
        actions={<Button onPress={addTechnician}>Add technician</Button>}
      >
        {technicians.length === 0 ? (
          <EmptyState
            title="No technician yet"
            action={
              <Button look="primary" onPress={addTechnician}>
                Add technician
              </Button>
            }
          >
            Add everybody who goes out. Each gets a row on the calendar and a day on the Field desk.
          </EmptyState>
        ) : (
          <div className="table-scroll">
            <table className="data company-table">
              <thead>
                <tr>
                  <th scope="col">Name</th>
                  <th scope="col">Works</th>
                  <th scope="col">Hours</th>
                  <th scope="col">Can do</th>
                  <th scope="col">Truck</th>
                  <th scope="col">Phone</th>
                  <th scope="col">
                    <span className="visually-hidden">Change</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {technicians.map((one) => (
                  <tr key={one.id} data-out={!one.active || undefined}>
                    <th scope="row">
                      {one.name}
                      {one.active ? null : <span className="quiet"> (has left)</span>}
                    </th>
                    <td>{weekdayWords(one.workWeekdays)}</td>
                    <td className="no-wrap">
                      {formatClock(one.dayStart)}–{formatClock(one.dayEnd)}
                    </td>
                    <td>
                      {one.skills.length === 0 ? (
                        <span className="quiet">nothing special</span>
                      ) : (
                        one.skills.map((skill) => wordsOf(skill)).join(', ')
                      )}
                    </td>
                    <td>{truckName(one.truckId)}</td>
                    <td className="no-wrap">{one.phone === '' ? '–' : <PhoneLink phone={one.phone} />}</td>
                    <td className="row-act">
                      <Button
                        aria-label={`Change ${one.name}`}
                        onPress={() => setOpened({ kind: 'technician', of: one, isNew: false })}
                      >
                        Change
                      </Button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
      </Section>
      <Section title="Trucks" actions={<Button onPress={addTruck}>Add truck</Button>}>
        {trucks.length === 0 ? (
          <EmptyState title="No truck yet">
            A truck with its compressor's flow lets autumn planning send the right one to large systems.
          </EmptyState>
        ) : (
          <table className="data company-table">
            <thead>
              <tr>
                <th scope="col">Name</th>
                <th scope="col" className="figure">
                  Compressor, cfm
                </th>
                <th scope="col">
                  <span className="visually-hidden">Change</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {trucks.map((one) => (
                <tr key={one.id} data-out={!one.active || undefined}>
                  <th scope="row">
                    {one.name}
                    {one.active ? null : <span className="quiet"> (not in use)</span>}
                  </th>
                  <td className="figure">{one.compressorCfm ?? 'none or not known'}</td>
                  <td className="row-act">
                    <Button
                      aria-label={`Change ${one.name}`}
                      onPress={() => setOpened({ kind: 'truck', of: one, isNew: false })}
                    >
                      Change
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        <Caution>
          Compressed air can injure people and burst pipe. A compressor's flow here is for planning only: on site never
          exceed the pressure the pipe's maker allows, wear eye protection, and follow local codes.
        </Caution>
      </Section>
      <Section
        title="Routes"
        note="A part of town or a round; every property can belong to one."
        actions={<Button onPress={addRoute}>Add route</Button>}
      >
        {routes.length === 0 ? (
          <EmptyState title="No route yet">
            Routes group properties that lie together, so that lists and the calendar can show one at a time.
          </EmptyState>
        ) : (
          <table className="data company-table">
            <thead>
              <tr>
                <th scope="col">Name</th>
                <th scope="col">Usual technician</th>
                <th scope="col">
                  <span className="visually-hidden">Change</span>
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
                      aria-label={`Change ${one.name}`}
                      onPress={() => setOpened({ kind: 'route', of: one, isNew: false })}
                    >
                      Change
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

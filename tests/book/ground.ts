import { ulid } from 'ulid';
import { clientSchema } from '../../core/clients/contract.ts';
import { propertySchema, sensorSchema } from '../../core/properties/contract.ts';
import { technicianSchema } from '../../core/people/contract.ts';
import { weatherStationSchema } from '../../core/weather/contract.ts';
import { insertMany } from '../../core/import/queries.ts';
import { clientSearchText, propertySearchText, sortName } from '../../core/store/search-text.ts';
import { toRow } from '../../core/store/tables.ts';
import type { TestBook } from './job-context.ts';

/** Two clients with three properties (two of them in one street of two towns), sensors, a technician and a weather station. */
export async function plantGround(book: TestBook) {
  const { db } = book.connection;
  const put = (table: Parameters<typeof insertMany>[1], row: Record<string, unknown>) =>
    insertMany(db, table, [row], () => undefined);
  const client = async (name: string, accountNumber: string) => {
    const entity = clientSchema.parse({ id: ulid(), name, accountNumber });
    await put('client', {
      ...toRow('client', entity),
      version: 1,
      searchText: clientSearchText(entity),
      sortName: sortName(name),
    });
    return entity.id;
  };
  const property = async (clientId: string, street: string, city: string, postcode: string) => {
    const entity = propertySchema.parse({ id: ulid(), clientId, street, city, postcode });
    await put('property', {
      ...toRow('property', entity),
      version: 1,
      searchText: propertySearchText(entity),
      baseBackflowTestDue: null,
    });
    return entity.id;
  };
  const sensor = async (propertyId: string, location: string) => {
    const entity = sensorSchema.parse({ id: ulid(), propertyId, location, batteryType: 'CR2032' });
    await put('sensor', { ...toRow('sensor', entity), baseBatteryDate: null });
    return entity.id;
  };
  const ada = await client('Reed, Ada', '1001');
  const hill = await client('Hill HOA', '1002');
  const oak = await property(ada, '12 Oak St', 'Fairview', '80501');
  const elm = await property(hill, '5 Elm St', 'Fairview', '80501');
  const farElm = await property(hill, '5 Elm St', 'Marlow', '80600');
  const oakSensor = await sensor(oak, 'eave');
  const elmSensors = [await sensor(elm, 'north eave'), await sensor(elm, 'clubhouse')];
  const technician = technicianSchema.parse({ id: ulid(), name: 'Tess Vale' });
  await put('technician', toRow('technician', technician));
  const station = weatherStationSchema.parse({
    id: ulid(),
    name: 'Fairview',
    latitudeDeg: 40,
    longitudeDeg: -105,
    elevationFt: 5000,
    normals: Array.from({ length: 12 }, () => ({ tmaxF: 60, tminF: 40, rainInches: 1 })),
  });
  await put('weatherStation', toRow('weatherStation', station));
  return { ada, hill, oak, elm, farElm, oakSensor, elmSensors, technicianId: technician.id, stationId: station.id };
}

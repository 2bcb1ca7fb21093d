import type { Route, Technician, Truck } from '../contract/entities.ts';
import { mustExist } from './property-queries.ts';
import { toEntity, toRow, type BookTables, type Db } from './tables.ts';
import { readTechnicians } from './visit-queries.ts';

export async function readPeople(db: Db): Promise<{ technicians: Technician[]; trucks: Truck[]; routes: Route[] }> {
  const trucks = await db.selectFrom('truck').selectAll().orderBy('active', 'desc').orderBy('name').execute();
  return {
    technicians: await readTechnicians(db),
    trucks: trucks.map((row) => toEntity<Truck>('truck', row)),
    routes: await db.selectFrom('route').selectAll().orderBy('name').execute(),
  };
}

/** Saves trucks first, then technicians, then routes, because each may point at the one before. */
export async function savePeople(
  db: Db,
  people: { technicians: Technician[]; trucks: Truck[]; routes: Route[] },
): Promise<number> {
  for (const truck of people.trucks) await upsert(db, 'truck', truck);
  for (const [index, technician] of people.technicians.entries()) {
    if (technician.truckId) await mustExist(db, 'truck', technician.truckId, `technicians.${index}.truckId`, 'truck');
    await upsert(db, 'technician', technician);
  }
  for (const [index, route] of people.routes.entries()) {
    if (route.technicianId)
      await mustExist(db, 'technician', route.technicianId, `routes.${index}.technicianId`, 'technician');
    await upsert(db, 'route', route);
  }
  return people.trucks.length + people.technicians.length + people.routes.length;
}

/** Adds a row or replaces its values, by id. */
export async function upsert(
  db: Db,
  table: 'truck' | 'technician' | 'route' | 'restriction' | 'weatherStation',
  entity: { id: string },
): Promise<void> {
  const row = toRow(table as keyof BookTables, entity) as any;
  await db
    .insertInto(table)
    .values(row)
    .onConflict((conflict) => conflict.column('id').doUpdateSet(row))
    .execute();
}

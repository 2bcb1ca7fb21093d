import type { Route, Technician, Truck } from './contract.ts';
import { toEntity, type Db } from '../store/tables.ts';
import { mustExist, upsert } from '../store/rows.ts';

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

export async function readTechnicians(db: Db): Promise<Technician[]> {
  const rows = await db
    .selectFrom('technician')
    .selectAll()
    .orderBy('active', 'desc')
    .orderBy('name')
    .orderBy('id')
    .execute();
  return rows.map((row) => toEntity<Technician>('technician', row));
}

export async function readTechnician(db: Db, id: string): Promise<Technician | null> {
  const row = await db.selectFrom('technician').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? toEntity<Technician>('technician', row) : null;
}

import type { Zone } from './contract.ts';
import { toEntity, type Db } from '../store/tables.ts';

export async function readZone(db: Db, zoneId: string): Promise<Zone | null> {
  const row = await db.selectFrom('zone').selectAll().where('id', '=', zoneId).executeTakeFirst();
  return row ? toEntity<Zone>('zone', row) : null;
}

export async function sensorProperty(db: Db, sensorId: string): Promise<string | null> {
  return (
    (await db.selectFrom('sensor').select('propertyId').where('id', '=', sensorId).executeTakeFirst())?.propertyId ??
    null
  );
}

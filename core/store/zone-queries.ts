import type { Zone } from '../contract/entities.ts';
import { toEntity, type Db } from './tables.ts';

export async function readZone(db: Db, zoneId: string): Promise<Zone | null> {
  const row = await db.selectFrom('zone').selectAll().where('id', '=', zoneId).executeTakeFirst();
  return row ? toEntity<Zone>('zone', row) : null;
}

/** Sets how a zone's precipitation rate and uniformity are known. */
export async function setZoneRate(
  db: Db,
  zoneId: string,
  rate: {
    prMethod: Zone['prMethod'];
    precipitationRateInPerHour: number | null;
    distributionUniformity: number | null;
  },
): Promise<void> {
  await db.updateTable('zone').set(rate).where('id', '=', zoneId).execute();
}

export async function setSensorPoints(
  db: Db,
  sensorId: string,
  points: { rainSetPointInches?: number; freezeSetPointF?: number },
): Promise<void> {
  if (Object.keys(points).length > 0) await db.updateTable('sensor').set(points).where('id', '=', sensorId).execute();
}

export async function sensorProperty(db: Db, sensorId: string): Promise<string | null> {
  return (
    (await db.selectFrom('sensor').select('propertyId').where('id', '=', sensorId).executeTakeFirst())?.propertyId ??
    null
  );
}

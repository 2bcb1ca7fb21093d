import type Database from 'better-sqlite3';
import type { LedgerDetail } from '../../core/ledger/entry-contract.ts';
import { summarize } from '../../core/ledger/summarize.ts';
import { bareJudge, type BareSettings } from './bare-list.ts';

/** A property's page from prepared statements: the same rows, JSON parsed, sentences made, and nothing else. */
export function bareProperty(
  raw: Database.Database,
  onDate: string,
  settings: BareSettings,
): (propertyId: string) => Record<string, any> {
  const one = (sql: string) => raw.prepare(sql);
  const property = one('SELECT * FROM property WHERE id = ?');
  const client = one('SELECT * FROM client WHERE id = ?');
  const controllers = one('SELECT * FROM controller WHERE propertyId = ? ORDER BY retired, name, id');
  const zones = one('SELECT * FROM zone WHERE propertyId = ? ORDER BY retired, controllerId, station, id');
  const zoneById = one('SELECT station, name FROM zone WHERE id = ?');
  const sensors = one('SELECT * FROM sensor WHERE propertyId = ? ORDER BY retired, id');
  const programs = one('SELECT * FROM program WHERE propertyId = ? ORDER BY controllerId, name');
  const revisions = one(
    'SELECT r.* FROM program g JOIN programRevision r ON r.programId = g.id WHERE g.propertyId = ? ORDER BY r.programId, r.effectiveDate, r.revisionNumber',
  );
  const runs = one(
    'SELECT r.revisionId, r.zoneId, r.runMinutes, r.cycleMinutes, r.soakMinutes FROM programRun r JOIN zone z ON z.id = r.zoneId WHERE r.revisionId IN (SELECT value FROM json_each(?)) ORDER BY z.station, z.id',
  );
  const restriction = one('SELECT * FROM restriction WHERE id = ?');
  const route = one('SELECT * FROM route WHERE id = ?');
  const seasons = one('SELECT * FROM season WHERE propertyId = ?');
  const planned = one("SELECT * FROM visit WHERE propertyId = ? AND state = 'planned' ORDER BY date, id");
  const past = one(
    "SELECT * FROM visit WHERE propertyId = ? AND state <> 'planned' ORDER BY date DESC, id DESC LIMIT 12",
  );
  const standing =
    "e.propertyId = ? AND NOT EXISTS (SELECT 1 FROM ledgerEntry c WHERE c.correctsId = e.id) AND (e.correction IS NULL OR e.correction = 'replace')";
  const ledger = one(
    `SELECT e.*, t.name technicianName FROM ledgerEntry e LEFT JOIN technician t ON t.id = e.technicianId WHERE ${standing} ORDER BY e.doneOn DESC, e.id DESC LIMIT 20`,
  );
  const count = one(`SELECT count(*) FROM ledgerEntry e WHERE ${standing}`).pluck();
  const corrects = one('SELECT correctsId FROM ledgerEntry WHERE id = ?').pluck();
  const siblings = one(
    'SELECT id, street, label FROM property WHERE clientId = ? AND id <> ? AND archived = 0 ORDER BY street',
  );
  const judge = bareJudge(onDate, onDate, settings);
  return (id) => {
    const site = property.get(id) as any;
    const payer = client.get(site.clientId) as any;
    const inForce = new Map<string, any>();
    for (const row of revisions.all(id) as any[])
      if (row.voidedByEntryId === null && (row.effectiveDate <= onDate || !inForce.has(row.programId)))
        inForce.set(row.programId, {
          ...row,
          days: JSON.parse(row.days),
          startTimes: JSON.parse(row.startTimes),
          runs: [],
        });
    const byRevision = new Map([...inForce.values()].map((row) => [row.id, row]));
    for (const { revisionId, ...run } of runs.all(JSON.stringify([...byRevision.keys()])) as any[])
      byRevision.get(revisionId).runs.push(run);
    const rule = site.restrictionId === null ? null : (restriction.get(site.restrictionId) as any);
    const plannedRows = planned.all(id) as any[];
    const sensorRows = sensors.all(id) as any[];
    const seasonRows = seasons.all(id) as any[];
    const entries = (ledger.all(id) as any[]).map((row) => {
      const detail = JSON.parse(row.detail) as LedgerDetail;
      let historyLength = 0;
      for (let at = row.correctsId; at !== null; at = corrects.get(at) ?? null) historyLength += 1;
      const zone = row.zoneId === null ? null : (zoneById.get(row.zoneId) as any);
      return {
        ...row,
        detail,
        clientName: payer.name,
        street: site.street,
        historyLength,
        summary: summarize(detail, zone && { station: zone.station, name: zone.name }),
      };
    });
    return {
      property: site,
      client: payer,
      controllers: controllers.all(id),
      zones: (zones.all(id) as any[]).map((zone) => ({ ...zone, prInputs: JSON.parse(zone.prInputs) })),
      sensors: sensorRows,
      programs: (programs.all(id) as any[]).map((program) => ({ ...program, revision: inForce.get(program.id) })),
      restriction: rule && { ...rule, stages: JSON.parse(rule.stages) },
      route: site.routeId === null ? null : route.get(site.routeId),
      due: judge({
        ...site,
        sensors: sensorRows.filter((sensor) => sensor.retired === 0),
        seasons: seasonRows,
        planned: plannedRows,
      }),
      visits: [...plannedRows, ...past.all(id)],
      ledger: entries,
      ledgerTotal: count.get(id),
      siblings: siblings.all(site.clientId, id),
    };
  };
}

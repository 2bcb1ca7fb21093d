import { sql, type Kysely } from 'kysely';
import type { Migration } from '../core/store/migration.ts';

// Why: the first shape of a book. Columns carry the contract's own names, so that a row needs no translation table;
// booleans are 0/1, lists and settings of one thing are JSON text, dates are ISO text, ids are ULIDs made by the caller.

export const migration: Migration = {
  number: 1,
  name: '0001_book',
  reason:
    'Clients, properties and what is in the ground; programs, visits, seasons; the append-only ledger; settings and weather.',
  async up(db: Kysely<any>) {
    const text = 'text' as const;
    await db.schema
      .createTable('setting')
      .addColumn('key', text, (c) => c.primaryKey())
      .addColumn('value', text, (c) => c.notNull())
      .execute();

    await db.schema
      .createTable('truck')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('compressorCfm', 'real')
      .addColumn('active', 'integer', (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('technician')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('phone', text, (c) => c.notNull())
      .addColumn('skills', text, (c) => c.notNull())
      .addColumn('workWeekdays', text, (c) => c.notNull())
      .addColumn('dayStart', text, (c) => c.notNull())
      .addColumn('dayEnd', text, (c) => c.notNull())
      .addColumn('truckId', text, (c) => c.references('truck.id'))
      .addColumn('active', 'integer', (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('route')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('technicianId', text, (c) => c.references('technician.id'))
      .execute();
    await db.schema
      .createTable('restriction')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('area', text, (c) => c.notNull())
      .addColumn('source', text, (c) => c.notNull())
      .addColumn('currentStage', 'integer', (c) => c.notNull())
      .addColumn('stages', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('thumbRule')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('position', 'integer', (c) => c.notNull())
      .addColumn('emissionDevice', text)
      .addColumn('plantKind', text)
      .addColumn('betweenHouses', 'integer')
      .addColumn('minutesFrom', 'real', (c) => c.notNull())
      .addColumn('minutesTo', 'real', (c) => c.notNull())
      .addColumn('note', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('weatherStation')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('latitudeDeg', 'real', (c) => c.notNull())
      .addColumn('longitudeDeg', 'real', (c) => c.notNull())
      .addColumn('elevationFt', 'real', (c) => c.notNull())
      .addColumn('source', text, (c) => c.notNull())
      .addColumn('normals', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('weatherDay')
      .addColumn('stationId', text, (c) => c.notNull().references('weatherStation.id'))
      .addColumn('date', text, (c) => c.notNull())
      .addColumn('tmaxF', 'real')
      .addColumn('tminF', 'real')
      .addColumn('rainInches', 'real')
      .addColumn('rhMeanPct', 'real')
      .addColumn('windMph', 'real')
      .addColumn('solarMjM2', 'real')
      .addPrimaryKeyConstraint('weatherDayKey', ['stationId', 'date'])
      .modifyEnd(sql`WITHOUT ROWID`)
      .execute();

    await db.schema
      .createTable('client')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('kind', text, (c) => c.notNull())
      .addColumn('phone', text, (c) => c.notNull())
      .addColumn('phone2', text, (c) => c.notNull())
      .addColumn('email', text, (c) => c.notNull())
      .addColumn('billingAddress', text, (c) => c.notNull())
      .addColumn('notes', text, (c) => c.notNull())
      .addColumn('accountNumber', text, (c) => c.notNull())
      .addColumn('archived', 'integer', (c) => c.notNull())
      .addColumn('version', 'integer', (c) => c.notNull())
      .addColumn('searchText', text, (c) => c.notNull())
      .addColumn('sortName', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('property')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('clientId', text, (c) => c.notNull().references('client.id'))
      .addColumn('label', text, (c) => c.notNull())
      .addColumn('street', text, (c) => c.notNull())
      .addColumn('city', text, (c) => c.notNull())
      .addColumn('region', text, (c) => c.notNull())
      .addColumn('postcode', text, (c) => c.notNull())
      .addColumn('latitudeDeg', 'real')
      .addColumn('longitudeDeg', 'real')
      .addColumn('elevationFt', 'real')
      .addColumn('timeZone', text, (c) => c.notNull())
      .addColumn('routeId', text, (c) => c.references('route.id'))
      .addColumn('accessNotes', text, (c) => c.notNull())
      .addColumn('gateCode', text, (c) => c.notNull())
      .addColumn('dogNote', text, (c) => c.notNull())
      .addColumn('waterSupply', text, (c) => c.notNull())
      .addColumn('staticPressurePsi', 'real')
      .addColumn('pipeMaterial', text, (c) => c.notNull())
      .addColumn('backflowKind', text, (c) => c.notNull())
      .addColumn('backflowLocation', text, (c) => c.notNull())
      .addColumn('backflowSerial', text, (c) => c.notNull())
      .addColumn('backflowTestDue', text)
      .addColumn('baseBackflowTestDue', text)
      .addColumn('shutoffLocation', text, (c) => c.notNull())
      .addColumn('restrictionId', text, (c) => c.references('restriction.id'))
      .addColumn('addressParity', text, (c) => c.notNull())
      .addColumn('weatherStationId', text, (c) => c.references('weatherStation.id'))
      .addColumn('servicesStartUp', 'integer', (c) => c.notNull())
      .addColumn('servicesWinterization', 'integer', (c) => c.notNull())
      .addColumn('archived', 'integer', (c) => c.notNull())
      .addColumn('version', 'integer', (c) => c.notNull())
      .addColumn('searchText', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('controller')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('location', text, (c) => c.notNull())
      .addColumn('stationCount', 'integer', (c) => c.notNull())
      .addColumn('retired', 'integer', (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('zone')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('controllerId', text, (c) => c.notNull().references('controller.id'))
      .addColumn('station', 'integer', (c) => c.notNull())
      .addColumn('name', text, (c) => c.notNull())
      .addColumn('plantKind', text, (c) => c.notNull())
      .addColumn('plantFactor', 'real')
      .addColumn('emissionDevice', text, (c) => c.notNull())
      .addColumn('flowGpm', 'real')
      .addColumn('flowKnown', text, (c) => c.notNull())
      .addColumn('areaFt2', 'real')
      .addColumn('areaKnown', text, (c) => c.notNull())
      .addColumn('prMethod', text, (c) => c.notNull())
      .addColumn('prInputs', text, (c) => c.notNull())
      .addColumn('precipitationRateInPerHour', 'real')
      .addColumn('distributionUniformity', 'real')
      .addColumn('soil', text, (c) => c.notNull())
      .addColumn('soilKnown', text, (c) => c.notNull())
      .addColumn('slopePercent', 'real', (c) => c.notNull())
      .addColumn('sunExposure', text, (c) => c.notNull())
      .addColumn('rootDepthInches', 'real')
      .addColumn('betweenHouses', 'integer', (c) => c.notNull())
      .addColumn('retired', 'integer', (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('sensor')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('controllerId', text, (c) => c.references('controller.id'))
      .addColumn('senses', text, (c) => c.notNull())
      .addColumn('link', text, (c) => c.notNull())
      .addColumn('model', text, (c) => c.notNull())
      .addColumn('location', text, (c) => c.notNull())
      .addColumn('batteryType', text, (c) => c.notNull())
      .addColumn('batteryCells', 'integer', (c) => c.notNull())
      .addColumn('baseBatteryDate', text)
      .addColumn('batteryDate', text)
      .addColumn('rainSetPointInches', 'real')
      .addColumn('freezeSetPointF', 'real')
      .addColumn('lastCheckDate', text)
      .addColumn('lastCheckPassed', 'integer')
      .addColumn('lastSignal', text)
      .addColumn('cellsGood', 'integer')
      .addColumn('retired', 'integer', (c) => c.notNull())
      .execute();

    await db.schema
      .createTable('program')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('controllerId', text, (c) => c.notNull().references('controller.id'))
      .addColumn('name', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('visit')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('kind', text, (c) => c.notNull())
      .addColumn('state', text, (c) => c.notNull())
      .addColumn('date', text, (c) => c.notNull())
      .addColumn('windowFrom', text)
      .addColumn('windowTo', text)
      .addColumn('technicianId', text, (c) => c.references('technician.id'))
      .addColumn('orderInDay', 'integer', (c) => c.notNull())
      .addColumn('expectedMinutes', 'integer', (c) => c.notNull())
      .addColumn('locked', 'integer', (c) => c.notNull())
      .addColumn('note', text, (c) => c.notNull())
      .addColumn('doneOn', text)
      .addColumn('cancelReason', text, (c) => c.notNull())
      // 1 = nobody had booked it: it came into being when work was logged.
      .addColumn('unplanned', 'integer', (c) => c.notNull().defaultTo(0))
      .execute();
    await db.schema
      .createTable('ledgerEntry')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('visitId', text, (c) => c.references('visit.id'))
      .addColumn('technicianId', text, (c) => c.references('technician.id'))
      .addColumn('kind', text, (c) => c.notNull())
      .addColumn('doneOn', text, (c) => c.notNull())
      .addColumn('recordedAt', text, (c) => c.notNull())
      .addColumn('sensorId', text, (c) => c.references('sensor.id'))
      .addColumn('zoneId', text, (c) => c.references('zone.id'))
      .addColumn('note', text, (c) => c.notNull())
      .addColumn('detail', text, (c) => c.notNull())
      .addColumn('correctsId', text, (c) => c.references('ledgerEntry.id'))
      .addColumn('correction', text)
      .addColumn('correctionReason', text, (c) => c.notNull())
      .addCheckConstraint('ledgerCorrectionWhole', sql`(correctsId IS NULL) = (correction IS NULL)`)
      .execute();
    await db.schema
      .createTable('programRevision')
      .addColumn('id', text, (c) => c.primaryKey())
      .addColumn('programId', text, (c) => c.notNull().references('program.id'))
      .addColumn('revisionNumber', 'integer', (c) => c.notNull())
      .addColumn('effectiveDate', text, (c) => c.notNull())
      .addColumn('recordedAt', text, (c) => c.notNull())
      .addColumn('madeBy', text, (c) => c.notNull())
      .addColumn('reason', text, (c) => c.notNull())
      .addColumn('days', text, (c) => c.notNull())
      .addColumn('startTimes', text, (c) => c.notNull())
      .addColumn('seasonalPercent', 'integer', (c) => c.notNull())
      .addColumn('enabled', 'integer', (c) => c.notNull())
      .addColumn('ledgerEntryId', text, (c) => c.references('ledgerEntry.id'))
      // Set when the ledger entry behind it turned out wrong: the revision stays in the history and is never in force.
      .addColumn('voidedByEntryId', text, (c) => c.references('ledgerEntry.id'))
      .addUniqueConstraint('programRevisionNumber', ['programId', 'revisionNumber'])
      .execute();
    await db.schema
      .createTable('programRun')
      .addColumn('revisionId', text, (c) => c.notNull().references('programRevision.id'))
      .addColumn('zoneId', text, (c) => c.notNull().references('zone.id'))
      .addColumn('runMinutes', 'real', (c) => c.notNull())
      .addColumn('cycleMinutes', 'real')
      .addColumn('soakMinutes', 'real')
      .addPrimaryKeyConstraint('programRunKey', ['revisionId', 'zoneId'])
      .modifyEnd(sql`WITHOUT ROWID`)
      .execute();
    await db.schema
      .createTable('season')
      .addColumn('propertyId', text, (c) => c.notNull().references('property.id'))
      .addColumn('year', 'integer', (c) => c.notNull())
      .addColumn('startedUpOn', text)
      .addColumn('startUpEntryId', text, (c) => c.references('ledgerEntry.id'))
      .addColumn('winterizedOn', text)
      .addColumn('winterizationEntryId', text, (c) => c.references('ledgerEntry.id'))
      .addPrimaryKeyConstraint('seasonKey', ['propertyId', 'year'])
      .modifyEnd(sql`WITHOUT ROWID`)
      .execute();

    await db.schema
      .createTable('writeLog')
      .addColumn('writeId', text, (c) => c.primaryKey())
      .addColumn('request', text, (c) => c.notNull())
      .addColumn('inputHash', text, (c) => c.notNull())
      .addColumn('result', text, (c) => c.notNull())
      .addColumn('at', text, (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('importMapping')
      .addColumn('target', text, (c) => c.notNull())
      .addColumn('signature', text, (c) => c.notNull())
      .addColumn('mapping', text, (c) => c.notNull())
      .addColumn('at', text, (c) => c.notNull())
      .addPrimaryKeyConstraint('importMappingKey', ['target', 'signature'])
      .execute();

    const index = (name: string, table: string, columns: string[]) =>
      db.schema.createIndex(name).on(table).columns(columns).execute();
    await index('clientSort', 'client', ['sortName', 'id']);
    await index('propertyClient', 'property', ['clientId']);
    await index('propertyRoute', 'property', ['routeId']);
    await index('controllerProperty', 'controller', ['propertyId']);
    await index('zoneProperty', 'zone', ['propertyId', 'controllerId', 'station']);
    await index('zoneController', 'zone', ['controllerId', 'station']);
    await index('sensorProperty', 'sensor', ['propertyId']);
    await index('programProperty', 'program', ['propertyId']);
    await index('programController', 'program', ['controllerId']);
    await index('programRunZone', 'programRun', ['zoneId']);
    await index('programRevisionInForce', 'programRevision', ['programId', 'effectiveDate', 'revisionNumber']);
    await db.schema
      .createIndex('programRevisionEntry')
      .on('programRevision')
      .column('ledgerEntryId')
      .where('ledgerEntryId', 'is not', null)
      .execute();
    await index('visitProperty', 'visit', ['propertyId', 'state', 'date']);
    await index('visitDay', 'visit', ['date', 'technicianId', 'orderInDay']);
    await index('visitState', 'visit', ['state', 'date', 'propertyId', 'kind']);
    await index('ledgerProperty', 'ledgerEntry', ['propertyId', 'doneOn', 'id']);
    await index('ledgerDay', 'ledgerEntry', ['doneOn', 'kind', 'technicianId']);
    await index('ledgerKind', 'ledgerEntry', ['kind', 'doneOn']);
    await index('ledgerTechnician', 'ledgerEntry', ['technicianId', 'doneOn']);
    await db.schema
      .createIndex('ledgerVisit')
      .on('ledgerEntry')
      .column('visitId')
      .where('visitId', 'is not', null)
      .execute();
    await db.schema
      .createIndex('ledgerSensor')
      .on('ledgerEntry')
      .columns(['sensorId', 'kind', 'doneOn'])
      .where('sensorId', 'is not', null)
      .execute();
    await db.schema
      .createIndex('ledgerZone')
      .on('ledgerEntry')
      .columns(['zoneId', 'doneOn'])
      .where('zoneId', 'is not', null)
      .execute();
    // An entry is corrected at most once; a correction can itself be corrected, so the history is one chain.
    await db.schema
      .createIndex('ledgerCorrects')
      .unique()
      .on('ledgerEntry')
      .column('correctsId')
      .where('correctsId', 'is not', null)
      .execute();

    // The database itself refuses to change the past, whoever opens the file. The insert trigger closes the way
    // round by INSERT OR REPLACE, which would delete without asking the delete trigger.
    await sql`CREATE TRIGGER ledgerEntryNoUpdate BEFORE UPDATE ON ledgerEntry BEGIN SELECT RAISE(ABORT, 'the ledger is append-only: write a correction instead'); END`.execute(
      db,
    );
    await sql`CREATE TRIGGER ledgerEntryNoDelete BEFORE DELETE ON ledgerEntry BEGIN SELECT RAISE(ABORT, 'the ledger is append-only: write a correction instead'); END`.execute(
      db,
    );
    await sql`CREATE TRIGGER ledgerEntryNoReplace BEFORE INSERT ON ledgerEntry WHEN EXISTS (SELECT 1 FROM ledgerEntry WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'the ledger is append-only: this entry is in it already'); END`.execute(
      db,
    );
    await sql`CREATE TRIGGER ledgerEntryCorrectsSameProperty BEFORE INSERT ON ledgerEntry WHEN NEW.correctsId IS NOT NULL AND NOT EXISTS (SELECT 1 FROM ledgerEntry WHERE id = NEW.correctsId AND propertyId = NEW.propertyId AND kind = NEW.kind) BEGIN SELECT RAISE(ABORT, 'a correction must point at an entry of its own kind and property'); END`.execute(
      db,
    );
    // Revisions and their runs are history too: only the void mark may be set.
    await sql`CREATE TRIGGER programRunNoUpdate BEFORE UPDATE ON programRun BEGIN SELECT RAISE(ABORT, 'a program revision is history: make a new one'); END`.execute(
      db,
    );
    await sql`CREATE TRIGGER programRunNoDelete BEFORE DELETE ON programRun BEGIN SELECT RAISE(ABORT, 'a program revision is history: make a new one'); END`.execute(
      db,
    );
    await sql`CREATE TRIGGER programRevisionNoDelete BEFORE DELETE ON programRevision BEGIN SELECT RAISE(ABORT, 'a program revision is history: make a new one'); END`.execute(
      db,
    );
    await sql`CREATE TRIGGER programRevisionNoUpdate BEFORE UPDATE OF id, programId, revisionNumber, effectiveDate, recordedAt, madeBy, reason, days, startTimes, seasonalPercent, enabled, ledgerEntryId ON programRevision BEGIN SELECT RAISE(ABORT, 'a program revision is history: make a new one'); END`.execute(
      db,
    );
  },
};

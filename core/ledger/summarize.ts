import type { LedgerDetail } from './entry-contract.ts';
import { fact, type Fact } from '../text/say.ts';
import type { Measured, ZoneSaid } from '../text/words.ts';

const measured = (quantity: Measured['quantity'], value: number | null): Measured | null =>
  value === null ? null : { quantity, value };

/** What an entry says, as a fact. `zone` = the one it is about, as it is called now. */
export function summarize(detail: LedgerDetail, zone: ZoneSaid | null): Fact {
  switch (detail.kind) {
    case 'battery-swap':
      return fact('ledger.battery-swap', detail);
    case 'sensor-check':
      return fact('ledger.sensor-check', detail);
    case 'run-time-change': {
      const changed = detail.changes.filter((change) => change.oldMinutes !== change.newMinutes);
      return fact('ledger.run-time-change', {
        madeProgram: detail.madeProgram === true,
        zones: changed.length,
        minutesFrom: sum(changed.map((change) => change.oldMinutes)),
        minutesTo: sum(changed.map((change) => change.newMinutes)),
        percentFrom: detail.oldSeasonalPercent,
        percentTo: detail.newSeasonalPercent,
        daysChanged: detail.daysChanged,
        startTimesChanged: detail.startTimesChanged,
        // Entries of earlier versions say nothing of these.
        cyclesChanged: detail.cyclesChanged === true,
        switched: typeof detail.switched === 'string' ? detail.switched : null,
      });
    }
    case 'start-up':
      return fact('ledger.start-up', { ...detail, staticPressure: measured('pressure', detail.staticPressurePsi) });
    case 'winterization':
      return fact('ledger.winterization', { ...detail, airPressure: measured('pressure', detail.airPressurePsi) });
    case 'repair':
      return fact('ledger.repair', { ...detail, zone });
    case 'part-used':
      return fact('ledger.part-used', detail);
    case 'meter-read':
      return fact('ledger.meter-read', {
        meter: detail.meter,
        reading: { quantity: 'volume', value: detail.readingGallons },
      });
    case 'backflow-test':
      return fact('ledger.backflow-test', detail);
    case 'walk-through':
      return fact('ledger.walk-through', detail);
    case 'zone-audit':
      return fact('ledger.zone-audit', {
        rate: { quantity: 'rate', value: detail.precipitationRateInPerHour },
        uniformityPercent: Math.round(detail.distributionUniformity * 100),
        cans: detail.volumesMl.length,
        zone,
      });
    case 'manual-run':
      return fact('log.told.manualRun', { runMinutes: detail.runMinutes, why: detail.why, zone });
    case 'finding':
      return fact('log.told.finding', { what: detail.what, place: detail.place, urgency: detail.urgency, zone });
    case 'decision':
      return fact('log.told.decision', { what: detail.what, decidedBy: detail.decidedBy });
    case 'not-done':
      return fact('log.told.notDone', { why: detail.why });
    case 'photo':
      return fact('ledger.photo', detail);
    case 'note':
      return fact('ledger.note', detail);
  }
}

const sum = (values: number[]) => Math.round(values.reduce((total, value) => total + value, 0) * 10) / 10;

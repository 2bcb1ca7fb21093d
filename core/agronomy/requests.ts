import { computeEto, auditCatchCans } from './index.ts';
import type { Handler } from '../context.ts';
import type { Told } from '../contract/parts.ts';
import { fact } from '../text/say.ts';

const agronomyEto: Handler<'agronomy.eto'> = async (_context, input) => {
  const { etoMm, method, steps } = computeEto(input);
  return { etoMm, method, steps };
};

const zoneAudit: Handler<'zone.audit'> = async (_context, { volumesMl, throatAreaIn2, runMinutes }) => {
  const audit = auditCatchCans({ volumesMl, throatAreaIn2, minutes: runMinutes });
  const findings: Told[] = [];
  if (audit.thin) findings.push(fact('finding.fewCans', { cans: audit.canCount }));
  if (audit.du < 0.4) findings.push(fact('finding.uneven'));
  return {
    precipitationRateInPerHour: audit.prInchesPerHour,
    distributionUniformity: audit.du,
    meanMl: audit.meanMl,
    lowQuarterMeanMl: audit.lowQuarterMeanMl,
    schedulingMultiplier: audit.multiplier,
    findings,
    // The same 1 mL over 1 in² that the rate is computed from: depth of the mean can × its share.
    depthsInches: volumesMl.map(
      (volume) => (audit.meanMl === 0 ? 0 : (audit.prInchesPerHour * runMinutes) / 60) * (volume / audit.meanMl),
    ),
  };
};

export const agronomyHandlers = {
  'agronomy.eto': agronomyEto,
  'zone.audit': zoneAudit,
};

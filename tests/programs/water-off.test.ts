import { describe, expect, it } from 'vitest';
import { whyWaterIsOff as factOf } from '../../core/programs/water-off.ts';
import { PLAIN_READER, sayFact } from '../../core/text/say.ts';

const whyWaterIsOff = (...given: Parameters<typeof factOf>) => {
  const why = factOf(...given);
  return why === null ? null : sayFact(PLAIN_READER, why);
};

describe('why no water runs in a week', () => {
  const winterized = {
    year: 2026,
    state: 'winterized' as const,
    startedUpOn: '2026-04-16',
    winterizedOn: '2026-10-28',
  };
  it('is off from the winterization on, next summer too, until a start-up is logged', () => {
    expect(whyWaterIsOff(winterized, '2026-11-23')).toContain('Winterized Oct 28, 2026');
    expect(whyWaterIsOff(winterized, '2027-07-05')).toContain('until the next start-up');
    expect(whyWaterIsOff(winterized, '2026-10-26')).toContain('off from then on');
  });
  it('may run between the start-up and the winterization, both their weeks included up to them', () => {
    expect(whyWaterIsOff(winterized, '2026-10-19')).toBeNull();
    expect(whyWaterIsOff(winterized, '2026-04-13')).toBeNull();
    expect(whyWaterIsOff(winterized, '2026-04-06')).toContain('Started up only on Apr 16, 2026');
  });
  it('says nothing of years the page does not know', () => {
    expect(whyWaterIsOff(winterized, '2025-07-07')).toBeNull();
  });
  it('runs again where the start-up came after the winterization', () => {
    expect(whyWaterIsOff({ ...winterized, state: 'running', startedUpOn: '2026-11-20' }, '2026-11-23')).toBeNull();
  });
  it('does not take a start-up nobody logged for water that is off', () => {
    expect(
      whyWaterIsOff({ year: 2026, state: 'not-started', startedUpOn: null, winterizedOn: null }, '2026-06-01'),
    ).toBeNull();
    expect(
      whyWaterIsOff({ year: 2026, state: 'not-serviced', startedUpOn: null, winterizedOn: null }, '2026-06-01'),
    ).toBeNull();
    expect(
      whyWaterIsOff({ year: 2026, state: 'running', startedUpOn: '2026-04-16', winterizedOn: null }, '2026-06-01'),
    ).toBeNull();
  });
});

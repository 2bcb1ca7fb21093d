/** Sunrise and sunset against printed worked examples. */
import { describe, expect, it } from 'vitest';
import { daylight } from '../../core/agronomy/index.ts';

const at = (hours: number, minutes: number, seconds = 0) => hours * 60 + minutes + seconds / 60;

describe('daylight', () => {
  it('New York, 1 January 2015: 7:20:02, 11:59:09, 16:38:16 (readme of the Ruby library "sun", after the NOAA solar calculator)', () => {
    const sun = daylight(40.75, -73.99, '2015-01-01', -300);
    // The short NOAA form ignores the hour of the day, good to half a minute here.
    expect(Math.abs(sun.sunriseMinutes! - at(7, 20, 2))).toBeLessThan(0.5);
    expect(Math.abs(sun.solarNoonMinutes - at(11, 59, 9))).toBeLessThan(0.5);
    expect(Math.abs(sun.sunsetMinutes! - at(16, 38, 16))).toBeLessThan(0.5);
  });

  it('Wayne, New Jersey, 25 June 1990: sunrise 5:26 summer time (Almanac for Computers, 1990, worked example; the answer from memory)', () => {
    expect(Math.abs(daylight(40.9, -74.3, '1990-06-25', -240).sunriseMinutes! - at(5, 26))).toBeLessThan(0.6);
  });
});

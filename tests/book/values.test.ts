import { describe, expect, it } from 'vitest';
import { splitAddress, streetKey, withUnit } from '../../core/import/address.ts';
import { nameKey } from '../../core/import/client-index.ts';
import { orderOf, readDate } from '../../core/import/dates.ts';
import { readStartTimes, readWateringDays } from '../../core/import/schedule.ts';
import {
  cleanCell,
  readEmail,
  readNumber,
  readPhone,
  readPostcode,
  readYesNo,
  splitPhones,
} from '../../core/import/cell-values.ts';

const TODAY = '2026-03-02';

describe('phones', () => {
  it.each([
    ['303-555-0101', '(303) 555-0101'],
    ['(303)555-0101', '(303) 555-0101'],
    ['303.555.0101', '(303) 555-0101'],
    ['3035550101', '(303) 555-0101'],
    ['1 303 555 0101', '(303) 555-0101'],
    ['+1 (303) 555-0101', '(303) 555-0101'],
    ['3035550101.0', '(303) 555-0101'],
    ['303 555 0101 ext. 12', '(303) 555-0101 ext. 12'],
    ['+44 20 7946 0018', '+44 20 7946 0018'],
  ])('%s → %s', (written, phone) => expect(readPhone(written, 'US')).toMatchObject({ phone, rest: '', warning: null }));
  it('keeps what it cannot read but somebody could dial', () =>
    expect(readPhone('303-555-01011234567', 'US')).toMatchObject({ phone: '303-555-01011234567', rest: '' }));
  it('keeps words as a note', () =>
    expect(readPhone('call the office', 'US')).toMatchObject({ phone: '', rest: 'call the office' }));
  it('says nothing for nothing', () => expect(readPhone('n/a', 'US')).toEqual({ phone: '', rest: '', warning: null }));
  it('reads another region', () => expect(readPhone('020 7946 0018', 'GB').phone).toBe('020 7946 0018'));
  it('parts several numbers', () => {
    expect(splitPhones('303-555-0101 / 303-555-0102')).toEqual(['303-555-0101', '303-555-0102']);
    expect(splitPhones('303-555-0101 or 303-555-0102')).toEqual(['303-555-0101', '303-555-0102']);
    expect(splitPhones('(303) 555-0101')).toEqual(['(303) 555-0101']);
  });
});

describe('postcodes', () => {
  const usual = { phoneRegion: 'US', region: 'CO' };
  it.each([
    ['80501', '80501'],
    ['80501.0', '80501'],
    [' 80501-1234 ', '80501-1234'],
    ['805011234', '80501-1234'],
    ["'02134", '02134'],
    ['k1a 0b1', 'K1A 0B1'],
  ])('%s → %s', (written, postcode) =>
    expect(readPostcode(cleanCell(written), usual)).toEqual({ postcode, warning: null }),
  );
  it('puts a lost leading zero back and says so', () => {
    expect(readPostcode('2134', usual)).toMatchObject({
      postcode: '02134',
      warning: { key: 'import.why.leadingZero' },
    });
    expect(readPostcode('601', { phoneRegion: 'US', region: 'PR' }).postcode).toBe('00601');
    expect(readPostcode('2134', { phoneRegion: 'AU', region: '' })).toEqual({ postcode: '2134', warning: null });
  });
});

describe('dates', () => {
  it.each([
    ['2024-03-14', '2024-03-14'],
    ['2024/3/14', '2024-03-14'],
    ['3/14/2024', '2024-03-14'],
    ['03/14/24', '2024-03-14'],
    ['14.03.2024', '2024-03-14'],
    ['14-3-2024', '2024-03-14'],
    ['14 Mar 2024', '2024-03-14'],
    ['March 14, 2024', '2024-03-14'],
    ['Mar. 14th 2024', '2024-03-14'],
    ['14-Mar-24', '2024-03-14'],
    ['2024-Mar-14', '2024-03-14'],
    ['20240314', '2024-03-14'],
    ['45365', '2024-03-14'],
    ['45365.75', '2024-03-14'],
    ['Thu, 14 Mar 2024', '2024-03-14'],
    ['3/14/2024 10:30 AM', '2024-03-14'],
    ['2024-03-14T10:30:00Z', '2024-03-14'],
    ['2/29/2024', '2024-02-29'],
    ['1/2/99', '1999-01-02'],
  ])('%s → %s', (written, date) => expect(readDate(written, 'month-first', TODAY)).toEqual({ ok: true, date }));
  it.each(['2/30/2024', '2023-02-29', '13/13/2024', 'spring', '3/14', '0/5/2024', '2024-00-10', '1850-01-01', '99999'])(
    'refuses %s',
    (written) => expect(readDate(written, 'month-first', TODAY).ok).toBe(false),
  );
  it('takes the first of a month that has no day, and says it', () =>
    expect(readDate('Mar 2024', 'month-first', TODAY)).toEqual({ ok: true, date: '2024-03-01', monthOnly: true }));
  it('reads either order', () => {
    expect(readDate('3/4/2024', 'month-first', TODAY)).toMatchObject({ date: '2024-03-04' });
    expect(readDate('3/4/2024', 'day-first', TODAY)).toMatchObject({ date: '2024-04-03' });
  });
  it('finds the order from the column', () => {
    expect(orderOf(['3/4/2024', '3/14/2024'])).toEqual({ order: 'month-first', guessed: false, mixed: false });
    expect(orderOf(['3/4/2024', '14/3/2024'])).toEqual({ order: 'day-first', guessed: false, mixed: false });
    expect(orderOf(['3/4/2024', '5/6/2024'])).toEqual({ order: 'month-first', guessed: true, mixed: false });
    expect(orderOf(['3.4.2024', '5.6.2024'])).toEqual({ order: 'day-first', guessed: false, mixed: false });
    expect(orderOf(['14/3/2024', '3/14/2024', '3/15/2024'])).toEqual({
      order: 'month-first',
      guessed: false,
      mixed: true,
    });
  });
});

describe('addresses', () => {
  it.each([
    ['12 Oak St, Fairview, CO 80501', { street: '12 Oak St', city: 'Fairview', region: 'CO', postcode: '80501' }],
    [
      '12 Oak St, Unit 4, Fairview, CO 80501-1234',
      { street: '12 Oak St, Unit 4', city: 'Fairview', region: 'CO', postcode: '80501-1234' },
    ],
    ['12 Oak St\nFairview CO 80501', { street: '12 Oak St', city: 'Fairview', region: 'CO', postcode: '80501' }],
    [
      '12 Oak St, Fairview, Colorado 80501, USA',
      { street: '12 Oak St', city: 'Fairview', region: 'Colorado', postcode: '80501' },
    ],
    ['12 Oak St, Fairview, CO, 80501', { street: '12 Oak St', city: 'Fairview', region: 'CO', postcode: '80501' }],
    [
      '12 North Oak Street Fort Hale CO 80501',
      { street: '12 North Oak Street', city: 'Fort Hale', region: 'CO', postcode: '80501' },
    ],
    ['12 Oak St, Fairview', { street: '12 Oak St', city: 'Fairview', region: '', postcode: '' }],
    ['12 Oak St', { street: '12 Oak St', city: '', region: '', postcode: '' }],
    ['Lindenweg 5, 80331 Neustadt', { street: 'Lindenweg 5', city: 'Neustadt', region: '', postcode: '80331' }],
    ['', { street: '', city: '', region: '', postcode: '' }],
  ])('%s', (text, parts) => expect(splitAddress(text)).toEqual(parts));
  it('knows one street by its spellings', () => {
    const key = streetKey('12 North Oak Street, Apt. 4');
    for (const other of [
      '12 N. Oak St #4',
      '12 N Oak St., Unit 4',
      '12 n oak st apt 4',
      '12  North Oak Street Suite 4',
    ])
      expect(streetKey(other)).toBe(key);
    for (const other of ['12 N Oak Ave #4', '13 N Oak St #4', '12 S Oak St #4', '12 N Oak St #5', '12 N Oak St'])
      expect(streetKey(other)).not.toBe(key);
  });
  it('puts a unit once', () => {
    expect(withUnit('12 Oak St', '4')).toBe('12 Oak St, Unit 4');
    expect(withUnit('12 Oak St', '#4')).toBe('12 Oak St, #4');
    expect(withUnit('12 Oak St #4', '4')).toBe('12 Oak St #4');
    expect(withUnit('12 Oak St', '')).toBe('12 Oak St');
  });
});

describe('other cells', () => {
  it('cleans text', () => {
    expect(cleanCell('\u00a0 Ada \u200b  Reed\u0007 ')).toBe('Ada Reed');
    expect(cleanCell('="00123"')).toBe('00123');
    expect(cleanCell("'+1 303")).toBe('+1 303');
    expect(cleanCell('one \r\n two')).toBe('one\ntwo');
    expect(cleanCell('ALL CAPS')).toBe('ALL CAPS');
  });
  it('reads numbers', () => {
    for (const [text, value] of [
      ['1,250', 1250],
      ['$40', 40],
      ['45 psi', 45],
      ['12,5', 12.5],
      ['-105.2', -105.2],
      ['5 ft²', 5],
      ['', null],
      ['n/a', null],
      ['1,250.5', 1250.5],
      ['~40', 40],
      ['1 250', 1250],
    ] as const)
      expect(readNumber(text)).toEqual({ ok: true, value });
    for (const text of ['abc', '1-2', '12 34 x5', '1.2.3', '--5'])
      expect(readNumber(text), text).toEqual({ ok: false });
  });
  it('reads e-mail addresses', () => {
    expect(readEmail('ada@example.com')).toEqual({ email: 'ada@example.com', rest: '' });
    expect(readEmail('Ada <ada@example.com>; bea@example.com')).toEqual({
      email: 'ada@example.com',
      rest: 'Ada bea@example.com',
    });
    expect(readEmail('ada at example')).toEqual({ email: '', rest: 'ada at example' });
  });
  it('reads yes and no', () => {
    expect(['Yes', 'x', 'TRUE', '1', '✓'].map(readYesNo)).toEqual([true, true, true, true, true]);
    expect(['no', 'N', '0', 'None'].map(readYesNo)).toEqual([false, false, false, false]);
    expect(readYesNo('')).toBe(null);
    expect(readYesNo('Septemberish')).toBe(undefined);
  });
  it('knows one name by its spellings', () => {
    expect(new Set(['Smith, John', 'JOHN  SMITH', 'Smith John', 'John Smith.'].map(nameKey)).size).toBe(1);
    expect(nameKey('Moss & Reed')).toBe(nameKey('Moss and Reed'));
    expect(nameKey('Jon Smith')).not.toBe(nameKey('John Smith'));
  });
  it('reads watering days and start times', () => {
    expect(readWateringDays('Mon, Wed & Fri', TODAY)).toEqual({ kind: 'weekdays', weekdays: [1, 3, 5] });
    expect(readWateringDays('MWF', TODAY)).toEqual({ kind: 'weekdays', weekdays: [1, 3, 5] });
    expect(readWateringDays('TuThSa', TODAY)).toEqual({ kind: 'weekdays', weekdays: [2, 4, 6] });
    expect(readWateringDays('daily', TODAY)).toEqual({ kind: 'weekdays', weekdays: [1, 2, 3, 4, 5, 6, 7] });
    expect(readWateringDays('odd', TODAY)).toEqual({ kind: 'odd', monthEnd: 'skip' });
    expect(readWateringDays('every 3 days', TODAY)).toEqual({ kind: 'interval', everyDays: 3, startDate: TODAY });
    expect(readWateringDays('', TODAY)).toBe(null);
    expect(readWateringDays('whenever dry', TODAY)).toBe(undefined);
    expect(readStartTimes('5:00 AM; 6:30pm and 12 am')).toEqual({ ok: true, times: ['00:00', '05:00', '18:30'] });
    expect(readStartTimes('0500')).toEqual({ ok: true, times: ['05:00'] });
    expect(readStartTimes('25:00').ok).toBe(false);
  });
});

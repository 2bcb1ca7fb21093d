import { describe, expect, it } from 'vitest';
import { fieldsOf } from '../../core/import/fields.ts';
import { headerSignature, matchColumns } from '../../core/import/mapping.ts';
import { IMPORT_TARGETS } from '../../core/import/contract.ts';

const fieldsFor = (target: (typeof IMPORT_TARGETS)[number], headers: string[], cells: string[][] = []) =>
  matchColumns(target, headers, true, (index) => cells[index] ?? [], null, undefined).map((match) => match.field);

// Headers as different offices write them: each line is one list.
describe('headers of client lists', () => {
  it.each([
    [
      [
        'Customer',
        'Billing Street',
        'Billing City',
        'Billing Zip',
        'Service Street',
        'Service City',
        'Service State',
        'Service Zip',
      ],
      ['clientName', 'billingAddress', 'billingAddress', 'billingAddress', 'street', 'city', 'region', 'postcode'],
    ],
    [
      ['FIRST_NAME', 'LAST_NAME', 'ADDRESS_1', 'ADDRESS_2', 'CITY', 'ST', 'ZIP_CODE', 'HOME PHONE', 'CELL PHONE'],
      ['firstName', 'lastName', 'street', 'unit', 'city', 'region', 'postcode', 'phone', 'phone2'],
    ],
    [
      ['firstName', 'lastName', 'streetAddress', 'postalCode', 'emailAddress'],
      ['firstName', 'lastName', 'street', 'postcode', 'email'],
    ],
    [
      ['Name', 'Mobile', 'Property Address'],
      ['clientName', 'phone', 'street'],
    ],
    [
      ['Client Name', 'Phone', 'Phone', 'Address', 'Notes', 'Comments'],
      ['clientName', 'phone', 'phone2', 'street', 'clientNotes', 'clientNotes'],
    ],
    [
      ['Homeowner', 'Site Address', 'Work Phone (day)', 'Home Phone', 'Lat', 'Lng', 'Elev (ft)'],
      ['clientName', 'street', 'phone2', 'phone', 'latitudeDeg', 'longitudeDeg', 'elevationFt'],
    ],
    [
      ['Acct. No.', 'Company Name', 'Contact Name', 'Street', 'Time Zone', 'Route Name'],
      ['accountNumber', 'companyName', 'clientName', 'street', 'timeZone', 'route'],
    ],
    [
      ['Customer Name', 'Address', 'Balance Due', 'Last Invoice', 'Spouse', 'Opened On'],
      ['clientName', 'street', '', '', '', ''],
    ],
    [
      [
        'Name',
        'Address',
        'BFP Type',
        'BFP Serial #',
        'Backflow Due Date',
        'Shut-off location',
        '# of Zones',
        'Timer',
        'Timer Location',
        'Start-Up?',
        'Blow-out?',
      ],
      [
        'clientName',
        'street',
        'backflowKind',
        'backflowSerial',
        'backflowTestDue',
        'shutoffLocation',
        'zoneCount',
        'controllerName',
        'controllerLocation',
        'startUp',
        'winterize',
      ],
    ],
  ])('%j', (headers, fields) => expect(fieldsFor('clients', headers)).toEqual(fields));

  it('are not guessed from a name that says nothing when the cells do', () => {
    expect(
      fieldsFor(
        'clients',
        ['Column1', 'Column2', 'Column3'],
        [
          ['Ada Reed', 'Bea Moss', 'Cy Park'],
          ['12 Oak St', '9 Fir Ln', '8 Elm St'],
          ['ada@example.com', 'bea@example.com', 'cy@example.com'],
        ],
      ),
    ).toEqual(['clientName', 'street', 'email']);
  });
});

it('headers of zone, work and weather lists', () => {
  expect(
    fieldsFor('zones', [
      'Customer',
      'Address',
      'Controller',
      'Zone #',
      'Description',
      'Plant Type',
      'Sprinkler Type',
      'Flow (GPM)',
      'Area (sq ft)',
      'Precip Rate',
      'Soil Type',
      'Run Time (min)',
      'Start Times',
      'Watering Days',
    ]),
  ).toEqual([
    'clientName',
    'street',
    'controller',
    'station',
    'name',
    'plants',
    'device',
    'flowGpm',
    'areaFt2',
    'precipitationRateInPerHour',
    'soil',
    'runMinutes',
    'startTimes',
    'days',
  ]);
  expect(
    fieldsFor('work', [
      'Client',
      'Service Address',
      'Date Completed',
      'Service Type',
      'Technician',
      'Notes',
      'Air Pressure (psi)',
      'Parts Used',
      'Qty',
      'Meter Reading',
    ]),
  ).toEqual([
    'clientName',
    'street',
    'date',
    'kind',
    'technician',
    'note',
    'pressurePsi',
    'part',
    'quantity',
    'meterGallons',
  ]);
  expect(fieldsFor('weather', ['DATE', 'Max Temp (°F)', 'Min Temp (°F)', 'Precipitation (in)', 'RH'])).toEqual([
    'date',
    'tmaxF',
    'tminF',
    'rainInches',
    'rhMeanPct',
  ]);
  expect(
    fieldsFor(
      'weather',
      ['date', 'precipitation', 'temp_max', 'temp_min', 'wind'],
      [[], ['0', '10.9'], ['12.8', '30'], ['5', '-2'], ['4']],
    ),
  ).toEqual(['date', 'rainMm', 'tmaxC', 'tminC', 'windMps']);
  expect(
    fieldsFor(
      'weather',
      ['date', 'precipitation', 'temp_max', 'temp_min'],
      [[], ['0', '0.9'], ['72', '90'], ['5', '60']],
    ),
  ).toEqual(['date', 'rainInches', 'tmaxF', 'tminF']);
});

it('a header is remembered whatever its case and punctuation, and not mistaken for another', () => {
  const signature = headerSignature(['First Name', 'Zip'], true);
  expect(headerSignature(['first_name', 'ZIP:'], true)).toBe(signature);
  expect(headerSignature(['Zip', 'First Name'], true)).not.toBe(signature);
  expect(headerSignature(['First Name', 'Zip'], false)).not.toBe(signature);
});

it('no field is named twice in a target, and no two fields claim the same header word', () => {
  for (const target of IMPORT_TARGETS) {
    const names = fieldsOf(target).map((field) => field.name);
    expect(new Set(names).size).toBe(names.length);
    const words = fieldsOf(target).flatMap((field) => field.words);
    expect(
      words.filter((word, index) => words.indexOf(word) !== index),
      target,
    ).toEqual([]);
  }
});

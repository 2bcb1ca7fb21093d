import type { IMPORT_TARGETS } from '../../../core/contract/book.ts';

export type Target = (typeof IMPORT_TARGETS)[number];

interface ListKind {
  id: Target;
  title: string;
  /** What one row is, in a sentence. */
  row: string;
  /** Columns worth having. */
  useful: string;
  example: string;
}

/** The four kinds of list, what each should hold, and an invented example of each. */
export const LISTS: readonly ListKind[] = [
  {
    id: 'clients',
    title: 'Clients and properties',
    row: 'One row a property. A client with five properties has five rows.',
    useful:
      'Client name and street are enough. Good to have: phone, e-mail, city, postcode, account number, route, gate code, dog, where the shutoff is, backflow assembly and when its test is due, number of zones, sensor battery date.',
    example: [
      'Client name,Phone,E-mail,Street,City,State,Zip,Route,Gate code,Dog,Shutoff,Backflow test due,Zones,Rain sensor,Battery date',
      'Hollis Family,(970) 555-0101,hollis@example.com,1418 Alder Lane,Larkspur Falls,CO,80500,North bench,4471#,friendly,North wall behind the juniper,6/15/2027,8,wireless on the eave,4/22/2026',
      '"Vega, Marisol",(970) 555-0102,,22 Quarry Road,Larkspur Falls,CO,80500,Old town,,,Crawl space hatch,,6,,',
      'Cedar Flats Owners Association,(970) 555-0103,board@example.com,1 Cedar Court,Larkspur Falls,CO,80501,River side,2024,,Vault at the entrance,5/1/2027,24,wired,',
      'Cedar Flats Owners Association,(970) 555-0103,board@example.com,40 Cedar Court,Larkspur Falls,CO,80501,River side,2024,,Vault at the pool,5/1/2027,18,wired,',
    ].join('\r\n'),
  },
  {
    id: 'zones',
    title: 'Zones',
    row: 'One row a zone, of a property that is in the book already.',
    useful:
      'What tells the property (street, client name or account number) and the station number. Good to have: zone name, plants, heads or drip, flow in gpm, area in ft², soil, slope, sun, and the run minutes, days and start times now set.',
    example: [
      'Street,Station,Zone name,Plants,Heads,GPM,Sq ft,Soil,Slope %,Sun,Run minutes,Days,Start times',
      '1418 Alder Lane,1,Front lawn,cool-season turf,pop-up spray,11.5,1450,clay loam,3,full sun,14,Mon Wed Fri,4:00 AM',
      '1418 Alder Lane,2,Back lawn,cool-season turf,rotor,9.2,2600,clay loam,1,full sun,32,Mon Wed Fri,4:00 AM',
      '1418 Alder Lane,3,Beds along the fence,shrubs,drip line,3.1,620,clay loam,0,part shade,45,Mon Fri,4:00 AM',
    ].join('\r\n'),
  },
  {
    id: 'work',
    title: 'Past work',
    row: 'One row a piece of work done, at a property that is in the book already. It goes into the ledger.',
    useful:
      'What tells the property, the date and the kind of work (start-up, winterization, sensor check, battery swap, backflow test, repair, meter read). Good to have: technician, note, result, battery type, air pressure, meter reading, part, quantity, price.',
    example: [
      'Street,Date,Work,Technician,Result,Battery,PSI,Notes',
      '1418 Alder Lane,10/14/2025,Winterization,Ada Marsh,,,55,All eight zones blown out',
      '1418 Alder Lane,4/22/2026,Start-up,Ada Marsh,,,62,Replaced one nozzle in the front lawn',
      '1418 Alder Lane,4/22/2026,Battery swap,Ada Marsh,,CR2032,,Old one was low',
      '22 Quarry Road,5/3/2026,Backflow test,Ben Okafor,pass,,,',
    ].join('\r\n'),
  },
  {
    id: 'weather',
    title: 'Daily weather',
    row: 'One row a day of one weather station.',
    useful:
      'Date, highest and lowest temperature, rain. The unit must be in the column’s name (°F or °C, inches or mm). Good to have: mean humidity, wind, solar radiation. Several years make freeze dates and water need better.',
    example: [
      'Date,Tmax F,Tmin F,Rain in,Relative humidity,Wind mph',
      '2026-07-01,88,57,0.00,38,6',
      '2026-07-02,91,59,0.12,44,7',
      '2026-07-03,85,56,0.00,41,5',
    ].join('\r\n'),
  },
];

export const ENCODINGS = [
  { id: '', label: 'Found out from the file' },
  { id: 'utf-8', label: 'UTF-8' },
  { id: 'windows-1252', label: 'Windows-1252' },
] as const;
export const DELIMITERS = [
  { id: '', label: 'Found out from the file' },
  { id: ',', label: 'Comma' },
  { id: ';', label: 'Semicolon' },
  { id: '\t', label: 'Tab' },
  { id: '|', label: 'Bar |' },
] as const;
export const DATE_ORDERS = [
  { id: 'auto', label: 'Found out from the dates' },
  { id: 'month-first', label: 'Month first: 4/22/2026' },
  { id: 'day-first', label: 'Day first: 22.4.2026' },
] as const;

/** The delimiter in words. */
export function delimiterWord(delimiter: string): string {
  return DELIMITERS.find(({ id }) => id === delimiter)?.label.toLowerCase() ?? delimiter;
}

import type { IMPORT_TARGETS } from '../../../core/import/contract.ts';
import { say } from '../../state/say.ts';

export type Target = (typeof IMPORT_TARGETS)[number];

interface ListKind {
  id: Target;
  example: string;
}

/** The four kinds of list, and an invented example of each. */
export const LISTS: readonly ListKind[] = [
  {
    id: 'clients',
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
    example: [
      'Street,Station,Zone name,Plants,Heads,GPM,Sq ft,Soil,Slope %,Sun,Run minutes,Days,Start times',
      '1418 Alder Lane,1,Front lawn,cool-season turf,pop-up spray,11.5,1450,clay loam,3,full sun,14,Mon Wed Fri,4:00 AM',
      '1418 Alder Lane,2,Back lawn,cool-season turf,rotor,9.2,2600,clay loam,1,full sun,32,Mon Wed Fri,4:00 AM',
      '1418 Alder Lane,3,Beds along the fence,shrubs,drip line,3.1,620,clay loam,0,part shade,45,Mon Fri,4:00 AM',
    ].join('\r\n'),
  },
  {
    id: 'work',
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
    example: [
      'Date,Tmax F,Tmin F,Rain in,Relative humidity,Wind mph',
      '2026-07-01,88,57,0.00,38,6',
      '2026-07-02,91,59,0.12,44,7',
      '2026-07-03,85,56,0.00,41,5',
    ].join('\r\n'),
  },
];

export const encodings = () => [
  { id: '', label: say('import.foundFromFile') },
  { id: 'utf-8', label: 'UTF-8' },
  { id: 'windows-1252', label: 'Windows-1252' },
];
export const delimiters = () => [
  { id: '', label: say('import.foundFromFile') },
  { id: ',', label: say('import.comma') },
  { id: ';', label: say('import.semicolon') },
  { id: '\t', label: say('import.tab') },
  { id: '|', label: say('import.bar') },
];
export const dateOrders = () => [
  { id: 'auto', label: say('import.foundFromDates') },
  { id: 'month-first', label: say('import.monthFirst') },
  { id: 'day-first', label: say('import.dayFirst') },
];

/** The delimiter in words. */
export function delimiterWord(delimiter: string): string {
  return (
    delimiters()
      .find(({ id }) => id === delimiter)
      ?.label.toLowerCase() ?? delimiter
  );
}

import type { ClientIndex, PlaceRef } from './client-index.ts';
import type { Planning } from './plan.ts';
import { withUnit } from './address.ts';
import { isTotalsRow } from './source.ts';
import { readPostcode } from './cell-values.ts';
import { fact, type Fact } from '../text/say.ts';

/** Finds the property a row of zones or work is about; what keeps it from being found is a problem of the row. */
export function findPlaceOfRow(planning: Planning, index: ClientIndex): PlaceRef | null {
  const { reader, settings } = planning;
  const account = reader.line('accountNumber');
  const name = reader.line('clientName');
  const street = withUnit(reader.line('street'), reader.line('unit'));
  const where = {
    street,
    city: reader.line('city'),
    postcode: readPostcode(reader.line('postcode'), { phoneRegion: settings.phoneRegion, region: '' }).postcode,
  };
  let places: readonly PlaceRef[] = [];
  let field = 'street';
  if (account !== '') {
    places = index.placesOfAccount(account);
    field = 'accountNumber';
    if (places.length === 0 && name === '' && street === '')
      return refuse(planning, field, fact('import.why.noAccount', { account: account.slice(0, 60) }));
    if (places.length > 0 && street !== '') {
      const there =
        places.length === 1
          ? places.filter((place) => index.placesAt(street).includes(place))
          : index.placesAt(street).filter((place) => place.client === places[0]!.client);
      if (there.length === 0) return refuse(planning, 'street', fact('import.why.noPropertyThere'));
      places = there;
    }
  }
  if (places.length === 0 && name !== '') {
    places = index.placesOfName(name, street);
    field = 'clientName';
    if (places.length === 0 && street === '') return refuse(planning, field, fact('import.why.noClientOfName'));
    if (places.length === 0 && index.hasName(name))
      return refuse(planning, 'street', fact('import.why.noPropertyThere'));
  }
  if (places.length === 0) {
    if (street === '') return refuse(planning, field, fact('import.why.rowNamesNobody'));
    // The street alone: good only where a single property has it.
    places = index.placesAt(street);
    field = 'street';
  }
  if (places.length > 1) places = narrow(places, where);
  if (places.length === 1) return places[0]!;
  if (places.length === 0) return refuse(planning, field, fact('import.why.streetUnknown'));
  if (street === '') return refuse(planning, field, fact('import.why.whichStreet', { count: places.length }));
  return refuse(
    planning,
    'street',
    field === 'street'
      ? fact('import.why.whichClient', { count: places.length })
      : fact('import.why.whichCity', { count: places.length }),
  );
}

function narrow(places: readonly PlaceRef[], where: { city: string; postcode: string }): readonly PlaceRef[] {
  const code = where.postcode
    .toLowerCase()
    .replace(/[^a-z0-9]/g, '')
    .slice(0, 5);
  const byCode = code === '' ? places : places.filter((place) => place.postcode.slice(0, 5) === code);
  const kept = byCode.length > 0 ? byCode : places;
  const city = where.city.toLowerCase();
  const byCity = city === '' ? kept : kept.filter((place) => place.city === city);
  return byCity.length > 0 ? byCity : kept;
}

function refuse(planning: Planning, field: string, reason: Fact): null {
  planning.reader.problem(planning.reader.has(field) ? field : 'street', reason);
  return null;
}

/** A line of sums in a list of zones or work, which has no `needed` cell of its own. */
export function isTotalsOf(planning: Planning, cells: readonly string[], needed: string): boolean {
  if (
    !isTotalsRow(cells) ||
    (planning.reader.line(needed) !== '' &&
      /^\d/.test(planning.reader.line(needed)) &&
      planning.reader.line('street') !== '')
  )
    return false;
  planning.findings.ignore(planning.reader.row, fact('import.why.totals'));
  return true;
}

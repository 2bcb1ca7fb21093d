import { fold, digitsOf } from '../store/search-text.ts';
import { streetKey } from './address.ts';

// Finds whether a row's client and property are already there (in the book, or further up in the list), in constant time a row.

export interface PlaceRef {
  id: string;
  client: ClientRef;
  street: string;
  city: string;
  postcode: string;
  /** Row of the list that brought it, or null when it was in the book. */
  row: number | null;
}

export interface ClientRef {
  id: string;
  name: string;
  namesakes: Namesakes;
  account: string;
  places: Places;
  row: number | null;
}

export interface Identity {
  name: string;
  account: string;
  phones: readonly string[];
  email: string;
}

export type ClientMatch = { client: ClientRef; by: 'account' | 'contact' | 'place' | 'name' } | null;

let lastName = '';
let lastNameKey = '';

/** Names in the form in which "Smith, John", "John  SMITH" and "Smith John" are one. */
export function nameKey(name: string): string {
  if (name === lastName) return lastNameKey;
  lastName = name;
  const folded = fold(name.replace(/&/g, ' and '));
  return (lastNameKey = wordsOfName(folded)
    .filter((word) => word !== '')
    .sort()
    .join(' '));
}

function wordsOfName(folded: string): string[] {
  if (/^[a-z0-9 ]*$/.test(folded)) return folded.split(' ');
  // The wider class costs ten times as much, and only text beyond ASCII needs it.
  return folded.replace(/['’.]/g, '').split(/^[ -~]*$/.test(folded) ? /[^a-z0-9]+/ : /[^\p{L}\p{N}]+/u);
}

export function accountKey(account: string): string {
  if (account === '') return '';
  const key = fold(account).replace(/\.0$/, '');
  return /^0*$/.test(key) ? '' : key;
}

/** What ties a row to a client beside the name: telephone numbers by their last ten digits, the e-mail address. */
export function contactKeys(identity: Pick<Identity, 'phones' | 'email'>): string[] {
  const keys: string[] = [];
  for (const phone of identity.phones) {
    if (phone === '') continue;
    const usual = /^\((\d{3})\) (\d{3})-(\d{4})$/.exec(phone);
    if (usual) {
      keys.push(`${usual[1]}${usual[2]}${usual[3]}`);
      continue;
    }
    const digits = digitsOf(phone.replace(/\s*(ext\.?|x)\s*\d+$/i, ''));
    if (digits.length >= 7) keys.push(digits.slice(-10));
  }
  if (identity.email !== '') keys.push(identity.email.toLowerCase());
  return keys;
}

/** Up to so many are looked through one by one; most clients have one property, and most names one client. */
const FEW = 8;

/** Properties by the key of their street. */
class Places {
  readonly all: PlaceRef[] = [];
  private byStreet: Map<string, PlaceRef[]> | null = null;

  add(place: PlaceRef): void {
    this.all.push(place);
    if (this.byStreet) pushTo(this.byStreet, place.street, place);
    else if (this.all.length > FEW) {
      this.byStreet = new Map();
      for (const one of this.all) pushTo(this.byStreet, one.street, one);
    }
  }

  at(street: string): readonly PlaceRef[] {
    if (this.byStreet) return this.byStreet.get(street) ?? NOWHERE;
    return this.all.length === 0 ? NOWHERE : this.all.filter((place) => place.street === street);
  }
}

/** The clients of one name. */
class Namesakes {
  first: ClientRef | null = null;
  count = 0;
  /** The first one with neither account nor contact. */
  bare: ClientRef | null = null;
  /** All their properties. */
  readonly places = new Places();
  private readonly contacts: { key: string; client: ClientRef }[] = [];
  private byContact: Map<string, ClientRef> | null = null;

  /** The first client with a contact keeps it. */
  addContact(key: string, client: ClientRef): void {
    if (this.withContact(key)) return;
    if (this.byContact) this.byContact.set(key, client);
    else {
      this.contacts.push({ key, client });
      if (this.contacts.length > FEW)
        this.byContact = new Map(this.contacts.map((contact) => [contact.key, contact.client]));
    }
  }

  withContact(key: string): ClientRef | undefined {
    if (this.byContact) return this.byContact.get(key);
    for (const contact of this.contacts) if (contact.key === key) return contact.client;
    return undefined;
  }
}

interface Where {
  street: string;
  city: string;
  postcode: string;
}

const NOWHERE: readonly PlaceRef[] = [];

// Every look-up is by one key, so that fifty thousand rows called "Homeowner" cost no more than any others.
export class ClientIndex {
  private readonly byAccount = new Map<string, ClientRef>();
  private readonly byName = new Map<string, Namesakes>();
  private readonly byStreet = new Map<string, PlaceRef[]>();

  addClient(id: string, identity: Identity, row: number | null): ClientRef {
    const name = nameKey(identity.name);
    let same = this.byName.get(name);
    if (!same) this.byName.set(name, (same = new Namesakes()));
    const client: ClientRef = {
      id,
      name: identity.name,
      namesakes: same,
      account: accountKey(identity.account),
      places: new Places(),
      row,
    };
    same.first ??= client;
    same.count += 1;
    if (client.account !== '' && !this.byAccount.has(client.account)) this.byAccount.set(client.account, client);
    const contacts = contactKeys(identity);
    for (const contact of contacts) same.addContact(contact, client);
    if (client.account === '' && contacts.length === 0) same.bare ??= client;
    return client;
  }

  addPlace(client: ClientRef, id: string, street: string, city: string, postcode: string, row: number | null): void {
    const place: PlaceRef = {
      id,
      client,
      street: streetKey(street),
      city: cityKey(city),
      postcode: postcodeKey(postcode),
      row,
    };
    client.places.add(place);
    client.namesakes.places.add(place);
    pushTo(this.byStreet, place.street, place);
  }

  /**
   * The client a row belongs to. A client of the same account or name that has this very property comes before all else:
   * that is what makes a list imported again find its own rows. Then the same account; the same name with a shared
   * contact; or the name alone where the row names nothing else.
   */
  findClient(identity: Identity, where: Where): ClientMatch {
    const account = accountKey(identity.account);
    const byAccount = account === '' ? undefined : this.byAccount.get(account);
    if (byAccount && this.findPlace(byAccount, where)) return { client: byAccount, by: 'account' };
    const same = this.byName.get(nameKey(identity.name));
    const there = same ? firstSame(same.places.at(streetKey(where.street)), where) : null;
    if (there) return { client: there.client, by: 'place' };
    if (byAccount) return { client: byAccount, by: 'account' };
    if (!same) return null;
    const contacts = contactKeys(identity);
    for (const contact of contacts) {
      const client = same.withContact(contact);
      if (client) return { client, by: 'contact' };
    }
    if (account === '' && contacts.length === 0) {
      const client = same.bare ?? (same.count === 1 ? same.first : null);
      if (client) return { client, by: 'name' };
    }
    return null;
  }

  /** Is there a client of this name? */
  hasName(name: string): boolean {
    return this.byName.has(nameKey(name));
  }

  findPlace(client: ClientRef, where: Where): PlaceRef | null {
    return firstSame(client.places.at(streetKey(where.street)), where);
  }

  /** The same address under any client. */
  findPlaceAnywhere(where: Where): PlaceRef | null {
    return firstSame(this.byStreet.get(streetKey(where.street)), where);
  }

  /** Every property at a street of this spelling. */
  placesAt(street: string): readonly PlaceRef[] {
    return this.byStreet.get(streetKey(street)) ?? NOWHERE;
  }

  /** Every property of the client with an account number. */
  placesOfAccount(account: string): readonly PlaceRef[] {
    return this.byAccount.get(accountKey(account))?.places.all ?? NOWHERE;
  }

  /** Every property of the clients of a name, at a street when one is given. */
  placesOfName(name: string, street: string): readonly PlaceRef[] {
    const places = this.byName.get(nameKey(name))?.places;
    if (!places) return NOWHERE;
    return street === '' ? places.all : places.at(streetKey(street));
  }
}

function pushTo(map: Map<string, PlaceRef[]>, key: string, place: PlaceRef): void {
  const list = map.get(key);
  if (list) list.push(place);
  else map.set(key, [place]);
}

function postcodeKey(postcode: string): string {
  if (/^\d{5}$/.test(postcode)) return postcode;
  const key = postcode.toLowerCase().replace(/[^a-z0-9]/g, '');
  return /^\d{9}$/.test(key) ? key.slice(0, 5) : key;
}

let lastCity = '';
let lastCityKey = '';

function cityKey(city: string): string {
  if (city === lastCity) return lastCityKey;
  lastCity = city;
  return (lastCityKey = fold(city));
}

function firstSame(
  places: readonly PlaceRef[] | undefined,
  place: { city: string; postcode: string },
): PlaceRef | null {
  if (!places || places.length === 0) return null;
  const postcode = postcodeKey(place.postcode);
  const city = cityKey(place.city);
  for (const other of places) {
    if (postcode !== '' && other.postcode !== '') {
      if (postcode === other.postcode) return other;
    } else if (city === '' || other.city === '' || city === other.city) return other;
  }
  return null;
}

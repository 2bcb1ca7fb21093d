import { fold, digitsOf } from '../../store/search-text.ts';
import { streetKey } from './address.ts';

// Finds whether a row's client and property are already there (in the book, or further up in the list), in constant time a row.

export interface PlaceRef {
  id: string;
  client: ClientRef;
  city: string;
  postcode: string;
  /** Row of the list that brought it, or null when it was in the book. */
  row: number | null;
}

export interface ClientRef {
  id: string;
  name: string;
  nameKey: string;
  account: string;
  places: PlaceRef[];
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
  const words = fold(name.replace(/&/g, ' and ')).replace(/['’.]/g, '').split(/[^\p{L}\p{N}]+/u);
  return (lastNameKey = words.filter((word) => word !== '').sort().join(' '));
}

export function accountKey(account: string): string {
  const key = fold(account).replace(/\.0$/, '');
  return /^0*$/.test(key) ? '' : key;
}

/** What ties a row to a client beside the name: telephone numbers by their last ten digits, the e-mail address. */
export function contactKeys(identity: Pick<Identity, 'phones' | 'email'>): string[] {
  const keys: string[] = [];
  for (const phone of identity.phones) {
    const digits = digitsOf(phone.replace(/\s*(ext\.?|x)\s*\d+$/i, ''));
    if (digits.length >= 7) keys.push(digits.slice(-10));
  }
  if (identity.email !== '') keys.push(identity.email.toLowerCase());
  return keys;
}

interface Namesakes {
  first: ClientRef;
  count: number;
  /** The first one with neither account nor contact. */
  bare: ClientRef | null;
  /** All their properties. */
  places: PlaceRef[];
}

interface Where {
  street: string;
  city: string;
  postcode: string;
}

// Every look-up is by one key, so that fifty thousand rows called "Homeowner" cost no more than any others.
export class ClientIndex {
  private readonly byId = new Map<string, ClientRef>();
  private readonly byAccount = new Map<string, ClientRef>();
  private readonly byName = new Map<string, Namesakes>();
  private readonly byNameAndContact = new Map<string, ClientRef>();
  private readonly byNameAndStreet = new Map<string, PlaceRef[]>();
  private readonly byClientAndStreet = new Map<string, PlaceRef[]>();
  private readonly byStreet = new Map<string, PlaceRef[]>();

  addClient(id: string, identity: Identity, row: number | null): ClientRef {
    const name = nameKey(identity.name);
    const client: ClientRef = { id, name: identity.name, nameKey: name, account: accountKey(identity.account), places: [], row };
    const contacts = contactKeys(identity);
    this.byId.set(id, client);
    if (client.account !== '' && !this.byAccount.has(client.account)) this.byAccount.set(client.account, client);
    for (const contact of contacts) {
      const key = `${name}|${contact}`;
      if (!this.byNameAndContact.has(key)) this.byNameAndContact.set(key, client);
    }
    const bare = client.account === '' && contacts.length === 0 ? client : null;
    const same = this.byName.get(name);
    if (same) {
      same.count += 1;
      same.bare ??= bare;
    } else this.byName.set(name, { first: client, count: 1, bare, places: [] });
    return client;
  }

  addPlace(clientId: string, id: string, street: string, city: string, postcode: string, row: number | null): void {
    const client = this.byId.get(clientId);
    if (!client) return;
    const key = streetKey(street);
    const place: PlaceRef = { id, client, city: fold(city), postcode: postcodeKey(postcode), row };
    client.places.push(place);
    this.byName.get(client.nameKey)!.places.push(place);
    pushTo(this.byClientAndStreet, `${clientId}|${key}`, place);
    pushTo(this.byNameAndStreet, `${client.nameKey}|${key}`, place);
    pushTo(this.byStreet, key, place);
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
    const name = nameKey(identity.name);
    const there = firstSame(this.byNameAndStreet.get(`${name}|${streetKey(where.street)}`), where);
    if (there) return { client: there.client, by: 'place' };
    if (byAccount) return { client: byAccount, by: 'account' };
    const contacts = contactKeys(identity);
    for (const contact of contacts) {
      const client = this.byNameAndContact.get(`${name}|${contact}`);
      if (client) return { client, by: 'contact' };
    }
    const same = this.byName.get(name);
    if (same && account === '' && contacts.length === 0) {
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
    return firstSame(this.byClientAndStreet.get(`${client.id}|${streetKey(where.street)}`), where);
  }

  /** The same address under any client. */
  findPlaceAnywhere(where: Where): PlaceRef | null {
    return firstSame(this.byStreet.get(streetKey(where.street)), where);
  }

  /** Every property at a street of this spelling. */
  placesAt(street: string): readonly PlaceRef[] {
    return this.byStreet.get(streetKey(street)) ?? [];
  }

  /** Every property of the client with an account number. */
  placesOfAccount(account: string): readonly PlaceRef[] {
    return this.byAccount.get(accountKey(account))?.places ?? [];
  }

  /** Every property of the clients of a name, at a street when one is given. */
  placesOfName(name: string, street: string): readonly PlaceRef[] {
    const key = nameKey(name);
    if (street !== '') return this.byNameAndStreet.get(`${key}|${streetKey(street)}`) ?? [];
    return this.byName.get(key)?.places ?? [];
  }
}

function pushTo(map: Map<string, PlaceRef[]>, key: string, place: PlaceRef): void {
  const list = map.get(key);
  if (list) list.push(place);
  else map.set(key, [place]);
}

function postcodeKey(postcode: string): string {
  const key = postcode.toLowerCase().replace(/[^a-z0-9]/g, '');
  return /^\d{9}$/.test(key) ? key.slice(0, 5) : key;
}

function firstSame(places: readonly PlaceRef[] | undefined, place: { city: string; postcode: string }): PlaceRef | null {
  if (!places) return null;
  const postcode = postcodeKey(place.postcode);
  const city = fold(place.city);
  for (const other of places) {
    if (postcode !== '' && other.postcode !== '') {
      if (postcode === other.postcode) return other;
    } else if (city === '' || other.city === '' || city === other.city) return other;
  }
  return null;
}

import { sql } from 'kysely';
import type { ParsedInputOf } from '../contract/index.ts';
import { fold, digitsOf, clientSearchText, sortName } from '../store/search-text.ts';
import { engine } from '../store/book-engine.ts';
import { type Db, toEntity, toRow } from '../store/tables.ts';
import type { Client } from './contract.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { nextVersion } from '../store/rows.ts';

export interface ListRow {
  clientId: string;
  clientName: string;
  phone: string;
  propertyId: string | null;
  label: string | null;
  street: string | null;
  city: string | null;
  routeId: string | null;
  routeName: string | null;
  clientArchived: 0 | 1;
  propertyArchived: 0 | 1 | null;
  seasonYear: number | null;
  startedUpOn: string | null;
  winterizedOn: string | null;
  servicesStartUp: 0 | 1 | null;
  servicesWinterization: 0 | 1 | null;
  nextVisitDate: string | null;
}

/** The home list's rows, filtered and sorted; `among` narrows to properties found due. */
export async function listClients(
  db: Db,
  input: ParsedInputOf<'client.list'>,
  onDate: string,
  among: readonly string[] | null,
): Promise<{ rows: ListRow[]; total: number }> {
  const year = Number(onDate.slice(0, 4));
  let base = db
    .selectFrom('client as c')
    .leftJoin('property as p', 'p.clientId', 'c.id')
    .leftJoin('season as s', (join) => join.onRef('s.propertyId', '=', 'p.id').on('s.year', '=', year));

  base = input.archived
    ? base.where((eb) => eb.or([eb('c.archived', '=', 1), eb('p.archived', '=', 1)]))
    : // A client whose only properties are archived still shows, without them, through the outer join's null row.
      base.where('c.archived', '=', 0).where((eb) => eb.or([eb('p.archived', 'is', null), eb('p.archived', '=', 0)]));
  if (input.clientId) base = base.where('c.id', '=', input.clientId);
  if (input.routeId) base = base.where('p.routeId', '=', input.routeId);
  if (among !== null) base = base.where('p.id', 'in', engine.listOf(among));
  if (input.seasonState === 'winterized') base = base.where('s.winterizedOn', 'is not', null);
  else if (input.seasonState === 'running')
    base = base.where('s.startedUpOn', 'is not', null).where('s.winterizedOn', 'is', null);
  else if (input.seasonState !== null) {
    base = base.where('p.id', 'is not', null).where('s.startedUpOn', 'is', null).where('s.winterizedOn', 'is', null);
    base =
      input.seasonState === 'not-serviced'
        ? base.where('p.servicesStartUp', '=', 0).where('p.servicesWinterization', '=', 0)
        : base.where((eb) => eb.or([eb('p.servicesStartUp', '=', 1), eb('p.servicesWinterization', '=', 1)]));
  }
  const folded = fold(input.search);
  const haystack = sql<string>`${sql.ref('c.searchText')} || ' ' || coalesce(${sql.ref('p.searchText')}, '')`;
  let nearness: ReturnType<typeof sql> | null = null;
  if (folded !== '') {
    const words = folded
      .split(' ')
      .map((word) => sql<boolean>`${haystack} like ${`%${escapeLike(word)}%`} escape '\\'`);
    const digits = phoneDigits(folded);
    base = base.where((eb) => {
      const allWords = eb.and(words);
      return digits === null
        ? allWords
        : eb.or([allWords, sql<boolean>`${sql.ref('c.searchText')} like ${`%${digits}%`}`]);
    });
  }

  // Two letters are in the middle of half the book's names; whose name begins with them stands first.
  if (folded !== '' && input.sort === 'name' && !input.descending) {
    const begins = (text: ReturnType<typeof sql>) =>
      sql.join(
        folded.split(' ').map((word) => sql`' ' || ${text} like ${`% ${escapeLike(word)}%`} escape '\\'`),
        sql` and `,
      );
    const name = sql.ref('c.sortName');
    nearness = sql`case when ${name} like ${`${escapeLike(folded)}%`} escape '\\' then 0
      when ${begins(name)} then 1 when ${begins(haystack)} then 2 else 3 end`;
  }

  const direction = input.descending ? 'desc' : 'asc';
  const nextVisit = sql<string | null>`(select min(v.date) from visit v
    where ${sql.ref('v.propertyId')} = p.id and v.state = 'planned' and v.date >= ${onDate})`;
  let ordered = base
    .leftJoin('route as r', 'r.id', 'p.routeId')
    .select([
      'c.id as clientId',
      'c.name as clientName',
      'c.phone',
      'p.id as propertyId',
      'p.label',
      'p.street',
      'p.city',
      'p.routeId',
      'r.name as routeName',
      'c.archived as clientArchived',
      'p.archived as propertyArchived',
      's.year as seasonYear',
      's.startedUpOn',
      's.winterizedOn',
      'p.servicesStartUp',
      'p.servicesWinterization',
      nextVisit.as('nextVisitDate'),
    ]);
  if (input.sort === 'street') ordered = ordered.orderBy(sql`lower(p.street)`, direction);
  else if (input.sort === 'route') ordered = ordered.orderBy(sql`r.name is null`, 'asc').orderBy('r.name', direction);
  else if (input.sort === 'season')
    ordered = ordered.orderBy(
      sql`case when ${sql.ref('s.winterizedOn')} is not null then 2 when ${sql.ref('s.startedUpOn')} is not null then 1 else 0 end`,
      direction,
    );
  else if (input.sort === 'next-visit')
    ordered = ordered.orderBy(sql`${sql.ref('nextVisitDate')} is null`, 'asc').orderBy('nextVisitDate', direction);
  if (nearness !== null) ordered = ordered.orderBy(nearness);
  ordered = ordered
    .orderBy('c.sortName', input.sort === 'name' ? direction : 'asc')
    .orderBy('c.id')
    .orderBy('p.street')
    .orderBy('p.id');

  const rows = (await ordered.limit(input.limit).offset(input.offset).execute()) as unknown as ListRow[];
  const total =
    rows.length < input.limit && (rows.length > 0 || input.offset === 0)
      ? input.offset + rows.length
      : Number((await base.select(sql<number>`count(*)`.as('n')).executeTakeFirstOrThrow()).n);
  return { rows, total };
}

/** The digits to look for where a telephone number was typed, in whatever shape: +1 (801) 555-0104, 801.555.0104 x2; else null. */
function phoneDigits(typed: string): string | null {
  const number = typed.replace(/\s*(?:x|ext\.?)\s*\d*$/, '');
  if (!/^[\d\s().+\-/]+$/.test(number)) return null;
  const digits = digitsOf(number);
  const withoutCountry =
    number.startsWith('+1') || (digits.length === 11 && digits.startsWith('1')) ? digits.slice(1) : digits;
  return withoutCountry.length >= 3 ? withoutCountry : null;
}

function escapeLike(word: string): string {
  return word.replace(/[\\%_]/g, (sign) => `\\${sign}`);
}

export async function readClient(db: Db, clientId: string): Promise<{ client: Client; version: number }> {
  const row = await db.selectFrom('client').selectAll().where('id', '=', clientId).executeTakeFirst();
  if (!row) throw new BookError('not-found', fact('errors.noClient'), 'clientId');
  const version = row.version;
  return { client: toEntity<Client>('client', row), version };
}

/** Adds or saves; refuses to save over a newer version than the caller has seen. */
export async function saveClient(db: Db, client: Client, version: number | undefined): Promise<number> {
  const present = await db.selectFrom('client').select('version').where('id', '=', client.id).executeTakeFirst();
  const next = nextVersion(present?.version, version, 'client');
  const row: any = {
    ...toRow('client', client),
    version: next,
    searchText: clientSearchText(client),
    sortName: sortName(client.name),
  };
  if (present) await db.updateTable('client').set(row).where('id', '=', client.id).execute();
  else await db.insertInto('client').values(row).execute();
  return next;
}

export async function propertiesOfClient(
  db: Db,
  clientId: string,
): Promise<{ id: string; street: string; city: string; label: string; archived: boolean }[]> {
  const rows = await db
    .selectFrom('property')
    .select(['id', 'street', 'city', 'label', 'archived'])
    .where('clientId', '=', clientId)
    .orderBy('archived')
    .orderBy('street')
    .execute();
  return rows.map((row) => ({ ...row, archived: row.archived === 1 }));
}

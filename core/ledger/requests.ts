import type { Handler } from '../context.ts';
import { listEntries } from './queries.ts';

const ledgerList: Handler<'ledger.list'> = ({ db }, input) => listEntries(db, input);

export const ledgerHandlers = {
  'ledger.list': ledgerList,
};

import { bookHandlers, bookReads } from './book/requests.ts';
import { clientHandlers } from './clients/requests.ts';
import { companyHandlers } from './company/requests.ts';
import { ledgerHandlers } from './ledger/requests.ts';
import { programHandlers, programJobs } from './programs/requests.ts';
import { visitHandlers } from './visits/requests.ts';

// Who answers which request. The two lists together answer every name of the contract; a test holds them to it.

/** Reads and writes, on the desk's own connections. */
export const handlers = {
  ...bookReads,
  ...clientHandlers,
  ...companyHandlers,
  ...ledgerHandlers,
  ...programHandlers,
  ...visitHandlers,
};

/** Jobs, in a worker of their own. */
export const jobHandlers = { ...bookHandlers, ...programJobs };

import { agronomyHandlers } from '../agronomy/requests.ts';
import { bookHandlers, bookJobs } from '../book/requests.ts';
import { clientsHandlers } from '../clients/requests.ts';
import { dueHandlers } from '../due/requests.ts';
import { importJobs } from '../import/requests.ts';
import { ledgerHandlers } from '../ledger/requests.ts';
import { peopleHandlers } from '../people/requests.ts';
import { programJobs, programsHandlers } from '../programs/requests.ts';
import { propertiesHandlers } from '../properties/requests.ts';
import { recordingHandlers } from '../recording/requests.ts';
import { settingsHandlers } from '../settings/requests.ts';
import { visitsHandlers } from '../visits/requests.ts';
import { weatherHandlers } from '../weather/requests.ts';

// Who answers which request. The two lists together answer every name of the contract; a test holds them to it.

/** Reads and writes, on the desk's own connections. */
export const handlers = {
  ...agronomyHandlers,
  ...bookHandlers,
  ...clientsHandlers,
  ...dueHandlers,
  ...ledgerHandlers,
  ...peopleHandlers,
  ...programsHandlers,
  ...propertiesHandlers,
  ...recordingHandlers,
  ...settingsHandlers,
  ...visitsHandlers,
  ...weatherHandlers,
};

/** Jobs, in a worker of their own. */
export const jobHandlers = { ...bookJobs, ...importJobs, ...programJobs };

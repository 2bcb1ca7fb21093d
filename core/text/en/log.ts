import type { Room } from '../room.ts';
import type { ZoneSaid } from '../words.ts';

/** Findings and what closed them, runs by hand, visits without work. */
export const log = {
  'log.kinds.manual-run': 'Manual runs',
  'log.kinds.finding': 'Findings',
  'log.kinds.decision': 'Decisions',
  'log.kinds.not-done': 'Not done',
  'log.do.manual-run': 'Log manual run',
  'log.do.finding': 'Log finding',
  'log.do.decision': 'Log decision',
  'log.do.not-done': 'Could not work',
  'log.urgency.at-once': 'At once',
  'log.urgency.soon': 'Soon',
  'log.urgency.when-convenient': 'When convenient',
  'log.by.client': 'The client',
  'log.by.office': 'The office',
  'log.by.technician': 'The technician',
  'log.why.no-access': 'Could not get in',
  'log.why.client-away': 'Client away',
  'log.why.declined': 'Client declined',
  'log.why.weather': 'Weather',
  'log.why.other': 'Another reason',
  'log.place': 'Where',
  'log.placeHint': 'For example: by the meter box, north side',
  'log.what': 'What was found',
  'log.urgency': 'How urgent',
  'log.atOnceCautionTitle': 'what to do first',
  'log.atOnceCaution':
    'If somebody could be hurt (ice on a walk, bare wiring, a valve box without its lid), keep people away and shut the water or power off at its own shutoff before you go on. Wiring above extra-low voltage belongs to a licensed electrician.',
  'log.decided': 'What was decided',
  'log.decidedBy': 'Who decided',
  'log.closes': 'Closes the finding',
  'log.closesNone': 'None',
  'log.closesAnother': 'Another finding, closed or void',
  'log.runMinutes': 'Ran for',
  'log.whyRun': 'Why it was run',
  'log.whyNotDone': 'Why not',
  'log.staysToBook': 'The visit is not closed: it stays to be booked again.',
  'log.staysUnless': (_words, given: { work: 'start-up' | 'winterization' }) =>
    `The visit is not closed: it stays to be booked again, unless its ${given.work} is logged with this.`,
  'log.closedBySeason': (_words, given: { work: 'start-up' | 'winterization' }) =>
    `The visit is closed all the same: the ${given.work} it was booked for is logged with this.`,
  'log.wasDone': 'The visit is done already, and this does not open it again.',
  'log.noVisit': 'No visit is named, so none stays to be booked again.',
  'log.openFindings': 'Open findings',
  'log.closeIt': 'Close it',
  'log.closeThis': (_words, given: { finding: string }) => `Close it: ${given.finding}`,
  'log.isOpen': 'Open',
  'log.closedBy': (words, given: { what: string; date: string }) => `Closed ${words.date(given.date)}: ${given.what}`,
  'log.closed': (words, given: { what: string; date: string }) =>
    `Closes the finding of ${words.date(given.date)}: ${given.what}`,
  'log.sayZone': 'Pick the zone that was run.',
  'log.sayMinutes': 'Say how long it ran, 0.5 to 720 minutes.',
  'log.sayWhere': 'Say where it is, or pick the zone.',
  'log.sayWhat': 'Say what was found.',
  'log.sayDecided': 'Say what was decided.',
  'log.sayWhyNot': 'Say why the work could not be done.',
  'log.told.manualRun': (words, given: { runMinutes: number; why: string; zone: ZoneSaid | null }) =>
    `Run by hand: ${[words.zone(given.zone), words.minutes(given.runMinutes), given.why].filter((part) => part !== '').join(', ')}`,
  'log.told.finding': (words, given: { what: string; place: string; urgency: string; zone: ZoneSaid | null }) => {
    const soon = {
      'at-once': 'to be seen to at once',
      soon: 'to be seen to soon',
      'when-convenient': 'when convenient',
    }[given.urgency];
    return `Found: ${[given.what, words.zone(given.zone), given.place, soon].filter((part) => part !== undefined && part !== '').join(', ')}`;
  },
  'log.told.decision': (_words, given: { what: string; decidedBy: string }) => {
    const who = { client: 'the client', office: 'the office', technician: 'the technician' }[given.decidedBy];
    return `Decided by ${who ?? given.decidedBy}: ${given.what}`;
  },
  'log.told.notDone': (_words, given: { why: string }) => {
    const why = {
      'no-access': 'could not get in',
      'client-away': 'the client was away',
      declined: 'the client declined',
      weather: 'the weather',
      other: 'another reason',
    }[given.why];
    return `Not done: ${why ?? given.why}`;
  },
  'log.findingNotHere': 'The finding this entry names is not at this property.',
  'log.findingIsVoid':
    'The finding this entry names was declared not to have happened. Leave the link out, or correct the finding first.',
  'log.dayIsFull': (words, given: { most: number }) =>
    `This day holds ${words.count(given.most)} visits already, which is as many as one day can hold. Choose another day or technician.`,
} satisfies Room;

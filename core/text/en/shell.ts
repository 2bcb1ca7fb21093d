import type { Room } from '../room.ts';

export const shell = {
  'shell.office': 'Office',
  'shell.field': 'Field',
  'shell.review': 'Review',
  'shell.company': 'Company',
  'shell.skip': 'Skip to the page',
  'shell.opening': 'Opening…',
  'shell.clients': 'Clients',
  'shell.today': 'Today',
  'shell.calendar': 'Calendar',
  'shell.import': 'Import',
  'shell.seasonAndWork': 'Season and work',
  'shell.programs': 'Programs',
  'shell.desks': 'Desks',
  'shell.pagesOfDesk': 'Pages of this desk',
  'shell.theOffice': 'the office',
  'shell.themeAuto': 'As this machine',
  'shell.themeLight': 'Light',
  'shell.themeDark': 'Dark',
  'shell.stopped': "This screen stopped because of a fault of Valvebook's own. Nothing in the book was changed.",
  'shell.openAgain': 'Open it again',
  'shell.brand': (_words, given: { company: string }) => `Valvebook, ${given.company}`,
  'shell.title': (_words, given: { page: string }) => `${given.page} · Valvebook`,
  'shell.themeNow': (_words, given: { theme: string }) => `Light or dark, now: ${given.theme}`,
  'session.tabRefused': 'This tab was not let in. Load it again to ask once more.',
  'session.otherTab': 'Valvebook is open in another tab of this browser. Go to that tab and choose “Let it in”.',
  'session.tabAsks': 'Another tab of this browser asks to see the book. Let it in only if you have just opened it.',
  'session.letIn': 'Let it in',
  'session.keepOut': 'Keep it out',
  'session.closedWhy':
    'Work typed in the field and not saved is kept on this device. If it was not you, press Enter where Valvebook runs and open the new address.',
  'session.notYet': 'This window has not been let in yet.',
  'session.noHost': 'Valvebook does not answer at this address. Check that it is still running where it was started.',
  'session.stranger':
    'Another program answers at this address in place of Valvebook, so nothing was sent to it. Close this window, end that program, start Valvebook again and use its new address.',
  'session.workerFound':
    'Another program had left something of its own in this browser at this address. It has been removed, and the key was not used. Press Enter where Valvebook runs to get a new address, or start it again.',
  'session.noAnswer':
    'Valvebook does not answer, so it is not certain whether the book has this. Check that it is still running, and look whether the change is there before you make it again.',
  'session.cancelled': 'Cancelled. Nothing more was done.',
  'session.notLetIn':
    'This browser was not let in. Press Enter where Valvebook runs to get a new address, or start it again.',
  'session.used':
    'This address has been used already, so it opens nothing. To be safe, a window it had opened is closed too. Press Enter where Valvebook runs to get a new address, or start it again.',
  'session.late':
    'This address is older than two minutes, so it opens nothing any more. Press Enter where Valvebook runs to get a new address, or start it again.',
  'session.replaced': 'Valvebook was opened in another window; this one has been closed to be safe.',
  'session.usedTwice':
    'The address that opened this window was used a second time, so the window has been closed to be safe.',
  'shell.languageAndUnits': 'Language and units… (Español)',
  'shell.asCompany': 'As the company',
  'shell.language.en': 'English',
  'shell.language.es': 'Español',
  'shell.language': 'Language',
  'shell.units': 'Units',
} satisfies Room;

import type { Room } from '../room.ts';

export const review = {
  'review.seasonAndWork': 'Season and work',
  'review.counting': 'Counting…',
  'review.nothingToCount': 'Nothing to count yet',
  'review.importClients': 'Import a client list',
  'review.nothingToCountWhy':
    'Once there are properties in the book, this page shows how far the season is, what was done, and by whom. It counts the ledger, so it fills by itself as technicians log their work.',
  'review.year': 'Year',
  'review.lead':
    'Everything here is counted from the ledger and the calendar; nothing is estimated. What programs use against what plants need stands under Programs, as an estimate.',
  'review.howFar': 'How far the season is',
  'review.startUps': 'Start-ups',
  'review.winterizations': 'Winterizations',
  'review.whatWasDone': 'What was done',
  'review.noWorkWhy':
    'Work shows here as soon as a technician presses “Done here” in the Field, or past work is imported.',
  'review.visits': 'Visits',
  'review.noVisitsWhy':
    "Visits booked in the Office's calendar, and those technicians log on site, are counted here by month.",
  'review.whoDidIt': 'Who did it',
  'review.water': 'Water',
  'review.waterNote': 'its figures come later',
  'review.waterLead':
    'What each landscape used against what it needed will stand here once meters, weather and programs are brought together. What can be seen today is how far every program is from what plants, soil and weather ask for:',
  'review.openFurthest': 'Open programs furthest from need',
  'review.notMarkedStartUp':
    "No property is marked as one the company starts up. Tick it on a property's page in the Office, and it is counted here.",
  'review.notMarkedWinterization':
    "No property is marked as one the company winterizes. Tick it on a property's page in the Office, and it is counted here.",
  'review.done': 'Done',
  'review.booked': 'Booked',
  'review.notDone': 'Not done',
  'review.notBooked': 'Not booked',
  'review.noWeek': 'No week has seen one yet; the curve starts with the first.',
  'review.weekFrom': 'Week from',
  'review.inTheWeek': 'In the week',
  'review.soFar': 'So far',
  'review.kind': 'Kind',
  'review.byKindCaption': 'Most frequent first. Each drawing has its own height; its tallest month is written out.',
  'review.month': 'Month',
  'review.planned': 'Planned',
  'review.cancelled': 'Cancelled',
  'review.plannedStriped': 'Planned (striped)',
  'review.cancelledDotted': 'Cancelled (dotted)',
  'review.doneVisits': 'Done',
  'review.byTechnicianCaption': 'Counts, not quality: a repair and a note weigh the same here.',
  'review.technician': 'Technician',
  'review.visitsDone': 'Visits done',
  'review.ledgerEntries': 'Ledger entries',
  'review.ledgerEntriesStriped': 'Ledger entries (striped)',
  'review.noneLeftOut': 'None was left out.',
  'review.nothingLeft': 'Nothing is left to do.',
  'review.noCorrection': 'No entry had to be corrected or taken back.',
  'review.moreThanHalf':
    'More than one for every two pieces of work: worth a look at what goes wrong when logging. Nothing is ever erased; each correction stands beside what it corrects.',
  'review.programsTitle': 'Programs furthest from need',
  'review.programsLead':
    'Every program is set beside what its plants need in a month, given soil, weather and the watering rule. “Now” is what is set today, at the seasonal percentage that month had last. Estimates all: they rest on what the book knows of each zone.',
  'review.route': 'Route',
  'review.allRoutes': 'All routes',
  'review.allRoutesLower': 'all routes',
  'review.aRoute': 'a route',
  'review.reviewAll': 'Review all programs',
  'review.reviewThese': 'Review these',
  'review.reviewAgain': 'Review again',
  'review.addStation': 'Add a weather station',
  'review.noProgramYet': 'No program to review yet',
  'review.noProgramYetWhy':
    'Once properties have zones and programs, this page ranks them by how far they are from what their plants need.',
  'review.nothingReviewed': 'Nothing reviewed yet',
  'review.nothingReviewedWhy':
    'Press “Review all programs”. It takes a moment for each hundred properties; you can go on working elsewhere, and the list will be here when you come back.',
  'review.isOld':
    'Programs, zones, rules or weather have changed since this was worked out. Review again to see the newest.',
  'review.noneReviewable': 'No program could be reviewed',
  'review.importZones': 'Import zones and programs',
  'review.aboveWhy': 'Above stands why, property by property.',
  'review.noZonesYet': 'No property here has zones with a program yet.',
  'review.noGallons': 'No property has the flow of every zone, so gallons cannot be added up.',
  'review.estimate': 'estimate',
  'review.aboutTheSame': 'about the same',
  'review.listLabel': 'Programs, furthest from need first',
  'review.clientOrStreet': 'Client or street',
  'review.breakingRule': 'Breaking a rule',
  'review.tooMuchWater': 'Watering too much',
  'review.rankSign': '#',
  'review.clientStreet': 'Client, street',
  'review.offBy': 'Off by, share of need',
  'review.firstOfAll': 'First of all',
  'review.noneFits': 'No property fits. Empty the search or untick a filter.',
  'review.tooMuch': 'too much',
  'review.tooLittle': 'too little',
  'review.rank': 'Rank ',
  'review.now': 'now ',
  'review.advised': 'advised ',
  'review.notEveryFlow': 'Not every flow is known here',
  'review.run': 'run',
  'review.asAdvised': 'as advised',
  'review.kind.battery-swap': 'Battery swaps',
  'review.kind.sensor-check': 'Sensor checks',
  'review.kind.run-time-change': 'Run-time changes',
  'review.kind.start-up': 'Start-ups',
  'review.kind.winterization': 'Winterizations',
  'review.kind.repair': 'Repairs',
  'review.kind.part-used': 'Parts used',
  'review.kind.meter-read': 'Meter readings',
  'review.kind.backflow-test': 'Backflow tests',
  'review.kind.walk-through': 'Walk-throughs',
  'review.kind.zone-audit': 'Catch-can audits',
  'review.kind.photo': 'Photos',
  'review.kind.note': 'Notes',
  'review.seasonAndWorkOf': (_words, given: { year: number }) => `Season and work, ${given.year}`,
  'review.yearBefore': (_words, given: { year: number }) => `Year before, ${given.year}`,
  'review.yearAfter': (_words, given: { year: number }) => `Year after, ${given.year}`,
  'review.inTheBook': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# property in the book', other: '# properties in the book' }),
  'review.inTheBookPast': (words, given: { count: number }) =>
    `${words.plural(given.count, { one: '# property', other: '# properties' })} in the book; counted over those the company serves today`,
  'review.noWorkIn': (_words, given: { year: number }) => `No work is logged in ${given.year}`,
  'review.pieces': (words, given: { count: number }) =>
    words.plural(given.count, { one: 'piece of work', other: 'pieces of work' }),
  'review.loggedIn': (_words, given: { year: number }) =>
    `logged in ${given.year}, each counted once as it stands after corrections.`,
  'review.corrections': (words, given: { count: number }) =>
    words.plural(given.count, { one: 'correction', other: 'corrections' }),
  'review.noVisitsIn': (_words, given: { year: number }) => `No visits in ${given.year}`,
  'review.visitsDoneOf': (words, given: { count: number }) =>
    words.plural(given.count, { one: 'visit done', other: 'visits done' }),
  'review.of': (words, given: { count: number }) => `of ${words.count(given.count)}`,
  'review.weekByWeek': (_words, given: { title: string }) => `${given.title}, week by week`,
  'review.countedUp': (_words, given: { title: string }) => `${given.title}, counted up week by week`,
  'review.curveRead': (
    words,
    given: { done: number; serviced: number; what: 'start-up' | 'winterization'; by: string },
  ) =>
    `A rising curve: ${words.count(given.done)} of ${words.count(given.serviced)} ${given.what === 'start-up' ? 'started up' : 'winterized'} by ${words.date(given.by)}.`,
  'review.before': (words, given: { date: string }) => `Before ${words.date(given.date)}`,
  'review.dashedStartUp': (words, given: { count: number }) =>
    words.plural(given.count, {
      one: 'Dashed line: the one property the company starts up.',
      other: 'Dashed line: all # properties the company starts up.',
    }),
  'review.dashedWinterization': (words, given: { count: number }) =>
    words.plural(given.count, {
      one: 'Dashed line: the one property the company winterizes.',
      other: 'Dashed line: all # properties the company winterizes.',
    }),
  'review.byKind': (_words, given: { year: number }) => `Work by kind and month, ${given.year}`,
  'review.kindByMonth': (_words, given: { kind: string }) => `${given.kind} by month`,
  'review.kindRead': (words, given: { total: number; year: number; month: string; peak: number }) =>
    `${words.count(given.total)} in ${given.year}, most in ${given.month} with ${words.count(given.peak)}.`,
  'review.mostIn': (words, given: { month: string; peak: number }) =>
    `Most in ${given.month}: ${words.count(given.peak)}`,
  'review.visitsByMonth': (_words, given: { year: number }) => `Visits by month, ${given.year}`,
  'review.visitsRead': (words, given: { done: number; planned: number; cancelled: number }) =>
    `${words.count(given.done)} done, ${words.count(given.planned)} planned, ${words.count(given.cancelled)} cancelled.`,
  'review.byTechnician': (_words, given: { year: number }) => `Work by technician, ${given.year}`,
  'review.technicianRead': (words, given: { name: string; visits: number; entries: number }) =>
    `${given.name}: ${words.plural(given.visits, { one: '# visit', other: '# visits' })}, ${words.plural(given.entries, { one: '# entry', other: '# entries' })}`,
  'review.noneYet': (_words, given: { what: 'start-up' | 'winterization' }) =>
    `None is ${given.what === 'start-up' ? 'started up' : 'winterized'} yet.`,
  'review.noneWas': (_words, given: { what: 'start-up' | 'winterization' }) =>
    `None was ${given.what === 'start-up' ? 'started up' : 'winterized'}.`,
  'review.shareIs': (_words, given: { share: number; what: 'start-up' | 'winterization' }) =>
    `${given.share} % are ${given.what === 'start-up' ? 'started up' : 'winterized'}.`,
  'review.shareWas': (_words, given: { share: number; what: 'start-up' | 'winterization' }) =>
    `${given.share} % were ${given.what === 'start-up' ? 'started up' : 'winterized'}.`,
  'review.neverMarked': (words, given: { count: number; what: 'start-up' | 'winterization' }) =>
    `${words.plural(given.count, { one: '# property was', other: '# properties were' })} never marked as ${given.what === 'start-up' ? 'started up' : 'winterized'} that season.`,
  'review.openNotBooked': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# property is not booked yet.', other: '# properties are not booked yet.' }),
  'review.bookedAllElse': (words, given: { count: number }) =>
    `${words.plural(given.count, { one: '# more is', other: '# more are' })} booked; every other one is booked.`,
  'review.bookedAndOpen': (words, given: { booked: number; open: number }) =>
    `${words.plural(given.booked, { one: '# more is booked', other: '# more are booked' })}; ${words.plural(given.open, { one: '# property is not booked yet.', other: '# properties are not booked yet.' })}`,
  'review.oneForEvery': (words, given: { pieces: number }) =>
    `About one for every ${words.plural(given.pieces, { one: 'piece', other: '# pieces' })} of work. Nothing is ever erased; each correction stands beside what it corrects.`,
  'review.visitSentence': (words, given: { planned: number; cancelled: number }) =>
    `${given.planned === 0 ? 'None is still planned' : words.plural(given.planned, { one: '# is planned or not yet closed', other: '# are planned or not yet closed' })}; ${given.cancelled === 0 ? 'none was cancelled' : words.plural(given.cancelled, { one: '# was cancelled', other: '# were cancelled' })}.`,
  'review.reviewingFor': (words, given: { month: number }) => `Reviewing for ${words.month(given.month)}`,
  'review.stillFor': (words, given: { month: number; route: string }) =>
    `This is still the list for ${words.month(given.month)}, ${given.route}.`,
  'review.reviewedFor': (words, given: { count: number; month: number; route: string; left: number }) =>
    `${words.plural(given.count, { one: 'property', other: 'properties' })} reviewed for ${words.month(given.month)}, ${given.route}${given.left === 0 ? '' : `; ${words.plural(given.left, { one: '# property', other: '# properties' })} could not be`}.`,
  'review.aWeekNowAdvised': (_words, given: { unit: string }) => `${given.unit} a week, now and as advised`,
  'review.lessBy': (words, given: { gallons: number; share: number }) =>
    `${words.estimate({ quantity: 'volume', value: given.gallons })} less (${given.share} %)`,
  'review.moreBy': (words, given: { gallons: number; share: number }) =>
    `${words.estimate({ quantity: 'volume', value: given.gallons })} more (${given.share} %)`,
  'review.overThose': (words, given: { change: string; count: number }) =>
    `: ${given.change}, over the ${words.plural(given.count, { one: '# property', other: '# properties' })} where every flow is known.`,
  'review.notReviewedWhy': (words, given: { count: number }) =>
    `${words.plural(given.count, { one: '# property', other: '# properties' })} not reviewed, and why`,
  'review.firstShown': (words, given: { count: number }) => `The first ${words.count(given.count)} are shown.`,
  'review.properties': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# property', other: '# properties' }),
  'review.someOf': (words, given: { shown: number; count: number }) =>
    `${words.count(given.shown)} of ${words.plural(given.count, { one: '# property', other: '# properties' })}`,
  'review.perWeekNow': (_words, given: { unit: string }) => `${given.unit}/wk now`,
  'review.perWeekAdvised': (_words, given: { unit: string }) => `${given.unit}/wk advised`,
  'review.perWeek': (_words, given: { unit: string }) => ` ${given.unit}/wk`,
  'review.streetZones': (words, given: { street: string; zones: number }) =>
    `${given.street} · ${words.plural(given.zones, { one: '# zone', other: '# zones' })}`,
  'review.breaches': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# breach of the rule', other: '# breaches of the rule' }),
  'review.restsOn': (words, given: { count: number }) =>
    `rests on ${words.plural(given.count, { one: '# guess', other: '# guesses' })}`,
} satisfies Room;

import type { Room } from '../room.ts';

export const propertyGround = {
  'property.zones.pr.catch-can': 'by cans',
  'property.zones.pr.flow-area': 'by flow',
  'property.zones.pr.spacing': 'by spacing',
  'property.zones.pr.drip': 'by drip',
  'property.zones.pr.table': 'by table',
  'property.zones.zone': 'Zone',
  'property.zones.name': 'Name',
  'property.zones.plants': 'Plants',
  'property.zones.heads': 'Heads or drip',
  'property.zones.flow': 'Flow',
  'property.zones.area': 'Area',
  'property.zones.rate': 'Rate',
  'property.zones.soil': 'Soil',
  'property.zones.slope': 'Slope',
  'property.zones.sun': 'Sun',
  'property.zones.betweenHouses': 'Between houses',
  'property.zones.allOfZone': 'All of a zone',
  'property.zones.workedOut': 'Worked out, not measured',
  'property.zones.edit': 'Edit',
  'property.zones.notPossible': 'that is not possible',
  'property.zones.title': 'Zones',
  'property.zones.noController': 'No controller yet',
  'property.zones.noControllerWhy':
    'A controller holds the zones: add it, then its zones, and the page can draw when they run and say whether that is too much.',
  'property.zones.addController': 'Add controller',
  'property.zones.placeNotKnown': 'place not known',
  'property.zones.editController': 'Edit controller',
  'property.zones.add': 'Add zone',
  'property.zones.noneYet': 'No zones yet. Add the first one, or {import}.',
  'property.zones.importThem': 'import them from a CSV',
  'property.zones.notKnownTitle': 'Not known',
  'property.zones.yes': 'yes',
  'property.zones.no': 'no',
  'property.sensors.title': 'Sensors',
  'property.sensors.add': 'Add sensor',
  'property.sensors.logCheck': 'Log sensor check',
  'property.sensors.none': 'No rain or freeze sensor',
  'property.sensors.noneWhy':
    'On a freeze night a property without a working sensor is one to call. If there is one on the eaves, add it with its battery date.',
  'property.sensors.wiredNoBattery': 'Wired: no battery.',
  'property.sensors.typeNotKnown': 'battery type not known',
  'property.sensors.dateNotKnown': 'Battery date not known',
  'property.sensors.neverChecked': 'Never checked',
  'property.sensors.signal.strong': 'signal strong',
  'property.sensors.signal.weak': 'signal weak',
  'property.sensors.signal.none': 'signal none',
  'property.sensors.signal.not-tested': 'signal not tested',
  'property.zones.editAllOf': (_words, given: { station: number; zone: string }) =>
    `Edit all of zone ${given.station}, ${given.zone}`,
  'property.zones.refused': (_words, given: { station: number; column: string; why: string }) =>
    `Zone ${given.station}, ${given.column}: ${given.why}.`,
  'property.zones.changed': (_words, given: { station: number; column: string; value: string }) =>
    `Zone ${given.station}, ${given.column.toLowerCase()}: ${given.value}`,
  'property.zones.count': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# zone', other: '# zones' }),
  'property.zones.stationsInUse': (words, given: { used: number; stations: number }) =>
    `${words.count(given.used)} of ${words.plural(given.stations, { one: '# station', other: '# stations' })} in use`,
  'property.zones.of': (_words, given: { controller: string }) => `Zones of ${given.controller}`,
  'property.zones.named': (_words, given: { station: number; zone: string }) => `zone ${given.station} ${given.zone}`,
  'property.zones.retired': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# retired zone', other: '# retired zones' }),
  'property.zones.takeBack': (_words, given: { station: number; zone: string }) =>
    `Take back into use: zone ${given.station} ${given.zone}`,
  'property.zones.inUseAgain': (_words, given: { station: number }) => `Zone ${given.station} is in use again`,
  'property.sensors.editNamed': (_words, given: { senses: string; location: string }) =>
    `Edit ${given.senses.toLowerCase()} sensor ${given.location}`,
  'property.sensors.dueSince': (words, given: { date: string }) => `due since ${words.date(given.date)}`,
  'property.sensors.dueAway': (_words, given: { away: string }) => `due ${given.away}`,
  'property.sensors.goodUntil': (words, given: { date: string }) => `good until about ${words.date(given.date)}`,
  'property.sensors.batteryLeft': (words, given: { percent: number }) =>
    `Battery: about ${words.count(given.percent)} % of its usual life left, by age`,
  'property.sensors.putIn': (words, given: { type: string; date: string; away: string }) =>
    `${given.type}, put in ${words.date(given.date)} (${given.away})`,
  'property.sensors.checkedOn': (words, given: { date: string; passed: boolean | null }) =>
    `${given.passed === null ? 'Checked' : given.passed ? 'Passed' : '▲ Failed'} ${words.date(given.date)}`,
  'property.sensors.cellsGood': (words, given: { good: number; cells: number }) =>
    `${words.count(given.good)} of ${words.plural(given.cells, { one: '# cell', other: '# cells' })} good`,
  'property.sensors.tripsAtRain': (words, given: { rainInches: number }) =>
    `trips at rain ${words.measure({ quantity: 'depth', value: given.rainInches })}`,
  'property.sensors.tripsAtFreeze': (words, given: { freezeF: number }) =>
    `trips at freeze ${words.measure({ quantity: 'temperature', value: given.freezeF })}`,
  'property.sensors.tripsAtBoth': (words, given: { rainInches: number; freezeF: number }) =>
    `trips at rain ${words.measure({ quantity: 'depth', value: given.rainInches })}, freeze ${words.measure({ quantity: 'temperature', value: given.freezeF })}`,
} satisfies Room;

import type { propertyGround as english } from '../en/property-ground.ts';
import type { SameAs } from '../room.ts';

export const propertyGround: SameAs<typeof english> = {
  'property.zones.pr.catch-can': 'por vasos',
  'property.zones.pr.flow-area': 'por caudal',
  'property.zones.pr.spacing': 'por separación',
  'property.zones.pr.drip': 'por goteo',
  'property.zones.pr.table': 'por tabla',
  'property.zones.zone': 'Zona',
  'property.zones.name': 'Nombre',
  'property.zones.plants': 'Plantas',
  'property.zones.heads': 'Aspersores o goteo',
  'property.zones.flow': 'Caudal',
  'property.zones.area': 'Área',
  'property.zones.rate': 'Lámina por hora',
  'property.zones.soil': 'Suelo',
  'property.zones.slope': 'Pendiente',
  'property.zones.sun': 'Sol',
  'property.zones.betweenHouses': 'Entre casas',
  'property.zones.allOfZone': 'Todo de una zona',
  'property.zones.workedOut': 'Calculado, no medido',
  'property.zones.edit': 'Editar',
  'property.zones.notPossible': 'eso no es posible',
  'property.zones.title': 'Zonas',
  'property.zones.noController': 'Aún no hay controlador',
  'property.zones.noControllerWhy':
    'Un controlador reúne las zonas: añádalo, y después sus zonas, y la página podrá dibujar cuándo riegan y decir si es demasiado.',
  'property.zones.addController': 'Agregar controlador',
  'property.zones.placeNotKnown': 'lugar desconocido',
  'property.zones.editController': 'Editar controlador',
  'property.zones.add': 'Agregar zona',
  'property.zones.noneYet': 'Aún no hay zonas. Añada la primera o {import}.',
  'property.zones.importThem': 'impórtelas de un CSV',
  'property.zones.notKnownTitle': 'No se sabe',
  'property.zones.yes': 'sí',
  'property.zones.no': 'no',
  'property.sensors.title': 'Sensores',
  'property.sensors.add': 'Agregar sensor',
  'property.sensors.logCheck': 'Anotar revisión',
  'property.sensors.none': 'Sin sensor de lluvia o helada',
  'property.sensors.noneWhy':
    'En una noche de helada, a una propiedad sin sensor que funcione hay que llamarla. Si hay uno en el alero, añádalo con la fecha de su batería.',
  'property.sensors.wiredNoBattery': 'Cableado: sin batería.',
  'property.sensors.typeNotKnown': 'tipo de batería desconocido',
  'property.sensors.dateNotKnown': 'Fecha de la batería desconocida',
  'property.sensors.neverChecked': 'Nunca revisado',
  'property.sensors.signal.strong': 'señal fuerte',
  'property.sensors.signal.weak': 'señal débil',
  'property.sensors.signal.none': 'sin señal',
  'property.sensors.signal.not-tested': 'señal sin probar',
  'property.zones.editAllOf': (_words, given) => `Editar todo de la zona ${given.station}, ${given.zone}`,
  'property.zones.refused': (_words, given) => `Zona ${given.station}, ${given.column}: ${given.why}.`,
  'property.zones.changed': (_words, given) => `Zona ${given.station}, ${given.column.toLowerCase()}: ${given.value}`,
  'property.zones.count': (words, given) => words.plural(given.count, { one: '# zona', other: '# zonas' }),
  'property.zones.stationsInUse': (words, given) =>
    `${words.count(given.used)} de ${words.plural(given.stations, { one: '# estación', other: '# estaciones' })} en uso`,
  'property.zones.of': (_words, given) => `Zonas de ${given.controller}`,
  'property.zones.named': (_words, given) => `zona ${given.station} ${given.zone}`,
  'property.zones.retired': (words, given) =>
    words.plural(given.count, { one: '# zona retirada', other: '# zonas retiradas' }),
  'property.zones.takeBack': (_words, given) => `Volver a usar: zona ${given.station} ${given.zone}`,
  'property.zones.inUseAgain': (_words, given) => `La zona ${given.station} vuelve a estar en uso`,
  'property.sensors.editNamed': (_words, given) =>
    `Editar el sensor de ${given.senses.toLowerCase()} ${given.location}`,
  'property.sensors.dueSince': (words, given) => `vencida desde el ${words.date(given.date)}`,
  'property.sensors.dueAway': (_words, given) => `vence ${given.away}`,
  'property.sensors.goodUntil': (words, given) => `buena hasta cerca del ${words.date(given.date)}`,
  'property.sensors.batteryLeft': (words, given) =>
    `Batería: le queda cerca del ${words.count(given.percent)} % de su vida habitual, según su edad`,
  'property.sensors.putIn': (words, given) => `${given.type}, puesta el ${words.date(given.date)} (${given.away})`,
  'property.sensors.checkedOn': (words, given) =>
    `${given.passed === null ? 'Revisado' : given.passed ? 'Pasó la prueba' : '▲ Falló'} el ${words.date(given.date)}`,
  'property.sensors.cellsGood': (words, given) =>
    `${words.count(given.good)} de ${words.plural(given.cells, { one: '# pila buena', other: '# pilas buenas' })}`,
  'property.sensors.tripsAtRain': (words, given) =>
    `se activa con lluvia de ${words.measure({ quantity: 'depth', value: given.rainInches })}`,
  'property.sensors.tripsAtFreeze': (words, given) =>
    `se activa con helada de ${words.measure({ quantity: 'temperature', value: given.freezeF })}`,
  'property.sensors.tripsAtBoth': (words, given) =>
    `se activa con lluvia de ${words.measure({ quantity: 'depth', value: given.rainInches })} o helada de ${words.measure({ quantity: 'temperature', value: given.freezeF })}`,
};

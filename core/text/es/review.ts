import type { review as english } from '../en/review.ts';
import type { SameAs } from '../room.ts';

export const review: SameAs<typeof english> = {
  'review.seasonAndWork': 'Temporada y trabajo',
  'review.counting': 'Contando…',
  'review.nothingToCount': 'Aún no hay nada que contar',
  'review.importClients': 'Importar una lista de clientes',
  'review.nothingToCountWhy':
    'Cuando haya propiedades en el libro, esta página muestra cómo va la temporada, qué se hizo y quién lo hizo. Cuenta el registro, así que se llena sola a medida que los técnicos anotan su trabajo.',
  'review.year': 'Año',
  'review.lead':
    'Todo aquí se cuenta del registro y del calendario; nada se estima. Lo que usan los programas frente a lo que necesitan las plantas está en Programas, como estimación.',
  'review.howFar': 'Cómo va la temporada',
  'review.startUps': 'Puestas en marcha',
  'review.winterizations': 'Preparaciones para el invierno',
  'review.whatWasDone': 'Qué se hizo',
  'review.noWorkWhy':
    'El trabajo aparece aquí en cuanto un técnico pulsa «Listo aquí» en Campo, o se importa trabajo pasado.',
  'review.visits': 'Visitas',
  'review.noVisitsWhy':
    'Las visitas reservadas en el calendario de la Oficina, y las que los técnicos anotan en el lugar, se cuentan aquí por mes.',
  'review.whoDidIt': 'Quién lo hizo',
  'review.water': 'Agua',
  'review.waterNote': 'sus cifras vendrán después',
  'review.waterLead':
    'Aquí estará lo que usó cada jardín frente a lo que necesitaba cuando se junten medidores, clima y programas. Lo que se puede ver hoy es cuánto se aparta cada programa de lo que piden plantas, suelo y clima:',
  'review.openFurthest': 'Abrir los programas más lejos de la necesidad',
  'review.notMarkedStartUp':
    'Ninguna propiedad está marcada para que la empresa la ponga en marcha. Márquelo en la página de una propiedad en la Oficina y se contará aquí.',
  'review.notMarkedWinterization':
    'Ninguna propiedad está marcada para que la empresa la prepare para el invierno. Márquelo en la página de una propiedad en la Oficina y se contará aquí.',
  'review.done': 'Hecho',
  'review.booked': 'Reservado',
  'review.notDone': 'Sin hacer',
  'review.notBooked': 'Sin reservar',
  'review.noWeek': 'Ninguna semana ha visto una todavía; la curva empieza con la primera.',
  'review.weekFrom': 'Semana desde',
  'review.inTheWeek': 'En la semana',
  'review.soFar': 'Hasta ahora',
  'review.kind': 'Tipo',
  'review.byKindCaption': 'El más frecuente primero. Cada dibujo tiene su propia altura; su mes más alto está escrito.',
  'review.month': 'Mes',
  'review.planned': 'Previstas',
  'review.cancelled': 'Canceladas',
  'review.plannedStriped': 'Previstas (a rayas)',
  'review.cancelledDotted': 'Canceladas (con puntos)',
  'review.doneVisits': 'Hechas',
  'review.byTechnicianCaption': 'Cantidad, no calidad: una reparación y una nota pesan lo mismo aquí.',
  'review.technician': 'Técnico',
  'review.visitsDone': 'Visitas hechas',
  'review.ledgerEntries': 'Entradas del registro',
  'review.ledgerEntriesStriped': 'Entradas del registro (a rayas)',
  'review.noneLeftOut': 'No faltó ninguna.',
  'review.nothingLeft': 'No queda nada por hacer.',
  'review.noCorrection': 'No hubo que corregir ni retirar ninguna entrada.',
  'review.moreThanHalf':
    'Más de una por cada dos trabajos: conviene ver qué falla al anotar. Nada se borra nunca; cada corrección está junto a lo que corrige.',
  'review.programsTitle': 'Programas más lejos de la necesidad',
  'review.programsLead':
    'Cada programa se compara con lo que sus plantas necesitan en un mes, según suelo, clima y la norma de riego. «Ahora» es lo que está puesto hoy, con el porcentaje estacional que ese mes tuvo la última vez. Todo son estimaciones: se basan en lo que el libro sabe de cada zona.',
  'review.route': 'Ruta',
  'review.allRoutes': 'Todas las rutas',
  'review.allRoutesLower': 'todas las rutas',
  'review.aRoute': 'una ruta',
  'review.reviewAll': 'Revisar todos los programas',
  'review.reviewThese': 'Revisar estos',
  'review.reviewAgain': 'Revisar otra vez',
  'review.addStation': 'Agregar una estación meteorológica',
  'review.noProgramYet': 'Aún no hay programas que revisar',
  'review.noProgramYetWhy':
    'Cuando las propiedades tengan zonas y programas, esta página las ordena según lo lejos que están de lo que necesitan sus plantas.',
  'review.nothingReviewed': 'Aún no se ha revisado nada',
  'review.nothingReviewedWhy':
    'Pulse «Revisar todos los programas». Tarda un momento por cada cien propiedades; puede seguir trabajando en otra parte y la lista estará aquí cuando vuelva.',
  'review.isOld':
    'Programas, zonas, normas o clima han cambiado desde que se calculó esto. Revise otra vez para ver lo más nuevo.',
  'review.noneReviewable': 'No se pudo revisar ningún programa',
  'review.importZones': 'Importar zonas y programas',
  'review.aboveWhy': 'Arriba está el porqué, propiedad por propiedad.',
  'review.noZonesYet': 'Ninguna propiedad aquí tiene todavía zonas con un programa.',
  'review.noGallons': 'Ninguna propiedad tiene el caudal de todas sus zonas, así que no se puede sumar el volumen.',
  'review.estimate': 'estimación',
  'review.aboutTheSame': 'más o menos igual',
  'review.listLabel': 'Programas, el más lejos de la necesidad primero',
  'review.clientOrStreet': 'Cliente o calle',
  'review.breakingRule': 'Incumple una norma',
  'review.tooMuchWater': 'Riega demasiado',
  'review.rankSign': 'N.º',
  'review.clientStreet': 'Cliente, calle',
  'review.offBy': 'Desvío, parte de la necesidad',
  'review.firstOfAll': 'Lo primero',
  'review.noneFits': 'Ninguna propiedad coincide. Vacíe la búsqueda o quite un filtro.',
  'review.tooMuch': 'de más',
  'review.tooLittle': 'de menos',
  'review.rank': 'Puesto ',
  'review.now': 'ahora ',
  'review.advised': 'aconsejado ',
  'review.notEveryFlow': 'Aquí no se conoce todo el caudal',
  'review.run': 'de riego',
  'review.asAdvised': 'como se aconseja',
  'review.kind.battery-swap': 'Cambios de batería',
  'review.kind.sensor-check': 'Revisiones de sensores',
  'review.kind.run-time-change': 'Cambios de tiempos',
  'review.kind.start-up': 'Puestas en marcha',
  'review.kind.winterization': 'Preparaciones para el invierno',
  'review.kind.repair': 'Reparaciones',
  'review.kind.part-used': 'Piezas usadas',
  'review.kind.meter-read': 'Lecturas del medidor',
  'review.kind.backflow-test': 'Pruebas antirreflujo',
  'review.kind.walk-through': 'Recorridos',
  'review.kind.zone-audit': 'Auditorías con vasos',
  'review.kind.photo': 'Fotos',
  'review.kind.note': 'Notas',
  'review.seasonAndWorkOf': (_words, given) => `Temporada y trabajo, ${given.year}`,
  'review.yearBefore': (_words, given) => `Año anterior, ${given.year}`,
  'review.yearAfter': (_words, given) => `Año siguiente, ${given.year}`,
  'review.inTheBook': (words, given) =>
    words.plural(given.count, { one: '# propiedad en el libro', other: '# propiedades en el libro' }),
  'review.inTheBookPast': (words, given) =>
    `${words.plural(given.count, { one: '# propiedad', other: '# propiedades' })} en el libro; se cuentan las que la empresa atiende hoy`,
  'review.noWorkIn': (_words, given) => `No hay trabajo anotado en ${given.year}`,
  'review.pieces': (words, given) => words.plural(given.count, { one: 'trabajo', other: 'trabajos' }),
  'review.loggedIn': (_words, given) =>
    `anotados en ${given.year}, cada uno contado una vez como queda tras las correcciones.`,
  'review.corrections': (words, given) => words.plural(given.count, { one: 'corrección', other: 'correcciones' }),
  'review.noVisitsIn': (_words, given) => `No hay visitas en ${given.year}`,
  'review.visitsDoneOf': (words, given) => words.plural(given.count, { one: 'visita hecha', other: 'visitas hechas' }),
  'review.of': (words, given) => `de ${words.count(given.count)}`,
  'review.weekByWeek': (_words, given) => `${given.title}, semana a semana`,
  'review.countedUp': (_words, given) => `${given.title}, sumadas semana a semana`,
  'review.curveRead': (words, given) =>
    `Una curva que sube: ${words.count(given.done)} de ${given.what === 'start-up' ? words.plural(given.serviced, { one: '# puesta en marcha', other: '# puestas en marcha' }) : words.plural(given.serviced, { one: '# preparada para el invierno', other: '# preparadas para el invierno' })} antes del ${words.date(given.by)}.`,
  'review.before': (words, given) => `Antes del ${words.date(given.date)}`,
  'review.dashedStartUp': (words, given) =>
    words.plural(given.count, {
      one: 'Línea discontinua: la única propiedad que la empresa pone en marcha.',
      other: 'Línea discontinua: las # propiedades que la empresa pone en marcha.',
    }),
  'review.dashedWinterization': (words, given) =>
    words.plural(given.count, {
      one: 'Línea discontinua: la única propiedad que la empresa prepara para el invierno.',
      other: 'Línea discontinua: las # propiedades que la empresa prepara para el invierno.',
    }),
  'review.byKind': (_words, given) => `Trabajo por tipo y mes, ${given.year}`,
  'review.kindByMonth': (_words, given) => `${given.kind} por mes`,
  'review.kindRead': (words, given) =>
    `${words.count(given.total)} en ${given.year}, la mayoría en ${given.month} con ${words.count(given.peak)}.`,
  'review.mostIn': (words, given) => `La mayoría en ${given.month}: ${words.count(given.peak)}`,
  'review.visitsByMonth': (_words, given) => `Visitas por mes, ${given.year}`,
  'review.visitsRead': (words, given) =>
    `${words.plural(given.done, { one: '# hecha', other: '# hechas' })}, ${words.plural(given.planned, { one: '# prevista', other: '# previstas' })}, ${words.plural(given.cancelled, { one: '# cancelada', other: '# canceladas' })}.`,
  'review.byTechnician': (_words, given) => `Trabajo por técnico, ${given.year}`,
  'review.technicianRead': (words, given) =>
    `${given.name}: ${words.plural(given.visits, { one: '# visita', other: '# visitas' })}, ${words.plural(given.entries, { one: '# entrada', other: '# entradas' })}`,
  'review.noneYet': (_words, given) =>
    `Ninguna está ${given.what === 'start-up' ? 'en marcha' : 'lista para el invierno'} todavía.`,
  'review.noneWas': (_words, given) =>
    `Ninguna se ${given.what === 'start-up' ? 'puso en marcha' : 'preparó para el invierno'}.`,
  'review.shareIs': (_words, given) =>
    `El ${given.share} % está ${given.what === 'start-up' ? 'en marcha' : 'listo para el invierno'}.`,
  'review.shareWas': (_words, given) =>
    `El ${given.share} % se ${given.what === 'start-up' ? 'puso en marcha' : 'preparó para el invierno'}.`,
  'review.neverMarked': (words, given) =>
    `${words.plural(given.count, { one: '# propiedad nunca quedó marcada', other: '# propiedades nunca quedaron marcadas' })} como ${given.what === 'start-up' ? 'puesta en marcha' : 'preparada para el invierno'} esa temporada.`,
  'review.openNotBooked': (words, given) =>
    words.plural(given.count, {
      one: '# propiedad aún no está reservada.',
      other: '# propiedades aún no están reservadas.',
    }),
  'review.bookedAllElse': (words, given) =>
    `${words.plural(given.count, { one: '# más está reservada', other: '# más están reservadas' })}; todas las demás están reservadas.`,
  'review.bookedAndOpen': (words, given) =>
    `${words.plural(given.booked, { one: '# más está reservada', other: '# más están reservadas' })}; ${words.plural(given.open, { one: '# propiedad aún no está reservada.', other: '# propiedades aún no están reservadas.' })}`,
  'review.oneForEvery': (words, given) =>
    `Más o menos una por cada ${words.plural(given.pieces, { one: 'trabajo', other: '# trabajos' })}. Nada se borra nunca; cada corrección está junto a lo que corrige.`,
  'review.visitSentence': (words, given) =>
    `${given.planned === 0 ? 'Ninguna sigue prevista' : words.plural(given.planned, { one: '# está prevista o sin cerrar', other: '# están previstas o sin cerrar' })}; ${given.cancelled === 0 ? 'ninguna se canceló' : words.plural(given.cancelled, { one: '# se canceló', other: '# se cancelaron' })}.`,
  'review.reviewingFor': (words, given) => `Revisando para ${words.month(given.month)}`,
  'review.stillFor': (words, given) => `Esta es todavía la lista de ${words.month(given.month)}, ${given.route}.`,
  'review.reviewedFor': (words, given) =>
    `${words.plural(given.count, { one: 'propiedad revisada', other: 'propiedades revisadas' })} para ${words.month(given.month)}, ${given.route}${given.left === 0 ? '' : `; ${words.plural(given.left, { one: '# propiedad no se pudo', other: '# propiedades no se pudieron' })}`}.`,
  'review.aWeekNowAdvised': (_words, given) => `${given.unit} por semana, ahora y como se aconseja`,
  'review.lessBy': (words, given) =>
    `${words.estimate({ quantity: 'volume', value: given.gallons })} menos (${given.share} %)`,
  'review.moreBy': (words, given) =>
    `${words.estimate({ quantity: 'volume', value: given.gallons })} más (${given.share} %)`,
  'review.overThose': (words, given) =>
    `: ${given.change}, en ${words.plural(given.count, { one: 'la # propiedad', other: 'las # propiedades' })} donde se conoce todo el caudal.`,
  'review.notReviewedWhy': (words, given) =>
    `${words.plural(given.count, { one: '# propiedad sin revisar', other: '# propiedades sin revisar' })}, y por qué`,
  'review.firstShown': (words, given) => `Se muestran las primeras ${words.count(given.count)}.`,
  'review.properties': (words, given) => words.plural(given.count, { one: '# propiedad', other: '# propiedades' }),
  'review.someOf': (words, given) =>
    `${words.count(given.shown)} de ${words.plural(given.count, { one: '# propiedad', other: '# propiedades' })}`,
  'review.perWeekNow': (_words, given) => `${given.unit}/sem. ahora`,
  'review.perWeekAdvised': (_words, given) => `${given.unit}/sem. aconsejado`,
  'review.perWeek': (_words, given) => ` ${given.unit}/sem.`,
  'review.streetZones': (words, given) =>
    `${given.street} · ${words.plural(given.zones, { one: '# zona', other: '# zonas' })}`,
  'review.breaches': (words, given) =>
    words.plural(given.count, { one: '# incumplimiento de la norma', other: '# incumplimientos de la norma' }),
  'review.restsOn': (words, given) =>
    `se basa en ${words.plural(given.count, { one: '# estimación', other: '# estimaciones' })}`,
};

import type { exported as english } from '../en/export.ts';
import type { SameAs } from '../room.ts';

export const exported: SameAs<typeof english> = {
  'export.title': (_words, given) => `${given.company}: todo lo que tiene el libro, escrito ${given.at}`,
  'export.csv':
    'Un archivo CSV por tabla: UTF-8 con marca de orden de bytes, coma, \\r\\n al final de cada línea, una línea de encabezado (RFC 4180).',
  'export.quotes':
    'Los textos van entre comillas, los números no. Nada entre dos comas = no se sabe; "" = un texto vacío.',
  'export.formulas':
    'Un texto que una hoja de cálculo podría tomar por fórmula (empieza con = + - @, también tras espacios o en ancho completo, o con un tabulador o salto de línea) lleva delante un apóstrofo; al importar se quita.',
  'export.ids':
    'Las filas se enlazan por sus id: property.clientId es el id de una fila de client.csv, y así las demás.',
  'export.figures': 'Las cifras están en las unidades que se nombran abajo, sean cuales sean las de las pantallas.',
  'export.sealProves':
    'Prueba si alguna de ellas se cambió después: Valvebook lo compara con el libro (Empresa, El libro, Revisar el libro), y DEVELOPERS.md dice cómo cualquiera puede calcularlo con estos archivos.',
  'export.seal': (words, given) =>
    `Sello del libro sobre ${words.plural(given.count, { one: '# entrada del registro o revisión de programa', other: '# entradas del registro y revisiones de programa' })}: ${given.seal}`,
  'export.table': (words, given) =>
    `${given.table}.csv  (${words.plural(given.rows, { one: '# fila', other: '# filas' })})`,
  'export.about.client':
    'Quien paga: hogares, asociaciones, negocios. searchText y sortName se forman con las otras columnas.',
  'export.about.property':
    'Los sitios que se atienden. searchText se forma con las otras columnas; baseBackflowTestDue es lo que anotó la oficina, backflowTestDue lo que resulta de eso y de las pruebas del registro.',
  'export.about.controller': 'Los aparatos que abren las válvulas según un programa.',
  'export.about.zone':
    'Una válvula y lo que riega. prInputs es JSON. Lo que la oficina dijo de la tasa está en basePrMethod, basePrecipitationRateInPerHour y baseDistributionUniformity, desde el día baseRateOn (ninguno = antes de todo trabajo) y el eslabón baseRatePlace; prMethod, precipitationRateInPerHour y distributionUniformity son eso, o lo que midió después la última prueba con recipientes.',
  'export.about.sensor':
    'Sensores de lluvia y de helada. Las columnas que empiezan con base son lo que anotó la oficina, y cuándo; batteryDate y los puntos de ajuste resultan de eso y del registro; lastCheckDate, lastCheckPassed, lastSignal y cellsGood, del registro.',
  'export.about.program': 'Programas de los controladores; lo que dicen está en programRevision.',
  'export.about.programRevision':
    'Cada revisión fechada de un programa. days y startTimes son JSON. Una revisión con voidedByEntryId es solo historia.',
  'export.about.programRun': 'Minutos de riego por zona de una revisión.',
  'export.about.visit': 'Visitas previstas, hechas y canceladas.',
  'export.about.ledgerEntry':
    'Trabajo hecho; después nunca se cambia. detail es JSON. Una entrada con correctsId corrige esa otra (correction: replace la reemplaza; void = no ocurrió).',
  'export.about.chainHead':
    'El final de la cadena de cada propiedad: el lugar y el hash de su última entrada o revisión de programa.',
  'export.about.ledgerChain':
    'Cuántas entradas del registro y revisiones de programa tiene el libro; a cuántas de ellas encadenó una puesta al día, y cuándo.',
  'export.about.finding':
    'Hallazgos vigentes: id es la entrada que lo dijo primero, entryId la que lo dice ahora, closedByEntryId la reparación o decisión que lo cerró (ninguna = abierto). Resulta del registro.',
  'export.about.season': 'Arranque e invernación de una propiedad por año; resulta del registro.',
  'export.about.technician': 'Las personas. skills y workWeekdays (1 = lunes) son JSON.',
  'export.about.truck': 'Los camiones.',
  'export.about.route': 'Las rutas a las que pertenecen las propiedades.',
  'export.about.restriction': 'Restricciones de riego de los proveedores de agua. stages es JSON.',
  'export.about.thumbRule': 'Las reglas prácticas propias de la empresa para los minutos de riego.',
  'export.about.weatherStation': 'Estaciones meteorológicas. normals es JSON: de enero a diciembre.',
  'export.about.weatherDay': 'Registros diarios del tiempo.',
  'export.about.setting': 'Los ajustes de la empresa, en JSON.',
  'export.about.importMapping': 'Cómo se asignaron las columnas de las listas importadas.',
  'export.about.writeLog': 'Identificadores de cambios ya hechos, para que uno repetido se haga una sola vez.',
  'export.unit.inPerHour': 'pulgadas por hora',
  'export.unit.inches': 'pulgadas',
  'export.unit.ft2': 'pies cuadrados',
  'export.unit.ft': 'pies',
  'export.unit.gpm': 'galones por minuto',
  'export.unit.psi': 'psi',
  'export.unit.cfm': 'pies cúbicos por minuto',
  'export.unit.mph': 'millas por hora',
  'export.unit.minutes': 'minutos',
  'export.unit.percent': 'por ciento',
  'export.unit.degrees': 'grados (norte y este positivos)',
  'export.unit.mjM2': 'megajulios por metro cuadrado y día',
  'export.unit.f': 'grados Fahrenheit',
  'export.unit.date': 'fecha, YYYY-MM-DD (año-mes-día)',
  'export.unit.moment': 'momento, UTC',
  'export.unit.time': 'hora local, HH:MM',
  'export.unit.share': 'proporción, de 0 a 1',
  'export.unit.yesNo': '1 = sí, 0 = no',
};

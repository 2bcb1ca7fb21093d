export { chooseStation, monthlyClimate } from './climate.ts';
export { dailyWeather } from './daily.ts';
export { gatherGhcn, ghcnFormatOf } from './ghcn.ts';
export { readStations, readWeatherDays } from './queries.ts';

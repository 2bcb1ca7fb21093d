export { chooseStation, monthlyClimate } from './climate.ts';
export { dailyWeather } from './daily.ts';
export { readStations, readWeatherDays } from './queries.ts';

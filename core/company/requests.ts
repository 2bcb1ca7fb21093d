import { statSync } from 'node:fs';
import type { Handler } from '../context.ts';
import type { ThumbRule } from '../contract/entities.ts';
import { openToOthers } from '../book/privacy.ts';
import { BookError } from '../errors.ts';
import { minutesOfClock } from '../dates.ts';
import { countRows } from '../store/count-queries.ts';
import {
  readRestrictions,
  readStations,
  readThumbRules,
  replaceThumbRules,
  saveRestrictions,
  saveStation,
} from '../store/rule-queries.ts';
import { readSettings, writeSettings } from '../store/setting-queries.ts';
import { SCHEMA_VERSION } from '../store/migrate.ts';
import { DEFAULT_THUMB_RULES } from '../programs/thumb-rules.ts';
import { fact, type Fact } from '../text/say.ts';

const settingsGet: Handler<'settings.get'> = ({ db }) => readSettings(db);

const settingsSave: Handler<'settings.save'> = async ({ db }, { settings }) => {
  if (settings.startUpTo < settings.startUpFrom)
    throw new BookError('bad-input', fact('errors.startUpWindow'), 'settings.startUpTo');
  if (settings.winterizationTo < settings.winterizationFrom)
    throw new BookError('bad-input', fact('errors.winterWindow'), 'settings.winterizationTo');
  await writeSettings(db, settings);
  return settings;
};

const rulesList: Handler<'rules.list'> = async ({ db }) => ({
  restrictions: await readRestrictions(db),
  thumbRules: (await readThumbRules(db)) ?? defaultThumbRules(),
});

/** The rules every book starts from, with ids of their own so that they can be edited and saved like any others. */
export const defaultThumbRules = (): ThumbRule[] =>
  DEFAULT_THUMB_RULES.map((rule, index) => ({ ...rule, id: String(index + 1).padStart(26, '0') }));

/** Refuses a list in which one key stands twice, at the later place. */
function assertNoneTwice(
  keys: readonly string[],
  refusal: (index: number, first: number) => readonly [field: string, what: Fact],
): void {
  const seen = new Map<string, number>();
  for (const [index, key] of keys.entries()) {
    const first = seen.get(key);
    if (first !== undefined) {
      const [field, what] = refusal(index, first);
      throw new BookError('bad-input', what, field);
    }
    seen.set(key, index);
  }
}

const rulesSave: Handler<'rules.save'> = async ({ db }, { restrictions, thumbRules }) => {
  assertNoneTwice(
    restrictions.map(({ id }) => id),
    (index, first) => [
      `restrictions.${index}.id`,
      fact('errors.sameRestriction', { first: first + 1, second: index + 1 }),
    ],
  );
  assertNoneTwice(
    (thumbRules ?? []).map(({ id }) => id),
    (index, first) => [`thumbRules.${index}.id`, fact('errors.sameThumbId', { first: first + 1, second: index + 1 })],
  );
  assertNoneTwice(
    (thumbRules ?? []).map(({ emissionDevice, plantKind, betweenHouses }) =>
      JSON.stringify([emissionDevice, plantKind, betweenHouses]),
    ),
    (index, first) => [
      `thumbRules.${index}.emissionDevice`,
      fact('errors.sameThumb', { first: first + 1, second: index + 1 }),
    ],
  );
  for (const [index, restriction] of restrictions.entries()) {
    if (restriction.currentStage >= restriction.stages.length)
      throw new BookError(
        'bad-input',
        fact('errors.currentStage', { stages: restriction.stages.length }),
        `restrictions.${index}.currentStage`,
      );
    for (const [stage, { forbiddenHours }] of restriction.stages.entries()) {
      for (const [spell, { from, to }] of forbiddenHours.entries()) {
        if (minutesOfClock(from) === minutesOfClock(to))
          throw new BookError(
            'bad-input',
            fact('errors.spell'),
            `restrictions.${index}.stages.${stage}.forbiddenHours.${spell}.to`,
          );
      }
    }
  }
  for (const [index, rule] of (thumbRules ?? []).entries()) {
    if (rule.minutesTo < rule.minutesFrom)
      throw new BookError('bad-input', fact('errors.upperMinutes'), `thumbRules.${index}.minutesTo`);
  }
  await saveRestrictions(db, restrictions);
  if (thumbRules) await replaceThumbRules(db, thumbRules);
  return { saved: restrictions.length + (thumbRules?.length ?? 0) };
};

const stationList: Handler<'station.list'> = async ({ db }) => ({ stations: await readStations(db) });

const stationSave: Handler<'station.save'> = async ({ db }, { station }) => {
  for (const [month, normal] of station.normals.entries()) {
    if (normal.tminF > normal.tmaxF)
      throw new BookError(
        'bad-input',
        fact('errors.meanMinimum', {
          lowest: { quantity: 'temperature', value: normal.tminF },
          highest: { quantity: 'temperature', value: normal.tmaxF },
        }),
        `station.normals.${month}.tminF`,
      );
  }
  await saveStation(db, station);
  return { stationId: station.id };
};

const bookInfo: Handler<'book.info'> = async ({ db, today, bookPath }) => ({
  path: bookPath,
  schemaVersion: SCHEMA_VERSION,
  bytes: statSync(bookPath).size,
  companyName: (await readSettings(db)).companyName,
  counts: await countRows(db),
  today,
  openToOthers: await openToOthers({ db, bookPath }),
});

const bookToday: Handler<'book.today'> = async ({ today }) => ({ today });

export const companyHandlers = {
  'settings.get': settingsGet,
  'settings.save': settingsSave,
  'rules.list': rulesList,
  'rules.save': rulesSave,
  'station.list': stationList,
  'station.save': stationSave,
  'book.info': bookInfo,
  'book.today': bookToday,
};

import type { Handler } from '../context.ts';
import {
  readSettings,
  writeSettings,
  readRestrictions,
  readThumbRules,
  replaceThumbRules,
  saveRestrictions,
} from './queries.ts';
import { BookError } from '../errors.ts';
import { fact, type Fact } from '../text/say.ts';
import { defaultThumbRules } from './thumb-rules.ts';
import { minutesOfClock } from '../dates.ts';

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

export const settingsHandlers = {
  'settings.get': settingsGet,
  'settings.save': settingsSave,
  'rules.list': rulesList,
  'rules.save': rulesSave,
};

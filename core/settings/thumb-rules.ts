import type { ThumbRule } from './contract.ts';

/** A rule of thumb before the book gives it an id. */
export type ThumbRuleDraft = Omit<ThumbRule, 'id'>;

const COMMON = 'common practice, no source';

/** What a new book starts with; the company edits them. Every figure here is common practice, no source. */
export const DEFAULT_THUMB_RULES: readonly ThumbRuleDraft[] = [
  {
    emissionDevice: 'soaker-hose',
    plantKind: null,
    betweenHouses: null,
    minutesFrom: 15,
    minutesTo: 20,
    note: `Soaker hose; ${COMMON}`,
  },
  {
    emissionDevice: 'pop-up-spray',
    plantKind: null,
    betweenHouses: null,
    minutesFrom: 7,
    minutesTo: 9,
    note: `Pop-up sprays; ${COMMON}`,
  },
  {
    emissionDevice: null,
    plantKind: null,
    betweenHouses: true,
    minutesFrom: 3,
    minutesTo: 4,
    note: `Narrow side yard between houses: neighbors water it too; ${COMMON}`,
  },
  {
    emissionDevice: null,
    plantKind: 'trees',
    betweenHouses: null,
    minutesFrom: 9,
    minutesTo: 9,
    note: `Trees, about 9 min; ${COMMON}`,
  },
];

/** The rules every book starts from, with ids of their own so that they can be edited and saved like any others. */
export const defaultThumbRules = (): ThumbRule[] =>
  DEFAULT_THUMB_RULES.map((rule, index) => ({ ...rule, id: String(index + 1).padStart(26, '0') }));

export { lastDayFor, readRestrictions, readSettings, readThumbRules, writeSettings } from './queries.ts';
export { DEFAULT_THUMB_RULES, type ThumbRuleDraft, defaultThumbRules } from './thumb-rules.ts';

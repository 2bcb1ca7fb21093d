import type { BackupKind } from './backups.ts';

/** Days with changes and without a good backup after which the home page says so. */
export const WORD_AFTER_DAYS = 3;

/** Why a backup was made, as people say it. */
export const BACKUP_KIND_WORDS: Record<BackupKind, string> = {
  auto: 'by itself',
  'by-hand': 'by hand',
  'before-import': 'before an import',
  'before-restore': 'before a restore',
  'before-upgrade': 'before an upgrade',
};

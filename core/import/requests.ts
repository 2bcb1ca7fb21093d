import { importApply, importPreview } from './run.ts';

export const importJobs = { 'import.preview': importPreview, 'import.apply': importApply };

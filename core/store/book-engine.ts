import type { Engine } from './engine.ts';
import { sqliteEngine } from './sqlite-engine.ts';

/** The engine that keeps the books. Whoever needs more than a query asks it. */
export const engine: Engine = sqliteEngine;

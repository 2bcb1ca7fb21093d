import { useCallback, useEffect, useRef, useState } from 'react';
import type { Controller, Property, Sensor, Zone } from '../../../core/properties/contract.ts';
import type { OutputOf } from '../../../core/contract/index.ts';
import type { Failure } from '../../../core/errors.ts';
import { toast, undoWaitsFor } from '../../state/toasts.ts';
import { saveProperty } from './save-property.ts';
import { say } from '../../state/say.ts';

export type OpenProperty = OutputOf<'property.open'>;
export interface PropertyChange {
  property?: Partial<Property>;
  zones?: Array<Partial<Zone> & { id: string }>;
  controllers?: Array<Partial<Controller> & { id: string }>;
  sensors?: Array<Partial<Sensor> & { id: string }>;
}
interface Latest {
  version: number;
  property: Property;
  zones: Map<string, Zone>;
  controllers: Map<string, Controller>;
  sensors: Map<string, Sensor>;
}
const latestOf = (data: OpenProperty): Latest => ({
  version: data.version,
  property: data.property,
  zones: byId(data.zones),
  controllers: byId(data.controllers),
  sensors: byId(data.sensors),
});
const byId = <T extends { id: string }>(items: readonly T[]) => new Map(items.map((item) => [item.id, item]));

export interface PropertyEditor {
  /** What is shown: the book's, with changes that are on their way already in place. */
  zones: Zone[];
  /** Saves a change and offers the way back; answers with the failure when the book did not take it. */
  save: (change: PropertyChange, said: string) => Promise<Failure | null>;
  /** Somebody else saved first: what was not saved here. */
  conflict: string | null;
  dropConflict: () => void;
}

/** Small saves on an open property, one after another, each over the version the one before it made. */
export function usePropertyEditor(data: OpenProperty): PropertyEditor {
  const latest = useRef<Latest>(latestOf(data));
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const waiting = useRef(0);
  const [zones, setZones] = useState(data.zones);
  const [conflict, setConflict] = useState<string | null>(null);
  useEffect(() => {
    if (waiting.current > 0 || data.version < latest.current.version) return;
    latest.current = latestOf(data);
    setZones(data.zones);
  }, [data]);

  const send = useCallback(
    async (change: PropertyChange): Promise<{ failure: Failure | null; undo: PropertyChange }> => {
      const now = latest.current;
      const undo: PropertyChange = {};
      const property = { ...now.property, ...change.property };
      if (change.property !== undefined) undo.property = pick(now.property, Object.keys(change.property));
      const merged = <T extends { id: string }>(
        held: Map<string, T>,
        changes: Array<Partial<T> & { id: string }> | undefined,
        note: (old: Array<Partial<T> & { id: string }>) => void,
        shown: T[],
      ): T[] => {
        if (changes === undefined) return [];
        shown.push(...changes.flatMap((item) => held.get(item.id) ?? []));
        note(
          changes.flatMap((item) => {
            const old = held.get(item.id);
            return old === undefined ? [] : [{ ...pick(old, Object.keys(item)), id: item.id }];
          }),
        );
        return changes.map((item) => ({ ...held.get(item.id), ...item }) as T);
      };
      const shown = {
        property: now.property,
        zones: [] as Zone[],
        controllers: [] as Controller[],
        sensors: [] as Sensor[],
      };
      const changedZones = merged(now.zones, change.zones, (old) => void (undo.zones = old), shown.zones);
      const controllers = merged(
        now.controllers,
        change.controllers,
        (old) => void (undo.controllers = old),
        shown.controllers,
      );
      const sensors = merged(now.sensors, change.sensors, (old) => void (undo.sensors = old), shown.sensors);
      const says = { property, zones: changedZones, controllers, sensors };
      const reply = await saveProperty(shown, says, now.version, { quiet: true });
      if (!reply.ok) return { failure: reply.error, undo };
      latest.current = {
        version: reply.data.version,
        property,
        zones: new Map([...now.zones, ...byId(changedZones)]),
        controllers: new Map([...now.controllers, ...byId(controllers)]),
        sensors: new Map([...now.sensors, ...byId(sensors)]),
      };
      return { failure: null, undo };
    },
    [],
  );

  const save = useCallback(
    function saved(change: PropertyChange, said: string): Promise<Failure | null> {
      const patch = new Map((change.zones ?? []).map((zone) => [zone.id, zone]));
      setZones((shown) => shown.map((zone) => ({ ...zone, ...patch.get(zone.id) })));
      waiting.current += 1;
      const run = queue.current.then(async () => {
        const { failure, undo } = await send(change);
        waiting.current -= 1;
        if (failure === null) {
          toast({
            text: said,
            undo: () => void saved(undo, say('property.takenBack', { said })),
          });
          return null;
        }
        setZones([...latest.current.zones.values()]);
        if (failure.code === 'stale') setConflict(said);
        return failure;
      });
      queue.current = run.catch(() => {});
      undoWaitsFor(run);
      return run;
    },
    [send],
  );

  return { zones, save, conflict, dropConflict: useCallback(() => setConflict(null), []) };
}

function pick<T extends object>(from: T, keys: string[]): Partial<T> {
  return Object.fromEntries(keys.map((key) => [key, (from as Record<string, unknown>)[key]])) as Partial<T>;
}

import type { DropItem } from 'react-aria-components';

// What can be dragged on the calendar. The payload is an id; what it stands for is looked up where it lands.
export const VISIT_DRAG = 'application/x-valvebook-visit';
export const DUE_DRAG = 'application/x-valvebook-due';

/** The ids dropped, by what they are. */
export async function droppedIds(items: Iterable<DropItem>): Promise<{ visits: string[]; due: string[] }> {
  const found = { visits: [] as string[], due: [] as string[] };
  for (const item of items) {
    if (item.kind !== 'text') continue;
    if (item.types.has(VISIT_DRAG)) found.visits.push(await item.getText(VISIT_DRAG));
    else if (item.types.has(DUE_DRAG)) found.due.push(await item.getText(DUE_DRAG));
  }
  return found;
}

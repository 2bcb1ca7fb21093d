import { expect, test } from 'vitest';
import { portOfBook } from '../../electron/launch.ts';

test('a book keeps its port, inside the dynamic range of RFC 6335, and books rarely share one', () => {
  const ports = Array.from({ length: 200 }, (_, n) => portOfBook(`/home/office/book-${n}.valvebook`));
  expect(ports).toEqual(Array.from({ length: 200 }, (_, n) => portOfBook(`/home/office/book-${n}.valvebook`)));
  for (const port of ports) expect(port >= 49152 && port <= 65535).toBe(true);
  expect(new Set(ports).size).toBeGreaterThan(190);
});

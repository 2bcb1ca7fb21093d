import type { FormKind } from './draft.ts';

// Line drawings of our own, 24 × 24, always beside a word.
const PATHS: Record<FormKind, string> = {
  'battery-swap': 'M3 8h15v8H3zM18 10.5h3v3h-3M6.5 10.5v3M10 10.5v3',
  'sensor-check': 'M12 3c3 4 5 6.4 5 9.2A5 5 0 0 1 7 12.2C7 9.4 9 7 12 3zM9.6 12.8l1.8 1.8 3-3.4M4 21h16',
  'run-time-change': 'M12 4a8.5 8.5 0 1 1 0 17 8.5 8.5 0 0 1 0-17zM12 8v4.6l3.2 2M9.5 1.8h5',
  'start-up': 'M12 21V9M7.5 13.2L12 8.6l4.5 4.6M4 5.5c2-2 4-2 6 0s4 2 6 0 3-1.4 4-1',
  winterization: 'M3 8h9.5a2.8 2.8 0 1 0-2.6-3.8M3 12.5h15a3 3 0 1 1-2.8 4.2M3 17h7.5a2.3 2.3 0 1 1-2 3.4',
  repair: 'M20 6.2a4.6 4.6 0 0 1-6 5.8L6 20l-2.4-2.4 8-8A4.6 4.6 0 0 1 17.6 3.8L15 6.4l2.6 2.4z',
  'part-used': 'M4 8l8-4.5L20 8v8.5L12 21l-8-4.5zM4 8l8 4.6L20 8M12 12.6V21',
  'meter-read': 'M4 17a8.5 8.5 0 1 1 16 0zM12 14.5l4-5M7 13.5h.1M9.4 9.4h.1M17 13.5h.1',
  'backflow-test': 'M2.5 12h5M16.5 12h5M7.5 7v10h9V7zM10 9.5l4 2.5-4 2.5z',
  'walk-through':
    'M8 3.5c2 0 2.6 2.4 2.4 4.6L10 11H6.6c-.8-2-1.2-7.5 1.4-7.5zM6.8 13.5H10c0 2-.4 3-1.6 3s-1.6-1-1.6-3zM16 7.5c2.6 0 2.2 5.5 1.4 7.5H14l-.4-2.9c-.2-2.2.4-4.6 2.4-4.6zM14 17.5h3.2c0 2-.4 3-1.6 3s-1.6-1-1.6-3z',
  'manual-run':
    'M7 21v-9l-2-3V4h3v4l1.5 1V3.5h3V9l1.5-4h3l-1 6 2-1.5v3L14 18v3zM19 4c1.6 2 2.4 3.2 2.4 4.4a2.4 2.4 0 0 1-2.4 2.4',
  finding: 'M10.5 4a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13zM15.3 15.3L21 21M10.5 7.5v3.6M10.5 13.4v.1',
  decision: 'M4 12.5l5 5L20 6.5',
  'not-done': 'M4 20V6l8-3 8 3v14zM9.5 20v-6h5v6M8 8.5l8 0',
  photo: 'M3 7.5h4.5L9 5h6l1.5 2.5H21V19H3zM12 10a3.3 3.3 0 1 1 0 6.6 3.3 3.3 0 0 1 0-6.6z',
  note: 'M5 3.5h14v17H5zM8.5 8.5h7M8.5 12h7M8.5 15.5h4',
};

/** The drawing of one kind of work. */
export function WorkGlyph({ kind }: { kind: FormKind }) {
  return (
    <svg className="fd-glyph" viewBox="0 0 24 24" width="28" height="28" aria-hidden="true" focusable="false">
      <path
        d={PATHS[kind]}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.8"
        strokeLinejoin="round"
        strokeLinecap="round"
      />
    </svg>
  );
}

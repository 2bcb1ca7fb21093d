// How every chart of this desk is dressed: ink on paper, fillings that differ without colour, nothing that moves.

export type Filling = 'hatch' | 'dots' | 'ice' | 'wash';

/** The address of a filling of the chart with this id. */
export const patternFill = (id: string, filling: Filling) => `url(#rv-${id}-${filling})`;

/** Fillings for one chart; ids are per chart, because a page holds several. */
export function ChartPatterns({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={`rv-${id}-hatch`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect width="7" height="7" fill="var(--sheet)" />
        <rect width="2.5" height="7" fill="var(--ink)" />
      </pattern>
      <pattern id={`rv-${id}-dots`} width="6" height="6" patternUnits="userSpaceOnUse">
        <rect width="6" height="6" fill="var(--sheet)" />
        <circle cx="3" cy="3" r="1.4" fill="var(--ink-2)" />
      </pattern>
      <pattern id={`rv-${id}-ice`} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect width="8" height="8" fill="var(--ice-wash)" />
        <rect width="1.6" height="8" fill="var(--ice)" />
      </pattern>
      <pattern id={`rv-${id}-wash`} width="8" height="8" patternUnits="userSpaceOnUse">
        <rect width="8" height="8" fill="var(--chosen)" />
      </pattern>
    </defs>
  );
}

export const axisText = { fill: 'var(--ink-2)', fontSize: 13 };

export const tooltipStyle = {
  cursor: { fill: 'var(--hover)', stroke: 'var(--rule-strong)' },
  contentStyle: {
    background: 'var(--sheet)',
    border: '1px solid var(--rule-strong)',
    borderRadius: 5,
    color: 'var(--ink)',
  },
  itemStyle: { color: 'var(--ink)' },
  labelStyle: { color: 'var(--ink)', fontWeight: 650 },
};

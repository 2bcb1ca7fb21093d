import type { ReactNode, RefObject } from 'react';

/** A part that scrolls by itself and holds nothing to focus: it takes the focus, so that the arrow keys can scroll it. */
export function ScrollRegion({
  label,
  className = 'table-scroll',
  children,
  ref,
}: {
  label: string;
  className?: string;
  children: ReactNode;
  ref?: RefObject<HTMLDivElement | null>;
}) {
  return (
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <div className={className} role="region" aria-label={label} tabIndex={0} ref={ref ?? null}>
      {children}
    </div>
  );
}

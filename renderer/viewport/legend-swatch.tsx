import { useId, type ReactNode } from 'react';
import type { LegendEntry } from './face-legend.ts';

/** A swatch drawn as the 3D view draws that surface: colour and pattern. Decorative beside its label. */
export function LegendSwatch({ entry }: { readonly entry: LegendEntry }): ReactNode {
  const id = useId();
  const paper = `var(${entry.colour})`;
  const ink = `var(${entry.ink})`;
  return (
    <svg className="legend-swatch" viewBox="0 0 36 24" aria-hidden="true" focusable="false">
      <defs>
        <pattern id={id} width="12" height="12" patternUnits="userSpaceOnUse">
          {entry.pattern === 'hatch' && (
            <path d="M-3 3 3-3M-3 15 15-3M9 15 15 9" stroke={ink} strokeWidth="2.4" />
          )}
          {entry.pattern === 'cross-hatch' && (
            <path
              d="M-1 1 1-1M-1 13 13-1M11 13 13 11M-1-1 13 13M11-1 13 1M-1 11 1 13"
              stroke={ink}
              strokeWidth="1.4"
            />
          )}
          {entry.pattern === 'bubbles' && (
            <circle cx="6" cy="6" r="3.4" fill="none" stroke={ink} strokeWidth="1.8" />
          )}
          {entry.pattern === 'waves' && <path d="M0 6H12" stroke={ink} strokeWidth="3.4" />}
          {entry.pattern === 'upright' && <path d="M6 0V12" stroke={ink} strokeWidth="1.6" />}
          {entry.pattern === 'dots' && <circle cx="6" cy="6" r="2.8" fill={ink} />}
          {entry.pattern === 'diamonds' && <path d="M6 2 10 6 6 10 2 6Z" fill={ink} />}
        </pattern>
      </defs>
      <rect className="legend-swatch-paper" x="1" y="1" width="34" height="22" rx="3" fill={paper} />
      <rect x="1" y="1" width="34" height="22" rx="3" fill={`url(#${id})`} />
      {entry.pattern === 'outline' && (
        <>
          <rect x="1" y="1" width="34" height="22" rx="3" fill={ink} opacity="0.15" />
          <rect x="3" y="3" width="30" height="18" rx="2" fill="none" stroke={ink} strokeWidth="4" />
        </>
      )}
    </svg>
  );
}

import type { ReactNode } from 'react';
import { FACE_LEGEND } from './face-legend.ts';
import { LegendSwatch } from './legend-swatch.tsx';

/** The swatch of one treatment or of the show mark. */
export function TreatmentSwatch({
  treatment,
}: {
  readonly treatment: 'coat' | 'mask' | 'contact' | 'show';
}): ReactNode {
  return <LegendSwatch entry={FACE_LEGEND.find((entry) => entry.style === treatment)!} />;
}

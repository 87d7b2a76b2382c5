import { FACE_LEGEND } from './face-legend.ts';
import { LegendSwatch } from './legend-swatch.tsx';

interface TreatmentSwatchProps {
  readonly treatment: 'coat' | 'mask' | 'contact' | 'mixed' | 'show';
}

/** The swatch of a treatment, drawn as the 3D view draws it; a mixed face has none of its own. */
export function TreatmentSwatch({ treatment }: TreatmentSwatchProps) {
  const entry = FACE_LEGEND.find((candidate) => candidate.style === treatment);
  return entry ? <LegendSwatch entry={entry} /> : <span className="soft">mixed</span>;
}

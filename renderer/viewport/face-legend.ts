import { TRIANGLE_STYLE, type TriangleStyleName } from './triangle-style.ts';

export type LegendPattern =
  'plain' | 'hatch' | 'dots' | 'diamonds' | 'cross-hatch' | 'outline' | 'bubbles' | 'waves' | 'upright';

export interface LegendEntry {
  /** Of a triangle's byte; `dry` is what lies above the level, by place and not by triangle. */
  readonly style: TriangleStyleName | 'dry';
  readonly label: string;
  readonly pattern: LegendPattern;
  /** Custom property with the colour under the pattern, and with the colour of its ink. */
  readonly colour: string;
  readonly ink: string;
}

/** What the 3D view draws, in the order a legend should list it. */
export const FACE_LEGEND: readonly LegendEntry[] = [
  { style: 'coat', label: 'Coated', pattern: 'plain', colour: '--view-coat', ink: '--view-edge' },
  { style: 'mask', label: 'Masked', pattern: 'hatch', colour: '--view-mask', ink: '--view-mask-ink' },
  {
    style: 'contact',
    label: 'Bare contact',
    pattern: 'dots',
    colour: '--view-contact',
    ink: '--view-contact-ink',
  },
  { style: 'show', label: 'Show face', pattern: 'diamonds', colour: '--view-coat', ink: '--view-show-ink' },
  { style: 'selected', label: 'Selected', pattern: 'outline', colour: '--view-coat', ink: '--view-selected' },
  {
    style: 'finding',
    label: 'Look here',
    pattern: 'cross-hatch',
    colour: '--view-coat',
    ink: '--view-finding-ink',
  },
  { style: 'gas', label: 'Gas stays', pattern: 'bubbles', colour: '--view-gas', ink: '--view-gas-ink' },
  {
    style: 'liquid',
    label: 'Liquid carried out',
    pattern: 'waves',
    colour: '--view-liquid',
    ink: '--view-liquid-ink',
  },
];

/** What stands out of the liquid, over a line at the level. */
export const DRY_ENTRY: LegendEntry = {
  style: 'dry',
  label: 'Above the level, not in the bath',
  pattern: 'upright',
  colour: '--view-dry',
  ink: '--view-dry-ink',
};

/** Entries for the marks that occur in `styles`, coat always among them. @param standsOut some of it is above the level */
export function legendFor(styles: Uint8Array, standsOut = false): LegendEntry[] {
  let used = 0;
  for (let i = 0; i < styles.length; i++) used |= styles[i]!;
  const shown = FACE_LEGEND.filter(
    ({ style }) => style === 'coat' || (style !== 'dry' && (used & TRIANGLE_STYLE[style]) !== 0),
  );
  return standsOut ? [...shown, DRY_ENTRY] : shown;
}

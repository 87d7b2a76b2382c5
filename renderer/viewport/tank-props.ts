import type { Tank } from '../../core/racking/tank.ts';
import type { Placement } from '../../core/racking/tank.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import type { SerializedPickIndex } from '../worker/jobs.ts';
import type { ViewportTheme } from './viewport-theme.ts';

/** One kind of part in the tank, drawn once for each of its copies. */
export interface TankViewPart {
  readonly positions: Float32Array;
  readonly metresPerUnit: number;
  readonly pickIndex: SerializedPickIndex | null;
  /** Middle of its box, metres, in the part's own frame before it is turned. */
  readonly middleM: Vec3;
}

export interface TankViewLine {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly text: string;
  readonly level: 'ok' | 'check' | 'stop';
}

export interface TankViewCopy {
  readonly placement: Placement;
  readonly number: number;
  readonly level: 'ok' | 'check' | 'stop';
}

export interface TankViewProps {
  readonly tank: Tank;
  readonly parts: Readonly<Record<string, TankViewPart>>;
  readonly copies: readonly TankViewCopy[];
  /** Hangers, from contact to bar. */
  readonly wires: readonly { readonly from: Vec3; readonly to: Vec3 }[];
  /** Distances of the selected copy. */
  readonly lines: readonly TankViewLine[];
  readonly selectedId: string | null;
  readonly theme: ViewportTheme;
  /** For screen readers. */
  readonly label: string;
  readonly onSelect: (id: string | null) => void;
  /** Where a dragged copy may go: the answer is where it is drawn. */
  readonly onDrag: (id: string, offsetM: Vec3) => Vec3;
  readonly onDrop: (id: string, offsetM: Vec3) => void;
}

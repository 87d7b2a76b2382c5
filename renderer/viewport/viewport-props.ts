import type { Ref } from 'react';
import type { FaceEdges } from '../../core/faces/face-edges.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { SerializedPickIndex } from '../worker/jobs.ts';
import type { ViewportTheme } from './viewport-theme.ts';

export type Point3 = readonly [number, number, number];

export const STANDARD_VIEWS = ['front', 'back', 'left', 'right', 'top', 'bottom', 'corner'] as const;
export type StandardView = (typeof STANDARD_VIEWS)[number];

/** A numbered contact. Lengths and places in model units. */
export interface ViewportPin {
  readonly id: string;
  readonly number: number;
  readonly at: Point3;
  /** The triangle it sits on: its normal turns the patch and the leader. */
  readonly triangle: number;
  readonly patchRadius: number;
  readonly level: 'ok' | 'check' | 'stop';
  readonly selected: boolean;
}

/** A small sign at a place of the part, model units. */
export interface ViewportMark {
  readonly kind: 'drip' | 'centre' | 'proposal';
  readonly at: Point3;
  /** One letter or number. */
  readonly label?: string;
}

export interface SurfaceHit {
  readonly triangle: number;
  /** Model units, on the triangle. */
  readonly point: Point3;
  /** Unit normal of the triangle, out of the metal when the mesh is wound rightly. */
  readonly normal: Point3;
}

export interface SurfacePick extends SurfaceHit {
  /** Plain click replaces; with Shift adds; with Ctrl, Cmd or Alt subtracts. */
  readonly intent: 'replace' | 'add' | 'subtract';
}

/**
 * A number on every piece of the surface, shown as colour in the place of treatments. Keep the arrays' identity while they
 * are the same.
 */
export interface ViewportScalar {
  /** 9 a piece, model units; the pieces cover the part. */
  readonly positions: Float32Array;
  /** Per piece; negative where there is none. */
  readonly values: Float32Array;
  /** Ends of the colour scale. */
  readonly low: number;
  readonly high: number;
  /** Smaller numbers are hatched. */
  readonly limit?: number;
}

/** A section: what lies beyond the plane is cut away. Model units. */
export interface ViewportClip {
  readonly normal: Point3;
  /** Points with dot(point, normal) above this are not shown. */
  readonly at: number;
}

/** The bath's level on the part: what lies above it is not in the bath. Model units. */
export interface ViewportLevel {
  /** Unit vector out of the bath. */
  readonly up: Point3;
  readonly at: number;
}

export interface SnapshotRequest {
  readonly widthPx: number;
  readonly heightPx: number;
  /** CSS colour behind the part. */
  readonly background: string;
  /** The view as it stands when left out; a standard view, or the part turned as it is, is fitted to the picture. */
  readonly view?: StandardView | 'as-turned';
  /** A map of these numbers, without pins, in the window's look instead of the paper's. */
  readonly scalar?: ViewportScalar;
}

export interface ViewportHandle {
  /** Whole part into the window, from where it is looked at now. */
  fit(): void;
  /** Turns to a standard view and fits. Up on the screen is `upDirection`. */
  look(view: StandardView): void;
  /** PNG data URL for paper: dark edges, patterns readable in grey, numbered pins. null while there is no part or no WebGL. */
  snapshot(request: SnapshotRequest): string | null;
}

export interface ViewportProps {
  readonly ref?: Ref<ViewportHandle>;
  readonly geometry: PartGeometry | null;
  /** Lines between faces, from the worker; null while they are made. */
  readonly edges: FaceEdges | null;
  /** From the worker's buildPickIndex, made from this geometry's positions; null while it is made. */
  readonly pickIndex: SerializedPickIndex | null;
  /** One byte a triangle, bits of TRIANGLE_STYLE. May be changed in place. */
  readonly styleOfTriangle: Uint8Array;
  /** Raise it whenever the bytes changed. */
  readonly styleVersion: number;
  readonly pins: readonly ViewportPin[];
  /** Keep the array's identity while it is the same. */
  readonly marks?: readonly ViewportMark[];
  readonly metresPerUnit: number;
  readonly scalar?: ViewportScalar | null;
  readonly clip?: ViewportClip | null;
  /** Keep its identity while it is the same. */
  readonly level?: ViewportLevel | null;
  /** For the scale bar. */
  readonly lengthUnit: 'mm' | 'in';
  /** Up in the bath, in model axes; [0, 0, 1] when left out. Keep the array's identity while it is the same. */
  readonly upDirection?: Point3;
  readonly theme: ViewportTheme;
  readonly mode: 'select' | 'place-pin';
  /** Only to be looked at: no index for clicks will come, and none is waited for. */
  readonly isPicture?: boolean;
  /** A new mesh of the same key is seen from where the one before was. */
  readonly partKey?: string;
  /** Model units; draws the patch under the pointer while placing a pin. */
  readonly newPinPatchRadius?: number;
  /** For screen readers: what is shown, in a few words. */
  readonly label: string;
  readonly onPick?: (pick: SurfacePick) => void;
  /** A click beside the part. */
  readonly onMiss?: () => void;
  /** At most once a frame, and only when the triangle changed. */
  readonly onHover?: (triangle: number | null) => void;
  /** At most once a frame, wherever the pointer is on the part. */
  readonly onHoverAt?: (hit: SurfaceHit | null) => void;
  readonly onPinPick?: (id: string) => void;
  /** Once, when a dragged pin is let go on the surface. */
  readonly onPinMoved?: (id: string, to: SurfaceHit) => void;
}

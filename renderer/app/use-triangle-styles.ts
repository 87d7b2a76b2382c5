import { useMemo } from 'react';
import { COVERAGE_BITS } from '../../core/faces/coverage-flags.ts';
import { levelOnPart } from '../../core/job/hung-depth.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { trapsInBath } from '../../core/racking/traps-in-bath.ts';
import type { Part } from '../../core/job/job.ts';
import { coverageOn } from '../../core/mesh/mesh-triangles.ts';
import { TRIANGLE_STYLE } from '../viewport/triangle-style.ts';
import { useApp, useDerived, useHanging } from './services.ts';
import type { ShownMesh } from './use-shown-mesh.ts';

let lastVersion = 0;
const nextVersion = (): number => (lastVersion += 1);

/** One byte a triangle; the version rises whenever a byte changed. */
export function useTriangleStyles(
  part: Part,
  { mesh, changed, side }: ShownMesh,
): { bytes: Uint8Array; version: number } {
  const geometry = mesh?.geometry;
  const selected = useApp((state) => state.selectedFaces);
  const hovered = useApp((state) => state.hoveredFace);
  const measured = useDerived((derived) => derived.measures[part.id]?.flags);
  const flags = useMemo(
    () => (side === 'after' && geometry ? coverageOn(geometry, part.coverage) : measured),
    [side, geometry, part.coverage, measured],
  );
  const showFindings = useApp((state) => state.stage === 'part');
  const showTraps = useApp((state) => state.stage === 'hanging');
  const kept = useHanging((state) => state.parts[part.id]?.traps);
  const level = useDerived((derived) => levelOnPart(derived.tank.sizes[part.id], part));
  const traps = useMemo(
    () => kept && trapsInBath(kept, metresPerUnit(part.unit), level),
    [kept, part.unit, level],
  );
  return useMemo(() => {
    const bytes = new Uint8Array(geometry?.triangleCount ?? 0);
    const version = nextVersion();
    if (!geometry || !flags) return { bytes, version };
    const { faceOfTriangle, count } = geometry.faces;
    const marks = new Uint8Array(count);
    for (const row of selected) marks[row]! |= TRIANGLE_STYLE.selected;
    if (hovered !== null && hovered < count) marks[hovered]! |= TRIANGLE_STYLE.hovered;
    for (let triangle = 0; triangle < bytes.length; triangle++) {
      const flag = flags[triangle]!;
      bytes[triangle] =
        marks[faceOfTriangle[triangle]!]! |
        (flag & COVERAGE_BITS.mask
          ? TRIANGLE_STYLE.mask
          : flag & COVERAGE_BITS.contact
            ? TRIANGLE_STYLE.contact
            : 0) |
        (flag & COVERAGE_BITS.show ? TRIANGLE_STYLE.show : 0);
    }
    if (changed) {
      for (const triangle of changed) bytes[triangle]! |= TRIANGLE_STYLE.finding;
    } else if (showFindings) {
      for (const { triangles } of geometry.findings) {
        for (const triangle of triangles) bytes[triangle]! |= TRIANGLE_STYLE.finding;
      }
    }
    if (showTraps && traps) {
      const mark = (pockets: readonly { readonly triangles: Uint32Array }[], style: number): void => {
        for (const { triangles } of pockets) {
          for (const triangle of triangles) if (triangle < bytes.length) bytes[triangle]! |= style;
        }
      };
      mark(traps.gas, TRIANGLE_STYLE.gas);
      mark(traps.liquid, TRIANGLE_STYLE.liquid);
    }
    return { bytes, version };
  }, [geometry, flags, changed, selected, hovered, showFindings, showTraps, traps]);
}

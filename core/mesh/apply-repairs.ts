import type { Repair } from '../job/job-repairs.ts';
import { dropDoubles, dropLines, dropSources } from './drop-triangles.ts';
import { fillGaps, type CutPolygon } from './fill-gaps.ts';
import type { SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';
import { thickenSheet } from './thicken-sheet.ts';
import { turnShells } from './turn-shells.ts';
import { weldGaps } from './weld-gaps.ts';

/** What one repair did. */
export interface RepairStep {
  readonly repair: Repair;
  /** Model units squared. */
  readonly areaBefore: number;
  readonly areaAfter: number;
  /** Added less dropped. */
  readonly trianglesAdded: number;
}

export interface RepairedMesh extends SourcedMesh {
  readonly steps: readonly RepairStep[];
}

/**
 * Does the accepted repairs in their order, on the file's own triangles. One that would leave no triangle at all is passed over.
 */
export function applyRepairs(
  mesh: SourcedMesh,
  repairs: readonly Repair[],
  cutPolygon: CutPolygon,
): RepairedMesh {
  const steps: RepairStep[] = [];
  let now: SourcedMesh = mesh;
  let area = repairs.length > 0 ? surfaceArea(mesh.positions) : 0;
  for (const repair of repairs) {
    const done = applyRepair(now, repair, cutPolygon, mesh.sourceTriangle.length);
    const next = done.positions.length > 0 ? done : now;
    const areaAfter = next === now ? area : surfaceArea(next.positions);
    steps.push({
      repair,
      areaBefore: area,
      areaAfter,
      trianglesAdded: (next.positions.length - now.positions.length) / 9,
    });
    now = next;
    area = areaAfter;
  }
  return { positions: now.positions, sourceTriangle: now.sourceTriangle, steps };
}

function applyRepair(
  mesh: SourcedMesh,
  repair: Repair,
  cutPolygon: CutPolygon,
  fileTriangles: number,
): SourcedMesh {
  switch (repair.kind) {
    case 'weld':
      return weldGaps(mesh, repair.distance);
    case 'turn':
      return turnShells(mesh);
    case 'drop-doubles':
      return dropDoubles(mesh);
    case 'drop-lines':
      return dropLines(mesh);
    case 'drop':
      return dropSources(mesh, repair.triangles);
    case 'fill':
      return fillGaps(mesh, repair.size, cutPolygon, fileTriangles);
    case 'thicken':
      return thickenSheet(mesh, repair.thickness, fileTriangles);
  }
}

import {
  BoxGeometry,
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  EdgesGeometry,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  type Group,
  type Material,
} from 'three';
import { cathodeShape } from '../../core/racking/cathode-shape.ts';
import { BAR_SECTION_M } from '../../core/racking/hanger-clearance.ts';
import type { Tank } from '../../core/racking/tank.ts';
import type { ViewportTheme } from './viewport-theme.ts';

/** Draws vessel, liquid, sheets and bars into a group, metres in the tank's frame. */
export function addTankShapes(group: Group, tank: Tank, theme: ViewportTheme): void {
  const line = new LineBasicMaterial({ color: paint(theme.ink) });
  const rim = new LineBasicMaterial({ color: paint(theme.edge) });
  const wall = new MeshBasicMaterial({
    color: paint(theme.ink),
    transparent: true,
    opacity: 0.07,
    side: DoubleSide,
    depthWrite: false,
  });
  const liquid = new MeshBasicMaterial({
    color: paint(theme.liquid),
    transparent: true,
    opacity: 0.3,
    side: DoubleSide,
    depthWrite: false,
  });
  const outline = vesselOutline(tank);
  group.add(new LineSegments(segments(outline.lines), line));
  group.add(new Mesh(fan(outline.ring, 0), wall));
  const surface = new Mesh(fan(outline.ring, tank.levelM), liquid);
  surface.renderOrder = 3;
  group.add(surface);
  const metal = new MeshLambertMaterial({ color: paint(theme.mask), side: DoubleSide, flatShading: true });
  for (const sheet of tank.cathodes) {
    const { vertices, triangles } = cathodeShape(tank, sheet);
    const shape = new BufferGeometry();
    shape.setAttribute('position', new BufferAttribute(Float32Array.from(vertices), 3));
    shape.setIndex(new BufferAttribute(triangles, 1));
    group.add(new Mesh(shape, metal), new LineSegments(new EdgesGeometry(shape, 30), rim));
  }
  const steel = new MeshLambertMaterial({ color: paint(theme.contact), flatShading: true });
  for (const bar of tank.bars) {
    const long = bar.toM - bar.fromM;
    const shape = new BoxGeometry(
      bar.along === 'x' ? long : BAR_SECTION_M,
      bar.along === 'x' ? BAR_SECTION_M : long,
      BAR_SECTION_M,
    );
    const along = (bar.fromM + bar.toM) / 2;
    const z = bar.heightM + BAR_SECTION_M / 2;
    if (bar.along === 'x') shape.translate(along, bar.acrossM, z);
    else shape.translate(bar.acrossM, along, z);
    group.add(
      new Mesh(shape, bar.role === 'work' ? steel : metal),
      new LineSegments(new EdgesGeometry(shape), rim),
    );
  }
}

export function paint(hex: string): Color {
  return new Color().setStyle(hex, 'srgb-linear');
}

/** Empties a group and frees what it drew with; shared shapes of parts are kept. */
export function clear(group: Group, keepShapes = false): void {
  const materials = new Set<Material>();
  for (const child of [...group.children]) {
    group.remove(child);
    if (child instanceof Mesh || child instanceof LineSegments) {
      materials.add(child.material as Material);
      if (!keepShapes || child instanceof LineSegments) (child.geometry as BufferGeometry).dispose();
    }
  }
  for (const material of materials) material.dispose();
}

export function segments(points: readonly number[]): BufferGeometry {
  const shape = new BufferGeometry();
  shape.setAttribute('position', new BufferAttribute(Float32Array.from(points), 3));
  return shape;
}

function fan(ring: readonly (readonly [number, number])[], z: number): BufferGeometry {
  const points: number[] = [];
  for (let i = 1; i + 1 < ring.length; i++) {
    for (const [x, y] of [ring[0]!, ring[i]!, ring[i + 1]!]) points.push(x, y, z);
  }
  return segments(points);
}

const ROUND_STEPS = 72;

/** Floor and rim as a ring of corners, and the lines to draw. */
function vesselOutline({ vessel }: Tank): { ring: [number, number][]; lines: number[] } {
  const ring: [number, number][] =
    vessel.shape === 'box'
      ? [
          [-vessel.lengthM / 2, -vessel.widthM / 2],
          [vessel.lengthM / 2, -vessel.widthM / 2],
          [vessel.lengthM / 2, vessel.widthM / 2],
          [-vessel.lengthM / 2, vessel.widthM / 2],
        ]
      : Array.from({ length: ROUND_STEPS }, (_, i) => {
          const angle = (2 * Math.PI * i) / ROUND_STEPS;
          const r = vessel.diameterM / 2;
          return [r * Math.cos(angle), r * Math.sin(angle)];
        });
  const lines: number[] = [];
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    for (const z of [0, vessel.heightM]) lines.push(x, y, z, nextX, nextY, z);
    if (vessel.shape === 'box' || i % (ROUND_STEPS / 4) === 0) lines.push(x, y, 0, x, y, vessel.heightM);
  });
  return { ring, lines };
}

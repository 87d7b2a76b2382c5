import { useMemo, useRef } from 'react';
import { inTank } from '../../core/job/tank-plan.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { Clearance } from '../../core/racking/tank-clearance.ts';
import type { Placement } from '../../core/racking/tank.ts';
import { add, subtract, type Vec3 } from '../../core/racking/vec3.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { jobOf } from '../state/app-store.ts';
import { movePlacement, snapToBars } from '../state/edit-tank.ts';
import { runTankCheck } from '../state/follow-tank.ts';
import {
  levelOfClearance,
  levelOfCopy,
  liveCheck,
  middleInPart,
  middleOfCopy,
  wiresOf,
} from '../state/tank-view-data.ts';
import { TankView } from '../viewport/tank-view.tsx';
import type { TankViewPart } from '../viewport/tank-props.ts';
import { useViewportTheme } from '../viewport/viewport-theme.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { useApp, useDerived, useHanging, useServices } from './services.ts';

const NEIGHBOUR_WORDS: Readonly<Record<Clearance['to'], string>> = {
  cathode: 'cathode',
  wall: 'wall',
  floor: 'floor',
  surface: 'surface',
  part: 'next',
};

/** The tank over the part's view, at the tank stage. */
export function TankDesk() {
  const services = useServices();
  const { hanging } = services;
  const job = useApp(jobOf);
  const meshes = useApp((state) => state.meshes);
  const system = useApp((state) => state.unitSystem);
  const sizes = useDerived((derived) => derived.tank.sizes);
  const hung = useDerived((derived) => derived.tank.copies);
  const selectedId = useHanging((state) => state.selectedPlacementId);
  const settled = useHanging((state) => state.tankCheck);
  const dragged = useHanging((state) => state.dragCheck);
  const theme = useViewportTheme();
  /** Rises with every drop: what was asked while dragging is old then. */
  const drops = useRef(0);

  const parts = useMemo(() => {
    const found: Record<string, TankViewPart> = {};
    for (const part of job.parts) {
      const mesh = meshes[part.id];
      const size = sizes[part.id];
      if (!mesh || !size) continue;
      found[part.id] = {
        positions: mesh.geometry.positions,
        metresPerUnit: metresPerUnit(part.unit),
        pickIndex: mesh.pickIndex,
        middleM: middleInPart(job, size, part.id),
      };
    }
    return found;
  }, [job, meshes, sizes]);
  const check = useMemo(() => liveCheck(settled, dragged, selectedId), [settled, dragged, selectedId]);
  const copies = useMemo(
    () =>
      hung.map((placement, index) => ({
        placement,
        number: index + 1,
        level: levelOfCopy(check.findings, placement.id),
      })),
    [hung, check],
  );
  const wires = useMemo(() => (inTank(job) ? wiresOf(job, hung) : []), [job, hung]);
  const lines = useMemo(
    () =>
      check.clearances
        .filter(({ placementId }) => placementId === selectedId)
        .map((clearance) => ({
          from: clearance.onPart,
          to: clearance.onOther,
          text: `${NEIGHBOUR_WORDS[clearance.to]} ${formatQuantity('length', clearance.distanceM.valueSi, system, 3).text}`,
          level: levelOfClearance(clearance, check.findings),
        })),
    [check, selectedId, system],
  );
  if (!inTank(job)) {
    return (
      <div className="tank-desk empty-view">
        <div>
          <h2>No tank chosen yet</h2>
          <p className="lead">Choose one from the shop’s book in the panel, or describe yours there once.</p>
        </div>
      </div>
    );
  }
  const { tank } = job.tank;

  /** Snapped to a bar by the middle of its box. The level says how high a part hangs that stands out of the liquid. */
  const snapped = (placement: Placement, [x, y, z]: Vec3): Vec3 => {
    const isLevel = sizes[placement.partId]?.depthM !== undefined;
    const offsetM: Vec3 = [x, y, isLevel ? placement.pose.offsetM[2] : z];
    const middleM = parts[placement.partId]?.middleM;
    if (!middleM) return offsetM;
    const moved = { ...placement, pose: { ...placement.pose, offsetM } };
    const middle = middleOfCopy(moved, middleM);
    return add(offsetM, subtract(snapToBars(tank, middle), middle));
  };
  const drag = (id: string, offsetM: Vec3): Vec3 => {
    const placement = hung.find((other) => other.id === id);
    if (!placement) return offsetM;
    const to = snapped(placement, offsetM);
    const placements = hung.map((other) =>
      other.id === id ? { ...other, pose: { ...other.pose, offsetM: to } } : other,
    );
    const before = drops.current;
    void runTankCheck(services, job, placements, id).then((now) => {
      if (before === drops.current && now?.ok) hanging.setState({ dragCheck: now.value });
    });
    return to;
  };
  const drop = (id: string, offsetM: Vec3): void => {
    const placement = hung.find((other) => other.id === id);
    drops.current += 1;
    if (placement) movePlacement(services, placement, offsetM);
  };
  return (
    <div className="tank-desk">
      <TankView
        tank={tank}
        parts={parts}
        copies={copies}
        wires={wires}
        lines={lines}
        selectedId={selectedId}
        theme={theme}
        label={`${tank.name} with ${hung.length === 1 ? 'one copy' : `${hung.length} copies`}`}
        renderTool={(label, onPress) => (
          <ActionButton look="small" onPress={onPress}>
            {label}
          </ActionButton>
        )}
        onSelect={(id) => hanging.setState({ selectedPlacementId: id, dragCheck: null })}
        onDrag={drag}
        onDrop={drop}
      />
    </div>
  );
}

import type { Tank } from '../racking/tank.ts';
import type { Job } from './job.ts';

/** Size of the bath, and where it was taken from. */
export interface BathVessel {
  readonly volumeM3: number;
  /** Open liquid, wetted walls and floor. */
  readonly surfaceM2: number;
  readonly wallM2: number;
  readonly volumeFrom: 'typed' | 'tank';
}

/** Each as typed, else as the job's tank is filled, else (areas alone) a cube's; null while no volume is known. */
export function bathVessel({ bath, tank }: Job): BathVessel | null {
  const filled = tank ? filledTank(tank.tank) : null;
  const volumeM3 = bath.volumeM3 ?? filled?.volumeM3 ?? null;
  if (volumeM3 === null) return null;
  const face = Math.cbrt(volumeM3) ** 2;
  return {
    volumeM3,
    surfaceM2: bath.surfaceM2 ?? filled?.surfaceM2 ?? face,
    wallM2: bath.wallM2 ?? filled?.wallM2 ?? 5 * face,
    volumeFrom: bath.volumeM3 === null ? 'tank' : 'typed',
  };
}

function filledTank({ vessel, levelM }: Tank): { volumeM3: number; surfaceM2: number; wallM2: number } {
  const round = vessel.shape === 'round';
  const floor = round ? (Math.PI / 4) * vessel.diameterM ** 2 : vessel.lengthM * vessel.widthM;
  const around = round ? Math.PI * vessel.diameterM : 2 * (vessel.lengthM + vessel.widthM);
  return { volumeM3: floor * levelM, surfaceM2: floor, wallM2: floor + around * levelM };
}

/** What the job's tank holds when it is full to its rim; null without a tank. */
export function rimVolumeM3({ tank }: Job): number | null {
  return tank ? filledTank({ ...tank.tank, levelM: tank.tank.vessel.heightM }).volumeM3 : null;
}

/** Open liquid of the bath: as typed, else the vessel's; null while neither is known. */
export function bathSurfaceM2(job: Job): number | null {
  return job.bath.surfaceM2 ?? bathVessel(job)?.surfaceM2 ?? null;
}

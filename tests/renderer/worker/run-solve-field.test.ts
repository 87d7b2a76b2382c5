import { describe, expect, it } from 'vitest';
import { solveScene } from '../../../core/field/solve-scene.ts';
import { fieldSetting } from '../../../core/job/field-setting.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { runSolveField } from '../../../renderer/worker/run-solve-field.ts';
import type { JobProgress } from '../../../renderer/worker/jobs.ts';
import { boxJob } from '../../fixtures/box-job.ts';

function scene() {
  const { geometry, part, job } = boxJob();
  const ground = { geometry, measure: measurePart(part, geometry), plugs: null, meshKey: 'm' };
  const setting = fieldSetting(job, 'p', { p: ground }, 0, { mostCells: 20 ** 3 });
  if (!setting.ok) throw new Error(setting.error.message);
  return setting.value.scene;
}

describe('solveField in the worker', () => {
  it('gives what a direct call gives, after progress that only grows and one first look', async () => {
    const told: JobProgress[] = [];
    const result = await runSolveField({ name: 'box', scene: structuredClone(scene()) }, (progress) => {
      told.push(progress);
    });
    const direct = solveScene(scene());
    if (!result.ok || !direct.ok) throw new Error('not solved');
    expect(result.value.result.fine.part).toEqual(direct.value.result.fine.part);
    expect(result.value.source).toEqual(direct.value.source);

    const shares = told.map(({ fraction }) => fraction!);
    expect(shares.every((share, i) => share >= 0 && share <= 1 && (i === 0 || share >= shares[i - 1]!))).toBe(
      true,
    );
    const steps = told.map(({ field }) => field!);
    expect(steps[0]).toMatchObject({ grid: 'coarse', stage: 'cutting' });
    // Said before the work begins, and the same to its end.
    expect(new Set(steps.map(({ bytes }) => bytes)).size).toBe(1);
    expect(steps[0]!.bytes).toBeGreaterThan(1000);
    expect(steps.at(-1)!.relativeResidual).toBeLessThanOrEqual(1e-6);
    const looks = steps.filter(({ preview }) => preview !== undefined);
    expect(looks).toHaveLength(1);
    expect(looks[0]!.grid).toBe('fine');
    expect(looks[0]!.preview!.triangleAPerM2).toHaveLength(looks[0]!.preview!.source.length);
  });

  it('passes the reason on when there is nothing to solve', async () => {
    const dry = { ...scene(), levelM: 0.01 };
    const result = await runSolveField({ name: 'box', scene: dry }, () => {});
    expect(result.ok ? '' : result.error.code).toBe('field-out-of-bath');
  });
});

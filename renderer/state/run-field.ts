import { cathodeLayouts, densitySpread } from '../../core/field/cathode-layouts.ts';
import type { FieldVariant, FieldSetting } from '../../core/job/field-setting.ts';
import type { Failure } from '../../core/result.ts';
import type { Services } from '../app/services.ts';
import type { SideRanking } from './field-store.ts';
import { keepResult } from './field-store.ts';
import { jobOf } from './app-store.ts';

/** Layouts are only ranked, so a coarse grid does. */
const RANKING_CELLS = 32 ** 3;
/** The coarse grid beside the fine one. */
const BOTH_GRIDS = 1.125;

type Desk = Pick<Services, 'store' | 'derived' | 'field' | 'worker'>;

/** The job as it stands with a what-if's changes, as the solver sees it. */
export function settingFor({ store, derived, field }: Desk, partId: string, variant: FieldVariant = {}) {
  const { measures, wet } = derived.getState();
  const surfaces = { measures, fits: wet.fits };
  return field.deriver.settingOf(store.getState(), surfaces, partId, field.store.getState(), variant);
}

/** The map of a part as the job stands. */
export async function startField(desk: Desk, partId: string): Promise<void> {
  const setting = settingFor(desk, partId);
  if (!setting.ok) return fail(desk, partId, setting.error);
  await solve(desk, setting.value, 'the map', true, null);
}

/** Solves what a what-if changes, unless it is known already. */
export async function runTrial(
  desk: Desk,
  partId: string,
  name: string,
  variant: FieldVariant,
): Promise<void> {
  const setting = settingFor(desk, partId, variant);
  if (!setting.ok) return fail(desk, partId, setting.error);
  if (desk.field.store.getState().results.has(setting.value.key)) return;
  await solve(desk, setting.value, name, false, null);
}

/** Every cathode layout of the tank on a coarse grid, most even first. Stops with the first one that is stopped. */
export async function rankSides(desk: Desk, partId: string): Promise<void> {
  const tank = jobOf(desk.store.getState()).tank?.tank;
  if (!tank) return;
  const layouts = cathodeLayouts(tank);
  const rows: SideRanking['rows'][number][] = [];
  const failed: SideRanking['failed'][number][] = [];
  desk.field.store.setState({ ranking: null });
  for (const [i, layout] of layouts.entries()) {
    const setting = settingFor(desk, partId, { tank: layout.tank, mostCells: RANKING_CELLS });
    if (!setting.ok) return fail(desk, partId, setting.error);
    const place = { number: i + 1, of: layouts.length };
    const error = await solve(desk, setting.value, `cathodes: ${layout.name}`, false, place);
    if (error?.code === 'cancelled') return;
    if (error) {
      failed.push({ name: layout.name, message: error.message });
      continue;
    }
    const { part, cellVoltageV } = desk.field.store.getState().results.get(setting.value.key)!.field.result
      .fine;
    rows.push({
      layoutId: layout.id,
      name: layout.name,
      spread: densitySpread(part),
      leastShare: part.leastAPerM2 / (part.currentA / part.areaM2),
      cellVoltageV,
    });
  }
  rows.sort((a, b) => a.spread - b.spread);
  desk.field.store.setState({ ranking: { partId, rows, failed }, failure: null });
}

async function solve(
  desk: Desk,
  setting: FieldSetting,
  what: string,
  isJobs: boolean,
  place: { readonly number: number; readonly of: number } | null,
): Promise<Failure | null> {
  const { store } = desk.field;
  store.getState().run?.stop();
  const stopper = new AbortController();
  const startedAtMs = performance.now();
  const { key, partId, scene } = setting;
  const stop = (): void => stopper.abort();
  const mine = (): boolean => store.getState().run?.stop === stop;
  store.setState({
    failure: null,
    run: {
      key,
      partId,
      what,
      startedAtMs,
      fraction: 0,
      phase: 'starting',
      step: null,
      preview: null,
      place,
      stop,
    },
  });
  const solved = await desk.worker.run(
    'solveField',
    { name: scene.parts[scene.copies[scene.mapped]!.part]!.name, scene },
    {
      signal: stopper.signal,
      onProgress: ({ phase, fraction, field: step }) => {
        if (!mine()) return;
        store.setState(({ run }) => ({
          run: run && {
            ...run,
            phase,
            fraction: fraction ?? run.fraction,
            step: step ?? run.step,
            preview: step?.preview ?? run.preview,
          },
        }));
      },
    },
  );
  const seconds = (performance.now() - startedAtMs) / 1000;
  if (mine()) store.setState({ run: null });
  if (!solved.ok) {
    if (solved.error.code !== 'cancelled' && place === null) fail(desk, partId, solved.error);
    return solved.error;
  }
  store.setState({ secondsPerCell: seconds / (BOTH_GRIDS * solved.value.result.fine.cells) });
  keepResult(store, { setting, field: solved.value, seconds }, isJobs);
  return null;
}

function fail(desk: Desk, partId: string, failure: Failure): void {
  desk.field.store.setState({ failure: { partId, failure } });
}

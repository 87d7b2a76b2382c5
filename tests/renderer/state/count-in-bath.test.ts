import { expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { BathEntry } from '../../../core/bath/bath-history.ts';
import { emptyJob } from '../../../core/job/default-job.ts';
import { changeBath } from '../../../core/job/edit-job.ts';
import { readingsFrom } from '../../../core/run/readings.ts';
import { loadPlanSchema } from '../../../core/shop/run-record.ts';
import type { Services } from '../../../renderer/app/services.ts';
import { createAppStore } from '../../../renderer/state/app-store.ts';
import { countRunsInBaths } from '../../../renderer/state/count-in-bath.ts';
import { openRunJournal } from '../../../renderer/state/run-journal.ts';
import { createRunLock } from '../../../renderer/state/run-lock.ts';
import { createRunRecorder } from '../../../renderer/state/run-recorder.ts';
import { MemoryRunStore, MemoryStorage, StandInLocks } from './stand-ins/memory-run-store.ts';

const plan = loadPlanSchema.parse({
  areaM2: 0.04,
  currentDensityAPerM2: 100,
  chargePerVolumeCPerM3: 1.8e10,
  chargeRelativeUncertainty: 0.1,
  chargeSource: { standing: 'published', text: '' },
  thicknessM: 25e-6,
  rampS: 0,
  holdS: 3600,
  supplyCurrentLimitA: null,
  supplyVoltageLimitV: null,
  bathTemperatureK: 293.15,
  acidKgPerM3: 180,
  expectedVoltageV: 15,
});

interface ShelfState {
  readonly records: readonly { readonly id: string; readonly entries: readonly BathEntry[] }[];
}

/** A recorder, a book with one bath, and a clock that passes when told. */
function shop() {
  let nowMs = 1_800_000_000_000;
  const store = new MemoryRunStore();
  const made: BathEntry = {
    kind: 'made',
    at: '2026-01-01T09:00:00.000Z',
    volumeM3: 0.012,
    freeAcidKgPerM3: 180,
    aluminiumKgPerM3: 0,
  };
  const baths = createStore<ShelfState>(() => ({ records: [{ id: 'b', entries: [made] }] }));
  const recorder = createRunRecorder({
    store,
    lock: createRunLock(new StandInLocks()),
    journal: openRunJournal(new MemoryStorage()),
    machine: { wallMs: () => nowMs, forwardMs: () => nowMs, start: 'a' },
    newId: () => 'run-1',
    onTrouble: () => {},
  });
  const appStore = createAppStore();
  const services = {
    store: appStore,
    runs: { recorder, store },
    wetShop: {
      baths: {
        store: baths,
        put: async (record: ShelfState['records'][number]) => baths.setState({ records: [record] }),
      },
    },
  } as unknown as Services;
  countRunsInBaths(services);
  return {
    recorder,
    appStore,
    pass: (seconds: number) => {
      nowMs += seconds * 1000;
    },
    charges: (): number[] =>
      baths.getState().records[0]!.entries.flatMap((entry) => (entry.kind === 'run' ? [entry.chargeC] : [])),
    async begin() {
      const job = changeBath(emptyJob('Plate'), { shopBathId: 'b' });
      await recorder.start({
        name: 'Plate',
        plan,
        steps: [{ kind: 'hold', label: 'Hold', plannedS: 3600 }],
        job,
        models: new Map(),
        practise: null,
        supplyId: null,
        jobFacts: {},
      });
      recorder.mark('begin');
    },
  };
}

const settle = async (): Promise<void> => {
  for (let i = 0; i < 30; i++) await Promise.resolve();
};
/** Held current for an hour, a reading a minute: 3600 s · I. */
const log = (currentA: number) =>
  readingsFrom(
    Array.from({ length: 61 }, (_, i) => ({ tS: 60 * i, voltageV: 15, currentA })),
    'log',
  );

it('a run without readings is counted when the logger’s file comes after its end', async () => {
  const { recorder, appStore, pass, charges, begin } = shop();
  await begin();
  pass(3600);
  recorder.mark('end');
  await settle();
  expect(charges()).toEqual([]);
  expect(appStore.getState().notices.map(({ failure }) => failure.code)).toEqual(['run-without-charge']);
  expect(recorder.joinLog(log(4), 0, 'meter.csv').ok).toBe(true);
  await settle();
  expect(charges()).toHaveLength(1);
  expect(charges()[0]).toBeCloseTo(4 * 3600, 6);
});

it('a run counted by what was typed takes the logger’s charge in the same line', async () => {
  const { recorder, pass, charges, begin } = shop();
  await begin();
  for (let i = 0; i <= 4; i++) {
    recorder.addTyped({ voltageV: 15, currentA: 3 });
    pass(600);
  }
  recorder.mark('end');
  await settle();
  expect(charges()).toHaveLength(1);
  expect(charges()[0]).toBeCloseTo(3 * 2400, 6);
  recorder.joinLog(log(4), 0, 'meter.csv');
  await settle();
  expect(charges()).toHaveLength(1);
  expect(charges()[0]).toBeCloseTo(4 * 3600, 6);
});

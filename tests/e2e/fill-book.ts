import type { Page } from 'playwright-core';
import { emptyJob, newPartWithoutFile } from '../../core/job/default-job.ts';
import { packReadings } from '../../core/run/pack-readings.ts';
import { readingsFrom, type Reading } from '../../core/run/readings.ts';
import { newStepClock } from '../../core/run/step-clock.ts';
import { runFacts } from '../../core/run/run-facts.ts';
import { runRecordSchema, type RunRecord } from '../../core/shop/run-record.ts';
import { runSummary } from '../../core/shop/run-summary.ts';

export const FIRST_START_MS = Date.UTC(2026, 0, 1, 9);

/** A run of two hours read every `everyS` seconds; density, film and bath differ from run to run. */
export function bookRun(index: number, everyS: number): { record: RunRecord; readings: Uint8Array } {
  const densityAPerM2 = 100 + 10 * (index % 6);
  const areaM2 = 0.04;
  const list: Reading[] = [];
  for (let tS = 0; tS < 7200; tS += everyS) {
    const ramp = Math.min(1, tS / 300);
    list.push({
      tS,
      // What displays with two and three digits after the point would show.
      voltageV: Math.round((9 + 0.04 * densityAPerM2 * ramp + 0.3 * Math.sin(tS / 97 + index)) * 100) / 100,
      currentA: Math.round(areaM2 * densityAPerM2 * ramp * 1000) / 1000,
      ...(tS % 300 === 0
        ? { bathTemperatureK: Math.round((293.15 + (index % 5) / 2 + tS / 5000) * 10) / 10 }
        : {}),
    });
  }
  const readings = readingsFrom(list, 'supply');
  const facts = runFacts(readings, 300, []);
  const beginMs = FIRST_START_MS + index * 6 * 3600_000;
  const filmM = facts.chargeC / (1.9e10 * areaM2);
  const record = runRecordSchema.parse({
    id: `book-${index}`,
    name: `Plate ${index}`,
    createdAtMs: beginMs,
    endedAtMs: beginMs + 7200_000,
    outcome: ['good', 'good', 'flawed', 'failed', 'unjudged'][index % 5],
    origin: 'supply',
    plan: {
      load: 2,
      loads: 2,
      pieces: '1 × plate',
      counts: [{ partId: 'p1', count: 1 }],
      areaM2,
      currentDensityAPerM2: densityAPerM2,
      chargePerVolumeCPerM3: 1.83e10,
      chargeRelativeUncertainty: 0.1,
      chargeSource: { standing: 'published', text: 'the 720 rule' },
      thicknessM: 25e-6,
      rampS: 300,
      holdS: 6900,
      supplyCurrentLimitA: 10,
      supplyVoltageLimitV: 30,
      bathTemperatureK: 293.15,
      acidKgPerM3: 180,
      expectedVoltageV: 15,
    },
    clock: {
      ...newStepClock([{ kind: 'hold', label: 'Hold', plannedS: 6900 }]),
      marks: [
        { kind: 'begin', atMs: beginMs },
        { kind: 'end', atMs: beginMs + 7200_000 },
      ],
    },
    facts,
    film: { valueM: filmM, lowM: 0.9 * filmM, highM: 1.1 * filmM },
    measured: { filmM: [filmM * (1 + 0.01 * ((index % 3) - 1))] },
    note: index % 7 === 0 ? 'streaky at the edge' : '',
    dye: index % 2 === 0 ? 'Blue 4' : '',
    colour: '',
  });
  return { record, readings: packReadings(readings) };
}

/** Writes runs straight into the page's database; one set of readings serves all of a stretch. */
export async function fillBook(page: Page, count: number, everyS: number, stretch = 500): Promise<void> {
  const part = newPartWithoutFile('p1', 'plate', {
    kind: 'typed',
    areaM2: 0.04,
  } as Parameters<typeof newPartWithoutFile>[2]);
  const job = { ...emptyJob('Plate'), parts: [{ ...part, quantity: 4 }] };
  for (let from = 0; from < count; from += stretch) {
    const many = Array.from({ length: Math.min(stretch, count - from) }, (_, i) => {
      const { record } = i % 50 === 0 || count < 100 ? bookRun(from + i, everyS) : bookRun(from + i, 600);
      return { record, summary: runSummary(record) };
    });
    const own =
      count < 100 ? many.map((_, i) => bookRun(from + i, everyS).readings) : [bookRun(from, everyS).readings];
    await page.evaluate(
      ({ many, packed, job }) =>
        new Promise<void>((resolve, reject) => {
          const bytesOf = (base64: string): Uint8Array =>
            Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
          const all = packed.map(bytesOf);
          const open = indexedDB.open('tankside-shop');
          open.onerror = () => reject(open.error);
          open.onsuccess = () => {
            const write = open.result.transaction(['runs', 'runDetails', 'readings', 'runJobs'], 'readwrite');
            many.forEach(({ record, summary }, i) => {
              const { id, startedAtMs, name, outcome } = summary;
              write
                .objectStore('runs')
                .put({ id, changedAtMs: 1, startedAtMs, name, outcome, record: summary });
              write.objectStore('runDetails').put({ runId: id, changedAtMs: 1, record });
              write.objectStore('readings').put({ runId: id, bytes: all[i % all.length] });
              write.objectStore('runJobs').put({ runId: id, job, models: [] });
            });
            write.oncomplete = () => {
              open.result.close();
              resolve();
            };
            write.onerror = () => reject(write.error);
          };
        }),
      { many, packed: own.map((bytes) => Buffer.from(bytes).toString('base64')), job },
    );
  }
}

import { openShelf } from './shop-shelf.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { supplyRecordSchema } from '../../core/shop/supply-record.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { Failure } from '../../core/result.ts';
import { openLogbook } from './logbook.ts';
import { openRunJournal } from './run-journal.ts';
import { createRunLock } from './run-lock.ts';
import { createRunRecorder } from './run-recorder.ts';
import type { RunServices } from './run-services.ts';
import { followRunSignals } from './run-signals.ts';
import { openRunStore, storageFailure } from './run-store.ts';
import { keepsRun } from './run-view.ts';
import type { ShopDatabase } from './shop-database.ts';
import { createSounds } from './sounds.ts';
import { openTypedText } from './typed-text.ts';
import { createSupplyDesk } from './supply-desk.ts';
import type { SerialLike } from './supply-link.ts';

const TICK_MS = 250;

/** As much of the browser as the run needs. */
export interface RunPlatform {
  readonly locks: LockManager;
  /** null where the browser keeps none for this page. */
  readonly storage: Storage | null;
  readonly serial: SerialLike | null;
  readonly wallMs: () => number;
  readonly forwardMs: () => number;
  readonly newId: () => string;
  readonly digest: (bytes: Uint8Array) => Promise<string>;
  readonly makeAudio: () => AudioContext | null;
  readonly tell: (title: string, body: string) => void;
  readonly wait: (ms: number) => Promise<void>;
}

export function createRunServices(
  database: ShopDatabase,
  platform: RunPlatform,
  onTrouble: (failure: Failure, level: 'check' | 'stop') => void,
  system: () => UnitSystem,
): RunServices {
  database.on('blocked', () =>
    onTrouble(
      {
        code: 'book-upgrade-blocked',
        message: 'Another window with an older version of the program holds the shop’s book.',
        remedy: 'Close the other windows of Tankside; this one goes on by itself then.',
      },
      'stop',
    ),
  );
  database.on('versionchange', () =>
    onTrouble(
      {
        code: 'book-taken-by-newer',
        message: 'A newer version of the program has opened the shop’s book in another window.',
        remedy: 'Load this window again; a run in progress is found there.',
      },
      'stop',
    ),
  );
  const store = openRunStore(database, platform.digest, platform.wallMs);
  const recorder = createRunRecorder({
    store,
    lock: createRunLock(platform.locks),
    journal: openRunJournal(platform.storage),
    machine: { wallMs: platform.wallMs, forwardMs: platform.forwardMs, start: platform.newId() },
    newId: platform.newId,
    onTrouble,
  });
  const desk = createSupplyDesk(platform.serial, recorder, () => platform.forwardMs() / 1000, platform.wait);
  const sounds = createSounds(platform.makeAudio);
  followRunSignals({ recorder, desk, sounds, tell: platform.tell, system });
  return {
    recorder,
    store,
    desk,
    sounds,
    typedText: openTypedText(platform.storage),
    logbook: openLogbook(database),
    database,
    newId: platform.newId,
    supplies: openShelf(database.supplies, supplyRecordSchema, (fault) =>
      onTrouble(storageFailure(fault), 'stop'),
    ),
  };
}

/** Keeps the screen on while a run of this window goes on or was left on; where the browser can't, it goes dark as it always does. */
function keepScreenOn({ recorder }: RunServices): void {
  let lock: WakeLockSentinel | null = null;
  let asking = false;
  const follow = async (): Promise<void> => {
    const wanted = keepsRun(recorder.view.getState());
    if (!wanted) {
      await lock?.release();
      lock = null;
      return;
    }
    // The lock is taken away whenever the page is hidden.
    if (asking || (lock && !lock.released) || document.visibilityState !== 'visible') return;
    asking = true;
    lock = (await navigator.wakeLock?.request('screen').catch(() => null)) ?? null;
    asking = false;
  };
  let was: string | null = null;
  recorder.view.subscribe((view) => {
    const now = keepsRun(view) ? view.record.id : null;
    if (now === was) return;
    was = now;
    void follow();
  });
  document.addEventListener('visibilitychange', () => void follow());
}

/** Keeps time going, finds a run in progress or left on again, and takes up its supply where the port was allowed before. */
export async function followRuns(runs: RunServices, onFound: (record: RunRecord) => void): Promise<void> {
  window.setInterval(() => runs.recorder.tick(), TICK_MS);
  keepScreenOn(runs);
  const found = await runs.recorder.findAgain();
  if (!found) return;
  onFound(found);
  if (found.supplyId === null) return;
  const row = await runs.database.supplies.get(found.supplyId);
  const supply = supplyRecordSchema.safeParse(row?.record);
  if (supply.success) await runs.desk.connectAgain(supply.data);
}

/** What the browser has of it. */
export function browserPlatform(): RunPlatform {
  const { serial } = navigator as Navigator & { readonly serial?: SerialLike };
  return {
    locks: navigator.locks,
    storage: pageStorage(),
    serial: serial ?? null,
    wallMs: () => Date.now(),
    forwardMs: () => performance.now(),
    newId: () => crypto.randomUUID(),
    async digest(bytes) {
      const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes.slice()));
      return Array.from(sum, (byte) => byte.toString(16).padStart(2, '0')).join('');
    },
    makeAudio: () => (typeof AudioContext === 'undefined' ? null : new AudioContext()),
    tell(title, body) {
      if (typeof Notification === 'undefined' || Notification.permission !== 'granted') return;
      new Notification(title, { body, requireInteraction: true });
    },
    wait: (ms) => new Promise((resolve) => window.setTimeout(resolve, ms)),
  };
}

function pageStorage(): Storage | null {
  try {
    return window.localStorage;
  } catch {
    return null; // Reading the property throws where storage is blocked.
  }
}

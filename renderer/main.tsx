/** The page's composition root: everything is built here and handed down. */
import './state/valid-language.ts';
import './state/schemas-without-eval.ts';
import { StrictMode } from 'react';
import { I18nProvider } from 'react-aria-components';
import { createRoot } from 'react-dom/client';
import type { Bridge } from '../core/bridge/bridge.ts';
import { isSimulated } from '../core/shop/run-record.ts';
import { App } from './app/app.tsx';
import { ServicesContext, type Services } from './app/services.ts';
import { createAppStore, isUnsaved, jobOf } from './state/app-store.ts';
import { BrowserBridge } from './state/browser-bridge.ts';
import { countRunsInBaths } from './state/count-in-bath.ts';
import { createFieldDeriver } from './state/derive-field.ts';
import { deriveFrom } from './state/derived.ts';
import { DeskDatabase } from './state/desk-database.ts';
import { DraftKeeper } from './state/draft-keeper.ts';
import { followMesh } from './state/follow-mesh.ts';
import { followHanging } from './state/follow-hanging.ts';
import { createFieldStore } from './state/field-store.ts';
import { followMaps, mapShelf } from './state/kept-maps.ts';
import { createHangingStore } from './state/hanging-store.ts';
import { followPacking } from './state/follow-packing.ts';
import { followTank } from './state/follow-tank.ts';
import { isLeftOn } from './state/left-on.ts';
import { openRackShop } from './state/rack-shop.ts';
import { closeNoticesWithStage, dropNotices, notify } from './state/notices.ts';
import { takeOpenEntry } from './state/open-entry.ts';
import { keepSettings, restoreSettings } from './state/settings.ts';
import { ShopDatabase } from './state/shop-database.ts';
import { keepsRun } from './state/run-view.ts';
import { browserPlatform, createRunServices, followRuns } from './state/start-runs.ts';
import { startSession } from './state/start-session.ts';
import { usualUnits } from './state/usual-units.ts';
import { openWetShop } from './state/wet-shop.ts';
import { createWorkerClient } from './worker/client.ts';
import { startWorker } from './worker/start-worker.ts';
import './app/tokens.css';
import './app/app.css';
import './sheet/paper.css';
import './sheet/print.css';

declare global {
  interface Window {
    /** Put there by Electron's preload; absent in a plain browser. */
    readonly tankside?: Bridge;
  }
}

const RUN_FOUND = 'run-found';

const database = new DeskDatabase();
const store = createAppStore({ unitSystem: usualUnits(navigator.language) });
const shopDatabase = new ShopDatabase();
const hanging = createHangingStore();
const field = { store: createFieldStore(), deriver: createFieldDeriver() };
const shopBlocked = (): void =>
  notify(store, {
    code: 'shop-book-closed',
    message: 'The shop’s book can not be read here.',
    remedy: 'Let this page keep data; until then equipment, baths and dyes are not remembered.',
  });
const services: Services = {
  store,
  hanging,
  field,
  derived: deriveFrom(store, hanging, field),
  bridge: window.tankside ?? new BrowserBridge(database),
  worker: createWorkerClient(startWorker),
  runs: createRunServices(
    shopDatabase,
    browserPlatform(),
    (failure, level) => notify(store, failure, level),
    () => store.getState().unitSystem,
  ),
  wetShop: openWetShop(shopDatabase, shopBlocked),
  rackShop: openRackShop(shopDatabase, shopBlocked),
};
const drafts = new DraftKeeper(
  database,
  navigator.locks,
  () => crypto.randomUUID(),
  (failure) => notify(store, failure),
);

async function start(): Promise<void> {
  await restoreSettings(store, database).catch(() => {}); // Blocked storage is reported by startSession.
  keepSettings(store, database);
  closeNoticesWithStage(store);
  followMesh(services);
  followHanging(store, services.derived, hanging, services.worker);
  followTank(services);
  followPacking(services);
  followMaps(services, mapShelf(database.maps));
  countRunsInBaths(services);
  const session = startSession(services, drafts);
  // Whatever the session shows, a run that goes on comes first.
  void followRuns(services.runs, (found) => {
    store.setState({ stage: 'run' });
    void session.finally(() => {
      store.setState({ stage: 'run' });
      // What was left on says so itself, over every stage.
      if (isLeftOn(found)) return;
      notify(
        store,
        {
          code: RUN_FOUND,
          message: `“${found.name}” is still going on; its time went on from the clock.`,
          remedy: 'Readings, timers and alarm are where they were.',
        },
        'check',
      );
    });
  });
  await session;
  drafts.watch(store, document);
  await drafts.write(store);
}

/** A run kept by this window, or one it was left on with; practise may be left at any moment. */
function runGoesOn(): boolean {
  const view = services.runs.recorder.view.getState();
  return keepsRun(view) && !isSimulated(view.record);
}

function showWindowState(): void {
  const state = store.getState();
  services.bridge.showWindowState({
    title: jobOf(state).name,
    unsaved: isUnsaved(state),
    runGoesOn: runGoesOn(),
  });
}

store.subscribe(showWindowState);
let wentOn = false;
services.runs.recorder.view.subscribe(() => {
  if (runGoesOn() === wentOn) return;
  wentOn = !wentOn;
  showWindowState();
});
// Seen at the run, it goes with it.
store.subscribe((state, before) => {
  if (before.stage === 'run' && state.stage !== 'run') dropNotices(store, RUN_FOUND);
});
// A browser lets a page sound an alarm only after its user did something in it.
for (const kind of ['pointerdown', 'keydown'])
  window.addEventListener(kind, () => services.runs.sounds.unlock());
window.addEventListener('beforeunload', (event) => {
  takeOpenEntry();
  if (isUnsaved(store.getState()) || runGoesOn()) event.preventDefault();
});

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <ServicesContext value={services}>
      {/* The page speaks English: what the widgets say of themselves does too. */}
      <I18nProvider locale="en">
        <App />
      </I18nProvider>
    </ServicesContext>
  </StrictMode>,
);
void start();

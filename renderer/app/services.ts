import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { Bridge } from '../../core/bridge/bridge.ts';
import type { AppState } from '../state/app-state.ts';
import type { AppStore } from '../state/app-store.ts';
import type { Derived, DerivedStore } from '../state/derived.ts';
import type { Shelf, ShelfState, ShopRecord } from '../state/shop-shelf.ts';
import type { FieldDeriver } from '../state/derive-field.ts';
import type { FieldState, FieldStore } from '../state/field-store.ts';
import type { HangingState, HangingStore } from '../state/hanging-store.ts';
import type { RackShop } from '../state/rack-shop.ts';
import type { WetShop } from '../state/wet-shop.ts';
import type { LogbookState } from '../state/logbook.ts';
import type { RunView } from '../state/run-view.ts';
import type { RunServices } from '../state/run-services.ts';
import type { SupplyDeskState } from '../state/supply-desk.ts';
import type { WorkerClient } from '../worker/client.ts';

/** What main.tsx builds and the components use. */
export interface Services {
  readonly store: AppStore;
  readonly derived: DerivedStore;
  readonly bridge: Bridge;
  readonly worker: WorkerClient;
  readonly wetShop: WetShop;
  readonly runs: RunServices;
  readonly rackShop: RackShop;
  readonly hanging: HangingStore;
  readonly field: { readonly store: FieldStore; readonly deriver: FieldDeriver };
}

export const ServicesContext = createContext<Services | null>(null);

export function useServices(): Services {
  const services = useContext(ServicesContext);
  if (!services) throw new Error('useServices: no ServicesContext above this component');
  return services;
}

export function useApp<T>(selector: (state: AppState) => T): T {
  return useStore(useServices().store, selector);
}

export function useField<T>(selector: (state: FieldState) => T): T {
  return useStore(useServices().field.store, selector);
}

export function useDerived<T>(selector: (derived: Derived) => T): T {
  return useStore(useServices().derived, selector);
}

export function useHanging<T>(selector: (state: HangingState) => T): T {
  return useStore(useServices().hanging, selector);
}

/** The run in progress as this window shows it. */
export function useRun<T>(selector: (view: RunView) => T): T {
  return useStore(useServices().runs.recorder.view, selector);
}

export function useLogbook<T>(selector: (state: LogbookState) => T): T {
  return useStore(useServices().runs.logbook.state, selector);
}

/** The supply being read. */
export function useSupplyDesk<T>(selector: (state: SupplyDeskState) => T): T {
  return useStore(useServices().runs.desk.state, selector);
}

/** One shelf of the shop's book, followed live. */
export function useShelf<T extends ShopRecord>(shelf: Shelf<T>): ShelfState<T> {
  return useStore(shelf.store);
}

import type { SeededRandom } from './seeded-random.ts';
import type { SimulatedFault, SimulatedSetup } from './simulated-run.ts';
import { RECLAMP_UP_TO_M } from './watch-advice.ts';

interface ContactState {
  live: number;
  addedOhm: number;
  shortOhm: number | undefined;
  shorted: boolean;
  off: boolean;
  /** Burnt film passes current where good film would not. */
  conductance: number;
  jitter: number;
}

/** Faults that only a clamp on bare metal puts right. */
const NEEDS_BARE_METAL: readonly SimulatedFault['kind'][] = ['contact'];
/** Half the current or less calms a burning part (common practice). */
const CALM_SHARE = 0.55;

/** How the contacts, and what else may fail, stand in a simulated run; time goes on with `advance`. */
export function createContact(setup: SimulatedSetup, random: SeededRandom) {
  let looseOpen = false;
  const loose = setup.faults.find((fault) => fault.kind === 'loose');
  const acts = setup.acts ?? [];
  const clamped: { readonly atS: number; readonly early: boolean }[] = [];
  let clockS = 0;
  /** Whether somebody has put right by a moment what went wrong before. */
  const isMended = (fault: SimulatedFault, tS: number): boolean => {
    const after = (atS: number): boolean => atS > fault.atS && atS <= tS + 1e-9;
    if (fault.kind === 'off') return acts.some((act) => act.kind === 'power' && act.on && after(act.atS));
    // What the film has closed over stays without contact, however firmly it is clamped.
    return clamped.some(({ atS, early }) => after(atS) && (early || !NEEDS_BARE_METAL.includes(fault.kind)));
  };
  /** A burning part calms once the current is down. */
  const burntForS = (fromS: number, tS: number): number => {
    const calmed = acts.find(
      (act) =>
        act.atS > fromS &&
        act.atS <= tS &&
        ((act.kind === 'set-current' && act.currentA <= CALM_SHARE * setup.setCurrentA) ||
          (act.kind === 'power' && !act.on)),
    );
    return (calmed?.atS ?? tS) - fromS;
  };
  const at = (tS: number): ContactState => {
    const state: ContactState = {
      live: 1,
      addedOhm: 0,
      shortOhm: undefined,
      shorted: false,
      off: false,
      conductance: 1,
      jitter: 0,
    };
    for (const fault of setup.faults) {
      if (tS < fault.atS - 1e-9 || isMended(fault, tS)) continue;
      const since = tS - fault.atS;
      if (fault.kind === 'contact') {
        const done = fault.overS > 0 ? Math.min(1, since / fault.overS) : 1;
        state.live *= 1 - fault.lostShare * done;
      } else if (fault.kind === 'restore') state.live = 1;
      else if (fault.kind === 'loose') state.live *= looseOpen ? 1 - fault.lostShare : 1;
      else if (fault.kind === 'total') state.live = 0;
      else if (fault.kind === 'short') {
        state.shortOhm = fault.resistanceOhm;
        state.shorted = true;
      } else if (fault.kind === 'burning') {
        state.conductance = Math.min(6, 1 + 0.02 * 2 ** (burntForS(fault.atS, tS) / fault.doublingS));
        state.jitter = Math.min(0.03, 0.01 * (state.conductance - 1));
      } else if (fault.kind === 'resistance') state.addedOhm += fault.addedOhm;
      else state.off = true;
    }
    return state;
  };
  return {
    at,
    advance: (spanS: number, thicknessM: number): void => {
      clockS += spanS;
      for (const { kind, atS } of acts) {
        if (kind === 'clamp' && atS <= clockS + 1e-9 && atS > clockS - spanS + 1e-9)
          clamped.push({ atS, early: thicknessM <= RECLAMP_UP_TO_M });
      }
      if (!loose || loose.kind !== 'loose' || clockS < loose.atS) return;
      if (random.unit() < 1 - Math.exp(-spanS / loose.dwellS)) looseOpen = !looseOpen;
    },
  };
}

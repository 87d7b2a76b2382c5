import { hydrogenAir } from '../../core/bath/hydrogen.ts';
import { mistAdvice } from '../../core/bath/mist.ts';
import { bathSurfaceM2 } from '../../core/job/bath-vessel.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import { jobOf } from '../state/app-store.ts';
import { useApp, useDerived } from '../app/services.ts';
import { FigureView } from '../widgets/figure-view.tsx';

/** Hydrogen and mist of the running tank, and the air they need. */
export function BathAir() {
  const job = useApp(jobOf);
  const { bath } = job;
  const plan = useDerived((derived) => derived.plan);
  const surfaceM2 = bathSurfaceM2(job);
  if (!plan?.ok) return <p className="soft">Hydrogen follows from the current; plan that first.</p>;
  const gas = hydrogenAir(plan.value.loadCurrentA.valueSi, bath.airK);
  const mist = surfaceM2 === null ? null : mistAdvice(surfaceM2);
  const mgPerM3 = mist ? formatNumber(mist.strictest.limitKgPerM3 * 1e6, 2) : '';
  return (
    <>
      <p className="caution">
        <strong>Hydrogen burns</strong> from 4 % in air, and mist eats lungs and teeth. Draw the air off to
        the open; no flame, sparks or smoking; power off before you touch a clamp.
      </p>
      <div className="figure-pair">
        <FigureView figure={gas.hydrogen} size="small" />
        <FigureView figure={gas.air} size="small" />
        <FigureView figure={gas.leastAir} size="small" />
        {mist ? <FigureView figure={mist.exhaust} size="small" /> : null}
      </div>
      {mist ? (
        <p className="soft">
          Strictest limit named for the mist over a working day: {mgPerM3} mg/m³ ({mist.strictest.rule}). Your
          local rules come first.
        </p>
      ) : (
        <p className="soft">Type the bath’s volume or open surface to see the exhaust its mist needs.</p>
      )}
    </>
  );
}

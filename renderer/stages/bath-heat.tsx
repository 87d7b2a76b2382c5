import { useMemo } from 'react';
import { heatCourse, type HeatCourse } from '../../core/bath/heat-course.ts';
import type { BathHeat } from '../../core/bath/plan-bath-heat.ts';
import { dropOwnHeating } from '../../core/job/edit-own-runs.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import { heatMissing } from '../../core/job/bath-plan.ts';
import { bathLimitK } from '../../core/job/bath-start.ts';
import { jobHeatVoltage } from '../../core/job/job-voltage.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { LineChart } from '../widgets/line-chart.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { BathField } from './bath-field.tsx';

/** How warm the run leaves the bath, and what cooling it takes. */
export function BathHeatSection() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const { bath } = job;
  const limitK = bathLimitK(job);
  const heat = useDerived((derived) => derived.wet.heat);
  const plan = useDerived((derived) => derived.plan);
  const missing = heatMissing(job, plan);
  const course = useCourse(heat?.ok ? heat.value : null);
  return (
    <>
      {missing ? <MessageCard level="note" message={missing.message} remedy={missing.remedy} /> : null}
      {heat && !heat.ok ? (
        <MessageCard level="stop" message={heat.error.message} remedy={heat.error.remedy} />
      ) : null}
      {heat?.ok ? (
        <>
          <VoltageTaken />
          <FigureView figure={heat.value.endTemperature} />
          {course ? <Course course={course} limitK={limitK} /> : null}
          {heat.value.loads.length > 1 ? <LoadByLoad loads={heat.value.loads} limitK={limitK} /> : null}
          <div className="figure-pair">
            <FigureView figure={heat.value.heatPower} size="small" />
            <FigureView figure={heat.value.heat} size="small" />
            <FigureView figure={heat.value.runsInARow} size="small" />
            <FigureView figure={heat.value.iceNeeded} size="small" />
            <FigureView figure={heat.value.chillerNeeded} size="small" />
            <FigureView figure={heat.value.evaporated} size="small" />
            {bath.iceKg > 0 || heat.value.coolDown ? (
              <FigureView figure={heat.value.startTemperature} size="small" />
            ) : null}
            {heat.value.acidAfterIce ? <FigureView figure={heat.value.acidAfterIce} size="small" /> : null}
          </div>
        </>
      ) : null}
      {bath.ownHeating ? (
        <div className="row">
          <span className="soft grow">
            By {bath.ownHeating.count} runs of your own; cooling typed below is part of what they lost.
          </span>
          <ActionButton
            look="small"
            onPress={() => editJob(store, 'Heating of our own runs', dropOwnHeating)}
          >
            Go by the tables again
          </ActionButton>
        </div>
      ) : null}
      <BathField field="limitK" />
      <DisclosureSection title="Cooling" state={bath.iceKg > 0 || bath.chillerW > 0 ? 'counted' : 'none'}>
        <BathField field="iceKg" />
        <CheckBox
          isOn={bath.iceInBottles}
          onChange={(iceInBottles) => editJob(store, 'Ice', (job) => changeBath(job, { iceInBottles }))}
        >
          In closed bottles, so that it does not thin the bath
        </CheckBox>
        <BathField field="chillerW" />
        <BathField field="chillerSetK" />
        <BathField field="pauseS" />
      </DisclosureSection>
      <DisclosureSection title="Tank and room" state="what takes heat away">
        <BathField field="airK" />
        <BathField field="relativeHumidity" />
        <BathField field="surfaceM2" />
        <BathField field="wallM2" />
        <BathField field="wallWPerM2K" />
        <BathField field="stirringW" />
      </DisclosureSection>
    </>
  );
}

/** Which volts the heat rests on, where nothing is published for the bath as it is. */
function VoltageTaken() {
  const voltage = jobHeatVoltage(useApp(jobOf));
  if (!voltage.ok || voltage.value.taken === null) return null;
  const { valueV, lowV, highV, taken } = voltage.value;
  return (
    <p className="soft">
      Reckoned with {formatIn('voltage', valueV, 'V', 3).text} ({formatIn('voltage', lowV, 'V', 3).number} to{' '}
      {formatIn('voltage', highV, 'V', 3).text}): {taken}.
    </p>
  );
}

/** How warm each load finds and leaves the bath, the pause between them, and what to cool first. */
function LoadByLoad({ loads, limitK }: { loads: BathHeat['loads']; limitK: number }) {
  const system = useApp((state) => state.unitSystem);
  const pauseS = useApp((state) => jobOf(state).bath.pauseS);
  const degrees = (kelvin: number): string => formatQuantity('temperature', kelvin, system, 3).text;
  return (
    <table className="plain tight">
      <caption>
        The job’s {loads.length} loads in a row, {formatIn('time', pauseS, 'min', 2).text} between them
      </caption>
      <thead>
        <tr>
          <th scope="col">Load</th>
          <th scope="col">Starts at</th>
          <th scope="col">Ends at</th>
        </tr>
      </thead>
      <tbody>
        {loads.map(({ load, startK, endK, startRangeK, endRangeK, cooling }) => {
          const mayPass = !cooling && load > 1 && (endRangeK === null || endRangeK[1] > limitK);
          return (
            <tr key={load}>
              <td>{load}</td>
              <td>
                {degrees(startK)}
                <div className="soft">
                  {cooling ? `cooled from ${degrees(cooling.fromK)}` : <Span rangeK={startRangeK} />}
                  {mayPass ? '. May pass the limit: read the thermometer first' : null}
                </div>
              </td>
              <td>
                {degrees(endK)}
                <div className="soft">{endRangeK ? <Span rangeK={endRangeK} /> : 'may be far warmer'}</div>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** "20.1 to 21.4 °C"; nothing where both are the same. */
function Span({ rangeK: [lowK, highK] }: { rangeK: readonly [number, number] }) {
  const system = useApp((state) => state.unitSystem);
  const [low, high] = [lowK, highK].map((kelvin) => formatQuantity('temperature', kelvin, system, 3));
  return low!.text === high!.text ? null : `${low!.number} to ${high!.text}`;
}

function useCourse(heat: BathHeat | null): HeatCourse | null {
  return useMemo(() => {
    const course = heat ? heatCourse(heat.run, heat.paths) : null;
    return course?.ok ? course.value : null;
  }, [heat]);
}

function Course({ course, limitK }: { course: HeatCourse; limitK: number }) {
  const system = useApp((state) => state.unitSystem);
  const unit = system === 'metric' ? '°C' : '°F';
  const { x, lines } = useMemo(() => {
    const toShown = (kelvin: number): number =>
      system === 'metric' ? kelvin - 273.15 : (kelvin - 273.15) * 1.8 + 32;
    const minutes = Array.from(course.timeS, (s) => s / 60);
    return {
      x: { label: 'min', values: minutes },
      lines: [
        { label: 'Bath', values: Array.from(course.bathK, toShown) },
        { label: 'Your limit', values: minutes.map(() => toShown(limitK)), dashed: true },
      ],
    };
  }, [course, limitK, system]);
  const [bath] = lines;
  return (
    <LineChart
      label={`Bath temperature over the run: from ${bath!.values[0]!.toFixed(1)} to ${bath!.values.at(-1)!.toFixed(1)} ${unit}`}
      x={x}
      unit={unit}
      lines={lines}
    />
  );
}

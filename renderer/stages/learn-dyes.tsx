import { useMemo } from 'react';
import type { Dye } from '../../core/finish/colour-book.ts';
import { predictColour } from '../../core/finish/fit-uptake.ts';
import { learnDye } from '../../core/finish/learn-dye.ts';
import type { DipRecord } from '../../core/shop/dip-record.ts';
import { useServices, useShelf } from '../app/services.ts';
import { FigureView } from '../widgets/figure-view.tsx';
import { LineChart } from '../widgets/line-chart.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

/** How fast each dye of the shop goes in, from the dips of its colour book: the Dye stage answers “how long” by it. */
export function DyesLearnt() {
  const { wetShop } = useServices();
  const dyes = useShelf(wetShop.dyes).records;
  const dips = useShelf(wetShop.dips).records;
  return (
    <section className="stack learnt" aria-label="Dye times">
      <h3>Dye times</h3>
      {dyes.length === 0 ? (
        <MessageCard
          level="note"
          message="No dye is in the shop’s book yet."
          remedy="Keep your dyes at the Dye stage and note each dip; a finished run can add its own."
        />
      ) : null}
      {dyes.map((dye) => (
        <DyeLearnt key={dye.id} dye={dye} dips={dips.filter(({ dyeId }) => dyeId === dye.id)} />
      ))}
    </section>
  );
}

const POINTS = 40;

function DyeLearnt({ dye, dips }: { readonly dye: Dye; readonly dips: readonly DipRecord[] }) {
  const learnt = useMemo(() => learnDye(dips), [dips]);
  if (learnt.state === 'too-little') {
    return (
      <>
        <h4>{dye.name}</h4>
        <MessageCard level="note" message={learnt.message} remedy={learnt.remedy} />
      </>
    );
  }
  const fit = learnt.value;
  const setting = { temperatureK: fit.referenceK, thicknessM: fit.referenceThicknessM };
  const drawn = Array.from({ length: POINTS + 1 }, (_, i) => (fit.longestS * i) / POINTS);
  const order = [
    ...dips.map(({ timeS, colour }) => ({ timeS, dip: colour.l as number | null })),
    ...drawn.map((timeS) => ({ timeS, dip: null })),
  ].sort((a, b) => a.timeS - b.timeS);
  return (
    <>
      <h4>{dye.name}</h4>
      {learnt.figures.map((figure) => (
        <FigureView key={figure.label} figure={figure} />
      ))}
      <LineChart
        label={`Lightness of ${dips.length} dips of ${dye.name} over minutes in the dye`}
        x={{ label: 'min', values: order.map(({ timeS }) => timeS / 60) }}
        unit="L*"
        lines={[
          { label: 'dips', values: order.map(({ dip }) => dip), points: true },
          {
            label: 'curve',
            values: order.map(({ timeS }) => predictColour(fit, fit.best, setting, timeS).l),
          },
        ]}
      />
      <p className="soft">
        From {learnt.count} dips, off the curve by ΔE {fit.meanDeltaE.toFixed(1)} in the mean and{' '}
        {fit.worstDeltaE.toFixed(1)} at most.
        {learnt.outliers.length > 0
          ? ` Far off, worth another look: ${learnt.outliers.map((index) => dips[index]!.name).join(', ')}.`
          : ' None is far off.'}{' '}
        {learnt.remarks.join(' ')}
      </p>
    </>
  );
}

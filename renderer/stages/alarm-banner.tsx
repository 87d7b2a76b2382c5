import { isSimulated } from '../../core/shop/run-record.ts';
import { useApp, useRun, useServices, useSupplyDesk } from '../app/services.ts';
import { GAP_REMEDIES, GAP_WORDS } from '../state/supply-desk.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { formatNumber } from '../../core/units/format-quantity.ts';

/** Over everything, at every stage, until somebody silences it. */
export function AlarmBanner() {
  const { runs, store } = useServices();
  const { alarm, record, role } = useRun((view) => view);
  const gap = useSupplyDesk((state) => state.gap);
  const stage = useApp((state) => state.stage);
  const powerIsOn = useRun((view) => view.powerIsOn);
  if (alarm && record) {
    const [low, high] = alarm.areaLeft;
    const percent = (share: number): string => formatNumber(share * 100, 2);
    return (
      <div className="alarm-banner" role="alert">
        <div className="grow">
          <strong>{alarm.message}</strong>
          <span>{alarm.remedy}</span>
          <span className="soft-on-alarm">
            Area with contact now: {percent(low)} to {percent(high)} %
            {isSimulated(record) ? ' · simulated' : ''}
          </span>
        </div>
        {role === 'owner' ? (
          <ActionButton onPress={() => runs.recorder.silence()}>Silence</ActionButton>
        ) : (
          <span>Silence it in the window that keeps the run.</span>
        )}
        {stage === 'run' ? null : (
          <ActionButton onPress={() => store.setState({ stage: 'run' })}>Go to the run</ActionButton>
        )}
      </div>
    );
  }
  if (gap && powerIsOn) {
    return (
      <div className="alarm-banner gap" role="alert">
        <div className="grow">
          <strong>No readings: {GAP_WORDS[gap.why]}</strong>
          <span>{GAP_REMEDIES[gap.why]} The gap widens the film’s range.</span>
        </div>
      </div>
    );
  }
  return null;
}

import { Button } from 'react-aria-components';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import type { StageId } from '../state/app-state.ts';
import { OpenWarnings } from './open-warnings.tsx';
import { useApp, useDerived, useServices } from './services.ts';

/** The plan so far in five figures, each a way to its stage. */
export function PlanBar() {
  const plan = useDerived((derived) => derived.plan);
  const made = plan?.ok ? plan.value : null;
  const loads = made ? made.loads.length : 0;
  return (
    <footer className="plan-bar" aria-label="The plan so far">
      <PlanFigure label="Area taking current" figure={made?.areaM2} stage="faces" />
      <PlanFigure
        label={loads > 1 ? 'Current, largest load' : 'Current'}
        figure={made?.loadCurrentA}
        stage="current"
      />
      <PlanFigure
        label={loads > 1 ? 'Power on, each load' : 'Power on'}
        figure={made?.totalS}
        stage="current"
      />
      <PlanFigure
        label="Loads"
        figure={made?.loadCount}
        stage="current"
        unit={loads === 1 ? 'load' : 'loads'}
      />
      <OpenWarnings />
    </footer>
  );
}

interface PlanFigureProps {
  readonly label: string;
  readonly figure: Figure | undefined;
  readonly stage: StageId;
  readonly unit?: string;
}

function PlanFigure({ label, figure, stage, unit }: PlanFigureProps) {
  const system = useApp((state) => state.unitSystem);
  const printed = figure ? printFigure(figure, system) : null;
  return (
    <BarButton stage={stage}>
      <span className="plan-label">{label}</span>
      <span className="plan-value">
        {printed ? printed.value.number : '–'} <small>{printed ? (unit ?? printed.value.unit) : ''}</small>
      </span>
      <span className={`plan-note ${figure?.unconfirmed ? 'check' : ''}`}>
        {figure?.unconfirmed ?? (printed?.range ? printed.range : (printed?.also ?? ''))}
      </span>
    </BarButton>
  );
}

function BarButton({ stage, children }: { stage: StageId; children: React.ReactNode }) {
  const { store } = useServices();
  return (
    <Button className="plan-figure" onPress={() => store.setState({ stage })}>
      {children}
    </Button>
  );
}

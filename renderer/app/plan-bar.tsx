import { Button } from 'react-aria-components';
import type { RunPlan } from '../../core/electrical/plan-run.ts';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { splitAreaTakingCurrent } from '../../core/job/area-beside-parts.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { jobOf } from '../state/app-store.ts';
import type { StageId } from '../state/app-state.ts';
import { OpenWarnings } from './open-warnings.tsx';
import { RunBar } from './run-bar.tsx';
import { useApp, useDerived, useRun, useServices } from './services.ts';

/** The foot of the window: the open job's plan, and at the run the plan the run was made from. */
export function PlanBar() {
  const stage = useApp((state) => state.stage);
  const record = useRun((view) => view.record);
  return stage === 'run' && record ? <RunBar record={record} /> : <JobPlanBar />;
}

/** The plan so far in five figures, each a way to its stage. */
function JobPlanBar() {
  const plan = useDerived((derived) => derived.plan);
  const made = plan?.ok ? plan.value : null;
  const loads = made ? made.loads.length : 0;
  const areaNote = useAreaNote(made);
  return (
    <footer className="plan-bar" aria-label="The plan so far">
      <PlanFigure label="Area taking current" figure={made?.areaM2} stage="faces" note={areaNote} />
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

/** Where wire or bus ends take current beside the parts, both are named: the parts' own area stands at the faces. */
function useAreaNote(plan: RunPlan | null): string | undefined {
  const parts = useApp((state) => jobOf(state).parts);
  const measures = useDerived((derived) => derived.measures);
  const unit = useApp((state) => (state.unitSystem === 'metric' ? 'cm²' : 'in²'));
  if (!plan || parts.some(({ id }) => !measures[id])) return undefined;
  const { coatedM2, besideM2 } = splitAreaTakingCurrent(parts, measures, plan);
  if (besideM2 === 0) return undefined;
  return `coated ${formatIn('area', coatedM2, unit, 4).text} + wire, bus ends ${formatIn('area', besideM2, unit, 3).text}`;
}

interface PlanFigureProps {
  readonly label: string;
  readonly figure: Figure | undefined;
  readonly stage: StageId;
  readonly unit?: string;
  /** In place of range and other unit. */
  readonly note?: string | undefined;
}

function PlanFigure({ label, figure, stage, unit, note }: PlanFigureProps) {
  const system = useApp((state) => state.unitSystem);
  const printed = figure ? printFigure(figure, system) : null;
  return (
    <BarButton stage={stage}>
      <span className="plan-label">{label}</span>
      <span className="plan-value">
        {printed ? printed.value.number : '–'} <small>{printed ? (unit ?? printed.value.unit) : ''}</small>
      </span>
      <span className={`plan-note ${figure?.unconfirmed ? 'check' : ''}`}>
        {figure?.unconfirmed ?? note ?? (printed?.range ? printed.range : (printed?.also ?? ''))}
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

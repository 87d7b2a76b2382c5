import { useState, type DragEvent } from 'react';
import { takeOpenEntry } from '../state/open-entry.ts';
import { openSources } from '../state/open-files.ts';
import { BathStage } from '../stages/bath-stage.tsx';
import { CurrentStage } from '../stages/current-stage.tsx';
import { FacesStage } from '../stages/faces-stage.tsx';
import { FinishStage } from '../stages/finish-stage.tsx';
import { FitsStage } from '../stages/fits-stage.tsx';
import { HangingStage } from '../stages/hanging-stage.tsx';
import { PartStage } from '../stages/part-stage.tsx';
import { AlarmBanner } from '../stages/alarm-banner.tsx';
import { LogbookDesk } from '../stages/logbook-desk.tsx';
import { LogbookStage } from '../stages/logbook-stage.tsx';
import { PortChooser } from '../stages/port-chooser.tsx';
import { RunDesk } from '../stages/run-desk.tsx';
import { RunStage } from '../stages/run-stage.tsx';
import { SheetStage } from '../stages/sheet-stage.tsx';
import { TankStage } from '../stages/tank-stage.tsx';
import { ThicknessStage } from '../stages/thickness-stage.tsx';
import type { StageId } from '../state/app-state.ts';
import { FileBar } from './file-bar.tsx';
import { FirstHints } from './first-hints.tsx';
import { LeaveDialog } from './leave-dialog.tsx';
import { NoticeStack } from './notice-stack.tsx';
import { PartView } from './part-view.tsx';
import { PlanBar } from './plan-bar.tsx';
import { useApp, useServices } from './services.ts';
import { StageRail } from './stage-rail.tsx';
import { useDyeColour } from './use-dye-colour.ts';
import { useShortcuts } from './use-shortcuts.ts';
import { useThemeAttribute } from './use-theme.ts';

const PANELS: Readonly<Record<StageId, () => React.JSX.Element>> = {
  part: PartStage,
  faces: FacesStage,
  hanging: HangingStage,
  tank: TankStage,
  current: CurrentStage,
  thickness: ThicknessStage,
  bath: BathStage,
  fits: FitsStage,
  finish: FinishStage,
  sheet: SheetStage,
  run: RunStage,
  logbook: LogbookStage,
};

/** The window: files above, stages left, the part in the middle, the stage's panel right, the plan below. */
export function App() {
  const services = useServices();
  const stage = useApp((state) => state.stage);
  const [dropping, setDropping] = useState(false);
  useThemeAttribute();
  useDyeColour();
  useShortcuts();
  const Panel = PANELS[stage];
  const hasDesk = stage === 'run' || stage === 'logbook';
  const drop = async (event: DragEvent): Promise<void> => {
    event.preventDefault();
    setDropping(false);
    takeOpenEntry();
    const files = [...event.dataTransfer.files];
    await openSources(services, await services.bridge.adoptDropped(files));
  };
  return (
    <div
      className="app"
      onDragOver={(event) => {
        event.preventDefault();
        setDropping(true);
      }}
      onDragLeave={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setDropping(false);
      }}
      onDrop={(event) => void drop(event)}
    >
      <FileBar />
      <StageRail />
      <main className="view">
        <PartView />
        {stage === 'run' ? <RunDesk /> : null}
        {stage === 'logbook' ? <LogbookDesk /> : null}
        {hasDesk ? null : <NoticeStack />}
        {dropping ? <div className="drop-veil">Drop a model (STEP, STL, OBJ, PLY, 3MF) or a job</div> : null}
      </main>
      <aside className="panel" aria-label="Stage" key={stage}>
        {hasDesk ? <NoticeStack /> : null}
        <FirstHints />
        <Panel />
      </aside>
      <PlanBar />
      <AlarmBanner />
      <PortChooser />
      <LeaveDialog />
    </div>
  );
}

import { StageHead } from './stage-head.tsx';

export function FinishStage() {
  return <StageHead title="Dye and seal">Soon.</StageHead>;
}

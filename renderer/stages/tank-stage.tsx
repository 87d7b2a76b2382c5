import { StageHead } from './stage-head.tsx';

export function TankStage() {
  return (
    <StageHead title="Tank and loads">Where the parts hang in the tank, and how many fit at once.</StageHead>
  );
}

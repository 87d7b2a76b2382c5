import type { ReactNode } from 'react';

/** In place of a picture that can't be drawn. */
export function ViewMessage({
  cause,
  remedy,
}: {
  readonly cause: string;
  readonly remedy: string;
}): ReactNode {
  return (
    <div className="viewport-message" role="alert">
      <p>{cause}</p>
      <p>{remedy}</p>
    </div>
  );
}

/** The driver took the picture away. */
export const LOST = (
  <ViewMessage
    cause="The graphics driver has stopped the 3D view."
    remedy="It comes back by itself when the driver does; your job is untouched and the rest of the program goes on working."
  />
);

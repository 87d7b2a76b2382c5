interface StageHeadProps {
  readonly title: string;
  /** Absent where nothing is left to decide. */
  readonly children?: string;
}

/** What a stage decides, in one or two sentences. */
export function StageHead({ title, children }: StageHeadProps) {
  return (
    <header className="stack">
      <h2>{title}</h2>
      {children === undefined ? null : <p className="lead">{children}</p>}
    </header>
  );
}

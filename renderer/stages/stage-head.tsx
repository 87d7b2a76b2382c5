interface StageHeadProps {
  readonly title: string;
  readonly children: string;
}

/** What a stage decides, in one or two sentences. */
export function StageHead({ title, children }: StageHeadProps) {
  return (
    <header className="stack">
      <h2>{title}</h2>
      <p className="lead">{children}</p>
    </header>
  );
}

import { ToggleButton, ToggleButtonGroup, type Key } from 'react-aria-components';

export interface Choice<T extends string> {
  readonly id: T;
  readonly label: string;
}

interface ChoiceRowProps<T extends string> {
  readonly label: string;
  readonly choices: readonly Choice<T>[];
  readonly chosen: T | null;
  readonly onChoose: (choice: T) => void;
  readonly isDisabled?: boolean;
}

/** One of a few, all in sight. */
export function ChoiceRow<T extends string>({
  label,
  choices,
  chosen,
  onChoose,
  isDisabled,
}: ChoiceRowProps<T>) {
  const pick = (keys: Set<Key>): void => {
    const [key] = keys;
    const choice = choices.find((candidate) => candidate.id === key);
    if (choice) onChoose(choice.id);
  };
  return (
    <ToggleButtonGroup
      aria-label={label}
      className="choices"
      selectionMode="single"
      disallowEmptySelection={chosen !== null}
      isDisabled={isDisabled}
      selectedKeys={chosen === null ? [] : [chosen]}
      onSelectionChange={pick}
    >
      {choices.map((choice) => (
        <ToggleButton key={choice.id} id={choice.id} className="button">
          {choice.label}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  );
}

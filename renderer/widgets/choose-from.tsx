import { Button, Label, ListBox, ListBoxItem, Popover, Select, SelectValue } from 'react-aria-components';

interface ChooseFromProps<T extends string> {
  readonly label: string;
  readonly options: readonly { readonly id: T; readonly label: string }[];
  readonly chosen: T;
  readonly onChoose: (choice: T) => void;
}

/** One of many, in a list that opens. */
export function ChooseFrom<T extends string>({ label, options, chosen, onChoose }: ChooseFromProps<T>) {
  return (
    <Select
      className="field"
      selectedKey={chosen}
      onSelectionChange={(key) => {
        const option = options.find((candidate) => candidate.id === key);
        if (option) onChoose(option.id);
      }}
    >
      <Label>{label}</Label>
      <Button className="select-button">
        <SelectValue />
        <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="popover">
        <ListBox>
          {options.map((option) => (
            <ListBoxItem key={option.id} id={option.id} className="option">
              {option.label}
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </Select>
  );
}

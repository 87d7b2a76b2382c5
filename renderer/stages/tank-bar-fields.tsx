import type { BusBar } from '../../core/racking/tank.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { Length } from './tank-length.tsx';

interface BarFieldsProps {
  readonly bar: BusBar;
  readonly number: number;
  readonly onChange: (next: BusBar, key: string) => void;
  readonly onRemove: () => void;
}

/** One bar: what it carries, which way it runs and where. */
export function BarFields({ bar, number, onChange, onRemove }: BarFieldsProps) {
  const set = (next: Partial<BusBar>): void => onChange({ ...bar, ...next }, Object.keys(next).join());
  return (
    <section className="pin-card" aria-label={`Bar ${number}`}>
      <div className="row">
        <h4 className="grow">Bar {number}</h4>
        <ActionButton look="small" aria-label={`Remove bar ${number}`} onPress={onRemove}>
          Remove
        </ActionButton>
      </div>
      <ChoiceRow
        label={`What bar ${number} carries`}
        choices={[
          { id: 'work', label: 'Parts (plus)' },
          { id: 'cathode', label: 'Cathodes (minus)' },
        ]}
        chosen={bar.role}
        onChoose={(role) => set({ role })}
      />
      <ChoiceRow
        label={`Which way bar ${number} runs`}
        choices={[
          { id: 'x', label: 'Along (x)' },
          { id: 'y', label: 'Across (y)' },
        ]}
        chosen={bar.along}
        onChoose={(along) => set({ along })}
      />
      <div className="two">
        <Length
          label={bar.along === 'x' ? 'At y' : 'At x'}
          value={bar.acrossM}
          low={-10}
          high={10}
          onChange={(acrossM) => set({ acrossM })}
        />
        <Length
          label="Underside above floor"
          value={bar.heightM}
          low={0.05}
          high={20}
          onChange={(heightM) => set({ heightM })}
        />
        <Length
          label={`From ${bar.along}`}
          value={bar.fromM}
          low={-10}
          high={bar.toM}
          onChange={(fromM) => set({ fromM })}
        />
        <Length
          label={`To ${bar.along}`}
          value={bar.toM}
          low={bar.fromM}
          high={10}
          onChange={(toM) => set({ toM })}
        />
      </div>
    </section>
  );
}

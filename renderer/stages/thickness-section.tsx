import { Label, Slider, SliderOutput, SliderThumb, SliderTrack } from 'react-aria-components';
import type { SectionAxis } from '../state/field-store.ts';
import { useField, useServices } from '../app/services.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';

/** Cuts the map open to look into holes. */
export function SectionView() {
  const { field } = useServices();
  const section = useField((state) => state.section);
  return (
    <section className="stack" aria-label="Section">
      <h3>Look inside</h3>
      <ChoiceRow
        label="Cut across"
        choices={[
          { id: 'none', label: 'Whole' },
          { id: 'x', label: 'Across X' },
          { id: 'y', label: 'Across Y' },
          { id: 'z', label: 'Across Z' },
        ]}
        chosen={section?.axis ?? 'none'}
        onChoose={(id) =>
          field.store.setState({
            section: id === 'none' ? null : { axis: id as SectionAxis, share: section?.share ?? 0.5 },
          })
        }
      />
      {section ? (
        <Slider
          className="section-slider"
          value={Math.round(100 * section.share)}
          minValue={1}
          maxValue={100}
          onChange={(value) =>
            field.store.setState({ section: { ...section, share: (value as number) / 100 } })
          }
        >
          <Label>Keep up to</Label>
          <SliderOutput>{({ state }) => `${state.getThumbValue(0)} %`}</SliderOutput>
          <SliderTrack className="section-track">
            <SliderThumb className="section-thumb" />
          </SliderTrack>
        </Slider>
      ) : null}
    </section>
  );
}

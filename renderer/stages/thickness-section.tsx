import { Label, Slider, SliderOutput, SliderThumb, SliderTrack } from 'react-aria-components';
import type { SectionAxis } from '../state/field-store.ts';
import { useField, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';

const CUTS: readonly { readonly id: SectionAxis | 'none'; readonly label: string }[] = [
  { id: 'none', label: 'Whole' },
  { id: 'x', label: 'Across X' },
  { id: 'y', label: 'Across Y' },
  { id: 'z', label: 'Across Z' },
];
/** Seen from the corner view, what lies nearer is cut away. */
const KEPT_FROM_CORNER: Readonly<Record<SectionAxis, boolean>> = { x: false, y: true, z: false };

/** Cuts the map open to look into holes. */
export function SectionView() {
  const { field } = useServices();
  const section = useField((state) => state.section);
  return (
    <section className="stack" aria-label="Section">
      <h3>Look inside</h3>
      <ChoiceRow
        label="Cut across"
        choices={CUTS}
        chosen={section?.axis ?? 'none'}
        onChoose={(id) =>
          field.store.setState({
            section:
              id === 'none'
                ? null
                : { axis: id, share: section?.share ?? 0.5, keepsHigh: KEPT_FROM_CORNER[id] },
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
          <Label>Cut at</Label>
          <SliderOutput>{({ state }) => `${state.getThumbValue(0)} %`}</SliderOutput>
          <SliderTrack className="section-track">
            <SliderThumb className="section-thumb" />
          </SliderTrack>
        </Slider>
      ) : null}
      {section ? (
        <ActionButton
          look="small"
          onPress={() => field.store.setState({ section: { ...section, keepsHigh: !section.keepsHigh } })}
        >
          Show the other half
        </ActionButton>
      ) : null}
    </section>
  );
}

import type { ShapeBody, ShapeHole } from '../../core/job/job-shape.ts';
import { bodySize } from '../../core/shapes/body-size.ts';
import { capital } from '../../core/units/first-letter.ts';
import { holeMisses } from '../../core/shapes/hole-misses.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { CUT_SIZES, NEW_CUT } from './shape-defaults.ts';

interface ShapeHolesProps {
  readonly body: ShapeBody;
  readonly number: number;
  readonly onChange: (holes: ShapeHole[], what: string, key: string) => void;
}

const CUTS = [
  { id: 'round', label: 'Round' },
  { id: 'slot', label: 'Slot' },
  { id: 'counterbore', label: 'Counterbored' },
] as const;
const SIDES = [
  { id: 'top', label: 'From the top' },
  { id: 'front', label: 'From the front' },
  { id: 'side', label: 'From the side' },
] as const;
/** What the two places of a hole are called, by the side it is drilled from. */
const WAYS = { top: ['x', 'y'], front: ['x', 'height'], side: ['y', 'height'] } as const;

/** Holes of one body, each with its kind, place and depth. */
export function ShapeHoles({ body, number, onChange }: ShapeHolesProps) {
  const put = (hole: ShapeHole, what: string, key: string): void =>
    onChange(
      body.holes.map((own) => (own.id === hole.id ? hole : own)),
      what,
      key && `${hole.id}-${key}`,
    );
  return (
    <>
      {body.holes.map((hole, index) => (
        <HoleCard
          key={hole.id}
          hole={hole}
          misses={holeMisses(body, hole)}
          name={`hole ${number}.${index + 1}`}
          onPut={put}
          onRemove={() =>
            onChange(
              body.holes.filter((own) => own.id !== hole.id),
              `Remove hole ${number}.${index + 1}`,
              '',
            )
          }
        />
      ))}
      <ActionButton
        look="small"
        onPress={() => {
          const hole: ShapeHole = {
            id: crypto.randomUUID(),
            ...firstPlace(body),
            cut: NEW_CUT.round,
            depthM: null,
          };
          onChange([...body.holes, hole], 'Add a hole', '');
        }}
      >
        Add a hole<span className="visually-hidden"> to body {number}</span>
      </ActionButton>
    </>
  );
}

/** Where a new hole meets metal: a ring or tube has none in its middle from the top, so it is drilled through its wall. */
function firstPlace(body: ShapeBody): Pick<ShapeHole, 'from' | 'at'> {
  const hollow = body.kind === 'ring' || body.kind === 'tube';
  return hollow ? { from: 'front', at: [0, bodySize(body)[2] / 2] } : { from: 'top', at: [0, 0] };
}

interface HoleCardProps {
  readonly hole: ShapeHole;
  /** It cuts nothing of its body. */
  readonly misses: boolean;
  readonly name: string;
  readonly onPut: (hole: ShapeHole, what: string, key: string) => void;
  readonly onRemove: () => void;
}

function HoleCard({ hole, misses, name, onPut, onRemove }: HoleCardProps) {
  const fields = hole.cut as unknown as Readonly<Record<string, number>>;
  const title = capital(name);
  return (
    <div className="hole-card" role="group" aria-label={title}>
      <div className="row">
        <strong className="grow">{title}</strong>
        <ActionButton look="small" aria-label={`Remove ${name}`} onPress={onRemove}>
          Remove
        </ActionButton>
      </div>
      <div className="two">
        <ChooseFrom
          label="Kind"
          options={CUTS}
          chosen={hole.cut.kind}
          onChoose={(kind) => onPut({ ...hole, cut: NEW_CUT[kind] }, 'Kind of hole', '')}
        />
        <ChooseFrom
          label="Drilled"
          options={SIDES}
          chosen={hole.from}
          onChoose={(from) => onPut({ ...hole, from }, 'Side of hole', '')}
        />
        {CUT_SIZES[hole.cut.kind].map(([key, label]) => (
          <QuantityField
            key={key}
            label={label}
            kind="length"
            valueSi={fields[key]!}
            units={['mm', 'in']}
            limits={{ low: 1e-4, high: 3 }}
            onChange={(value) =>
              value !== null &&
              onPut({ ...hole, cut: { ...hole.cut, [key]: value } as ShapeHole['cut'] }, label, key)
            }
          />
        ))}
        {WAYS[hole.from].map((way, k) => (
          <QuantityField
            key={way}
            label={`Middle at ${way}`}
            kind="length"
            valueSi={hole.at[k]!}
            units={['mm', 'in']}
            limits={{ low: -3, high: 3 }}
            onChange={(value) => {
              if (value === null) return;
              const at: [number, number] = k === 0 ? [value, hole.at[1]] : [hole.at[0], value];
              onPut({ ...hole, at }, 'Place of hole', `at-${k}`);
            }}
          />
        ))}
        <QuantityField
          label="Depth"
          kind="length"
          valueSi={hole.depthM}
          units={['mm', 'in']}
          limits={{ low: 1e-4, high: 3 }}
          emptyMeans="through"
          onChange={(depthM) => onPut({ ...hole, depthM }, 'Depth of hole', 'depth')}
        />
      </div>
      {misses ? (
        <MessageCard
          level="check"
          message={`${title} cuts nothing: there is no metal where it is drilled.`}
          remedy="Move it onto the metal, or drill it from another side."
        />
      ) : null}
      {hole.cut.kind === 'slot' ? (
        <ActionButton
          look="small"
          aria-pressed={hole.cut.turned}
          onPress={() =>
            hole.cut.kind === 'slot' &&
            onPut({ ...hole, cut: { ...hole.cut, turned: !hole.cut.turned } }, 'Turn the slot', '')
          }
        >
          Turn the slot a quarter
        </ActionButton>
      ) : null}
    </div>
  );
}

import type { Part } from '../../core/job/job.ts';
import type { Shape, ShapeBody } from '../../core/job/job-shape.ts';
import { setShape } from '../../core/job/edit-surface.ts';
import { shapeArea } from '../../core/shapes/shape-area.ts';
import { editJob } from '../state/app-store.ts';
import { useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { BODY_NAMES, BODY_SIZES, NEW_BODY } from './shape-defaults.ts';
import { ShapeHoles } from './shape-holes.tsx';

/** The recipe of a part that has no model: bodies with holes, joined. */
export function PartShape({ part, shape }: { part: Part; shape: Shape }) {
  const { store } = useServices();
  const change = (next: Shape, what: string, key = ''): void =>
    editJob(store, what, (job) => setShape(job, part.id, next), key && `shape-${part.id}-${key}`);
  const put = (body: ShapeBody, what: string, key: string): void =>
    change({ bodies: shape.bodies.map((own) => (own.id === body.id ? body : own)) }, what, key);
  const exact = shapeArea(shape);
  return (
    <section className="stack" aria-label="Shape">
      <h3>Shape</h3>
      {shape.bodies.map((body, index) => (
        <BodyCard
          key={body.id}
          body={body}
          number={index + 1}
          isOnly={shape.bodies.length === 1}
          onPut={put}
          onRemove={() =>
            change({ bodies: shape.bodies.filter((own) => own.id !== body.id) }, `Remove body ${index + 1}`)
          }
        />
      ))}
      <ActionButton
        onPress={() => {
          const body = { ...NEW_BODY.plate, id: crypto.randomUUID() } as ShapeBody;
          change({ bodies: [...shape.bodies, body] }, 'Add a body');
        }}
      >
        Join another body
      </ActionButton>
      {exact ? <FigureView figure={exact} size="small" /> : null}
      <ShapeNote />
    </section>
  );
}

function ShapeNote() {
  return (
    <p className="soft">
      Each body stands on its foot’s middle, at the place given; bodies that touch or overlap are joined, and
      what they hide from the acid is not counted.
    </p>
  );
}

interface BodyCardProps {
  readonly body: ShapeBody;
  readonly number: number;
  readonly isOnly: boolean;
  readonly onPut: (body: ShapeBody, what: string, key: string) => void;
  readonly onRemove: () => void;
}

const KINDS = Object.entries(BODY_NAMES).map(([id, label]) => ({ id: id as ShapeBody['kind'], label }));
const AXES = [
  { id: 'z', label: 'Upright' },
  { id: 'x', label: 'Lying along x' },
  { id: 'y', label: 'Lying along y' },
] as const;

function BodyCard({ body, number, isOnly, onPut, onRemove }: BodyCardProps) {
  const fields = body as unknown as Readonly<Record<string, number | null>>;
  const placed = !isOnly || body.at.some((value) => value !== 0) || body.axis !== 'z';
  return (
    <section className="shape-card" aria-label={`Body ${number}`}>
      <div className="row">
        <h4 className="grow">Body {number}</h4>
        {isOnly ? null : (
          <ActionButton look="small" aria-label={`Remove body ${number}`} onPress={onRemove}>
            Remove
          </ActionButton>
        )}
      </div>
      <ChooseFrom
        label="Kind"
        options={KINDS}
        chosen={body.kind}
        onChoose={(kind) => {
          const { id, at, axis } = body;
          onPut({ ...NEW_BODY[kind], id, at, axis } as ShapeBody, BODY_NAMES[kind], '');
        }}
      />
      <div className="two">
        {BODY_SIZES[body.kind].map(([key, label]) => {
          const mayBeNone = key === 'wallM' && body.kind === 'box';
          return (
            <QuantityField
              key={key}
              label={label}
              kind="length"
              valueSi={fields[key] ?? null}
              units={['mm', 'in']}
              limits={{ low: key === 'highDiameterM' ? 0 : 1e-4, high: 3 }}
              {...(mayBeNone ? { emptyMeans: 'solid' } : {})}
              onChange={(value) =>
                (value !== null || mayBeNone) &&
                onPut({ ...body, [key]: value } as ShapeBody, label, `${body.id}-${key}`)
              }
            />
          );
        })}
      </div>
      {placed ? <Placement body={body} onPut={onPut} /> : null}
      <ShapeHoles
        body={body}
        number={number}
        onChange={(holes, what, key) => onPut({ ...body, holes }, what, key && `${body.id}-${key}`)}
      />
    </section>
  );
}

function Placement({ body, onPut }: Pick<BodyCardProps, 'body' | 'onPut'>) {
  return (
    <>
      <ChooseFrom
        label="How it lies"
        options={AXES}
        chosen={body.axis}
        onChoose={(axis) => onPut({ ...body, axis }, 'Lay down', '')}
      />
      <div className="two">
        {(['x', 'y', 'z'] as const).map((axis, k) => (
          <QuantityField
            key={axis}
            label={`Foot at ${axis}`}
            kind="length"
            valueSi={body.at[k]!}
            units={['mm', 'in']}
            limits={{ low: -3, high: 3 }}
            onChange={(value) => {
              if (value === null) return;
              const at = body.at.map((own, i) => (i === k ? value : own)) as [number, number, number];
              onPut({ ...body, at }, 'Place', `${body.id}-at-${axis}`);
            }}
          />
        ))}
      </div>
    </>
  );
}

import { useState } from 'react';
import { cathodeLayouts, movedSheets } from '../../core/field/cathode-layouts.ts';
import { innerCathodeIn } from '../../core/field/inner-cathode.ts';
import { mostEven } from '../../core/field/most-even.ts';
import { changeTank } from '../../core/job/edit-hanging.ts';
import type { FieldVariant } from '../../core/job/field-setting.ts';
import type { Attitude } from '../../core/job/job-hanging.ts';
import type { Part } from '../../core/job/job.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { formatIn, formatNumber, formatQuantity } from '../../core/units/format-quantity.ts';
import { listWords } from '../../core/units/list-words.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import type { PartField } from '../state/derive-field.ts';
import type { FieldTrial } from '../state/field-store.ts';
import { rankSides, runTrial } from '../state/run-field.ts';
import { useApp, useField, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

type Kind = 'cathodes' | 'distance' | 'attitude' | 'density' | 'inner';

const KINDS: readonly { readonly id: Kind; readonly label: string }[] = [
  { id: 'cathodes', label: 'Cathodes' },
  { id: 'distance', label: 'Distance' },
  { id: 'attitude', label: 'Attitude' },
  { id: 'density', label: 'Density' },
  { id: 'inner', label: 'Rod in a hole' },
];

type Proposal = Pick<FieldTrial, 'name' | 'variant' | 'taken'>;

/** Compared beside the job: nothing of it is in the job until it is taken. */
export function WhatIf({ part, known }: { part: Part; known: PartField }) {
  const services = useServices();
  const { field } = services;
  const trials = useField((state) => state.trials).filter((trial) => trial.partId === part.id);
  const isBusy = useField((state) => state.run !== null);
  const comparing = useField((state) => state.comparing);
  const [kind, setKind] = useState<Kind>('cathodes');
  const add = (proposal: Proposal): void => {
    const trial: FieldTrial = { ...proposal, id: crypto.randomUUID(), partId: part.id };
    field.store.setState((state) => ({ trials: [...state.trials, trial], comparing: true }));
    void runTrial(services, part.id, trial.name, trial.variant);
  };
  return (
    <DisclosureSection
      title="What if"
      state={
        trials.length === 0 ? 'compare cathodes, attitudes, densities' : `${trials.length} beside the job`
      }
    >
      {known.reading === null ? (
        <p className="soft">Work out the map first: it is what the others are held against.</p>
      ) : null}
      <ChoiceRow label="What to change" choices={KINDS} chosen={kind} onChoose={setKind} />
      {kind === 'cathodes' ? <Cathodes part={part} isBusy={isBusy} onAdd={add} /> : null}
      {kind === 'distance' ? <Distance isBusy={isBusy} onAdd={add} /> : null}
      {kind === 'attitude' ? <Attitudes part={part} isBusy={isBusy} onAdd={add} /> : null}
      {kind === 'density' ? <Density isBusy={isBusy} onAdd={add} /> : null}
      {kind === 'inner' ? <InnerRod part={part} known={known} isBusy={isBusy} onAdd={add} /> : null}
      {trials.length > 0 ? (
        <ActionButton
          look={comparing ? 'plain' : 'main'}
          onPress={() => field.store.setState({ comparing: !comparing })}
        >
          {comparing ? 'Back to the one map' : 'Show side by side'}
        </ActionButton>
      ) : null}
    </DisclosureSection>
  );
}

interface KindProps {
  readonly isBusy: boolean;
  readonly onAdd: (proposal: Proposal) => void;
}

function Cathodes({ part, isBusy, onAdd }: KindProps & { part: Part }) {
  const services = useServices();
  const { store } = services;
  const tank = useApp((state) => jobOf(state).tank?.tank);
  const ranking = useField((state) => state.ranking);
  const [chosen, setChosen] = useState<string | null>(null);
  if (!tank) return null;
  const layouts = cathodeLayouts(tank);
  const layout = layouts.find(({ id }) => id === chosen) ?? layouts[0]!;
  const mine = ranking?.partId === part.id ? ranking : null;
  const even = mostEven(mine?.rows ?? []);
  const variantOf = (id: string): FieldVariant => ({ tank: layouts.find((other) => other.id === id)!.tank });
  return (
    <>
      <ChooseFrom
        label="Sheets on"
        options={layouts.map(({ id, name }) => ({ id, label: name }))}
        chosen={layout.id}
        onChoose={setChosen}
      />
      <ActionButton
        isDisabled={isBusy}
        onPress={() =>
          onAdd({ name: `Cathodes: ${layout.name}`, variant: variantOf(layout.id), taken: 'tank' })
        }
      >
        Add to the comparison
      </ActionButton>
      <ActionButton isDisabled={isBusy} onPress={() => void rankSides(services, part.id)}>
        Find the best sides
      </ActionButton>
      {mine && mine.rows.length > 0 ? (
        <>
          <p>
            {even.length === mine.rows.length && even.length > 1 ? (
              'All come out alike: here the part’s own shape decides, not the side of the sheets.'
            ) : (
              <>
                Most even: <strong>{listWords(even.map(({ name }) => name))}</strong>
                {even.length > 1 ? ', alike' : ''}.
              </>
            )}{' '}
            On a coarse grid; half a percent of spread tells nothing apart.
          </p>
          <div className="wide-table">
            <table className="plain" aria-label="Cathode sides, most even first">
              <thead>
                <tr>
                  <th scope="col">Sheets on</th>
                  <th scope="col">Spread</th>
                  <th scope="col">Least</th>
                  <th scope="col">Volts</th>
                  <th scope="col">
                    <span className="visually-hidden">Take</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {mine.rows.map(({ layoutId, name, spread, leastShare, cellVoltageV }) => (
                  <tr key={layoutId}>
                    <th scope="row">{name}</th>
                    <td>{formatNumber(100 * spread, 2)} %</td>
                    <td>{(100 * leastShare).toFixed(0)} %</td>
                    <td>{cellVoltageV.toFixed(1)}</td>
                    <td>
                      <ActionButton
                        look="small"
                        onPress={() =>
                          editJob(store, `Cathodes: ${name}`, (job) =>
                            job.tank
                              ? changeTank(job, { ...job.tank, tank: variantOf(layoutId).tank! })
                              : job,
                          )
                        }
                      >
                        Take<span className="visually-hidden"> {name}</span>
                      </ActionButton>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <p className="soft">
            Spread: root mean square about the mean thickness. Least: thinnest place over the mean.
          </p>
        </>
      ) : null}
      {mine?.failed.map(({ name, message }) => (
        <MessageCard
          key={name}
          level="note"
          message={`${name}: ${message}`}
          remedy="The others stand without it."
        />
      ))}
    </>
  );
}

function Distance({ isBusy, onAdd }: KindProps) {
  const system = useApp((state) => state.unitSystem);
  const tank = useApp((state) => jobOf(state).tank?.tank);
  const [byM, setByM] = useState(0.05);
  const [way, setWay] = useState<'nearer' | 'farther'>('nearer');
  if (!tank) return null;
  const moved = movedSheets(tank, way === 'nearer' ? byM : -byM);
  const same = JSON.stringify(moved.cathodes) === JSON.stringify(tank.cathodes);
  return (
    <>
      <ChoiceRow
        label="Which way the sheets go"
        choices={[
          { id: 'nearer', label: 'Nearer to the part' },
          { id: 'farther', label: 'Farther' },
        ]}
        chosen={way}
        onChoose={setWay}
      />
      <QuantityField
        label="By"
        kind="length"
        valueSi={byM}
        units={['mm', 'in']}
        limits={{ low: 1e-3, high: 2 }}
        onChange={(value) => value !== null && setByM(value)}
      />
      {same ? <p className="soft">The sheets stand at the wall already.</p> : null}
      <ActionButton
        isDisabled={isBusy || same}
        onPress={() =>
          onAdd({
            name: `Cathodes ${formatQuantity('length', byM, system).text} ${way}`,
            variant: { tank: moved },
            taken: 'tank',
          })
        }
      >
        Add to the comparison
      </ActionButton>
    </>
  );
}

const UPS: readonly {
  readonly id: string;
  readonly label: string;
  readonly up: readonly [number, number, number];
}[] = [
  { id: '+z', label: 'Z up', up: [0, 0, 1] },
  { id: '-z', label: 'Z down', up: [0, 0, -1] },
  { id: '+x', label: 'X up', up: [1, 0, 0] },
  { id: '-x', label: 'X down', up: [-1, 0, 0] },
  { id: '+y', label: 'Y up', up: [0, 1, 0] },
  { id: '-y', label: 'Y down', up: [0, -1, 0] },
];

function Attitudes({ part, isBusy, onAdd }: KindProps & { part: Part }) {
  const [chosen, setChosen] = useState('+x');
  const turned: Attitude = { ...part.attitude, turnRad: part.attitude.turnRad + Math.PI / 2 };
  const { label, up } = UPS.find(({ id }) => id === chosen)!;
  return (
    <>
      <ChooseFrom label="Of the model" options={UPS} chosen={chosen} onChoose={setChosen} />
      <ActionButton
        isDisabled={isBusy}
        onPress={() =>
          onAdd({ name: label, variant: { attitude: { up: [...up], turnRad: 0 } }, taken: 'attitude' })
        }
      >
        Add to the comparison
      </ActionButton>
      <ActionButton
        isDisabled={isBusy}
        onPress={() => onAdd({ name: 'A quarter turn', variant: { attitude: turned }, taken: 'attitude' })}
      >
        Add a quarter turn about the vertical
      </ActionButton>
    </>
  );
}

function Density({ isBusy, onAdd }: KindProps) {
  const system = useApp((state) => state.unitSystem);
  const planned = useApp((state) => jobOf(state).process.currentDensityAPerM2);
  const [density, setDensity] = useState(planned / 2);
  return (
    <>
      <QuantityField
        label="Density to compare"
        kind="currentDensity"
        valueSi={density}
        units={['A/dm²', 'A/ft²']}
        limits={{ low: 10, high: 1000 }}
        onChange={(value) => value !== null && setDensity(value)}
      />
      <ActionButton
        isDisabled={isBusy}
        onPress={() =>
          onAdd({
            name: formatQuantity('currentDensity', density, system).text,
            variant: { currentDensityAPerM2: density },
            taken: 'density',
          })
        }
      >
        Add to the comparison
      </ActionButton>
    </>
  );
}

function InnerRod({ part, known, isBusy, onAdd }: KindProps & { part: Part; known: PartField }) {
  const system = useApp((state) => state.unitSystem);
  const [chosen, setChosen] = useState(0);
  const bores = known.bores.ok ? known.bores.value.bores : [];
  if (bores.length === 0 || !known.setting.ok)
    return <p className="soft">The part has no whole round hole.</p>;
  const { scene } = known.setting.value;
  const { bore } = bores[Math.min(chosen, bores.length - 1)]!;
  const rod = innerCathodeIn(bore, metresPerUnit(part.unit), scene.copies[scene.mapped]!.pose);
  return (
    <>
      <ChooseFrom
        label="In the hole"
        options={bores.map(({ bore: one }, i) => ({
          id: String(i),
          label: `${one.faceIds.join(' + ')}, ${formatQuantity('length', 2 * one.radiusM, system).text} across`,
        }))}
        chosen={String(Math.min(chosen, bores.length - 1))}
        onChoose={(id) => setChosen(Number(id))}
      />
      <p className="soft">
        A rod of {formatIn('length', rod.diameterM, system === 'metric' ? 'mm' : 'in', 2).text}, a quarter of
        the hole, on the supply’s minus. It must touch nothing: a touch shorts the supply. It is compared here
        only; the tank’s record has sheets at the walls.
      </p>
      <ActionButton
        isDisabled={isBusy}
        onPress={() =>
          onAdd({
            name: `Rod in ${bore.faceIds.join(' + ')}`,
            variant: { innerCathodes: [rod] },
            taken: null,
          })
        }
      >
        Add to the comparison
      </ActionButton>
    </>
  );
}

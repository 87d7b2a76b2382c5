import { useEffect, useRef, useState } from 'react';
import { faceId, FACE_KINDS } from '../../core/faces/face-table.ts';
import { completeFit } from '../../core/finish/complete-fit.ts';
import { parseFit, type FitSide } from '../../core/finish/parse-fit.ts';
import type { RoundFeature } from '../../core/finish/round-features.ts';
import { threadsForBore } from '../../core/finish/threads-for-bore.ts';
import { putFit } from '../../core/job/edit-wet.ts';
import type { FitItem, PartFitPlan } from '../../core/job/fit-plan.ts';
import type { Part } from '../../core/job/job.ts';
import { formatIn, sayQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { holdEntry } from '../state/open-entry.ts';
import { dropFit, fitFaces, markedThread, paintRows, rowsOfRound, runsOfRows } from '../state/mark-fit.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';
import { CoatingGrowth } from './coating-growth.tsx';
import { MessageList } from './message-list.tsx';
import { VERDICTS } from './fit-verdicts.ts';
import { PartChooser } from './part-chooser.tsx';
import { StageHead } from './stage-head.tsx';
import { TypedFit } from './typed-fit.tsx';
import './wet-stages.css';

/** Which sizes must survive the coating: what to mask, what to machine first, what to plug it with. */
export function FitsStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find(({ id }) => id === activeId);
  const plan = useDerived((derived) => (part ? derived.wet.fits[part.id] : undefined));
  return (
    <>
      <StageHead title="Fits and masks">
        The film stands out of the metal, so bores get smaller and threads tighter. Say what has to fit;
        Tankside says what to mask or machine.
      </StageHead>
      <PartChooser />
      <MessageList stage="fits" />
      {part && plan ? (
        <PartFits key={part.id} part={part} plan={plan} />
      ) : (
        <p className="soft">Open a part first.</p>
      )}
    </>
  );
}

const US_EXAMPLES = 'H7, .2575/.2565, 0.2570 +0.0005 -0.0000, 1/4-20-2B, M6x1-6H';
const METRIC_EXAMPLES = 'H7, 6.50/6.52, 6.5 +0.02 0, M6x1-6H, 1/4-20-2B';

function PartFits({ part, plan }: { part: Part; plan: PartFitPlan }) {
  const system = useApp((state) => state.unitSystem);
  const free = plan.rounds.filter((round) => !itemOf(plan, round));
  const alike = alikeRounds(free);
  return (
    <>
      {plan.items.length > 0 ? (
        <section className="stack" aria-label="Fits of this part">
          <h3>Fits of this part</h3>
          {plan.items.map((item) => (
            <FitCard key={item.fit.id} part={part} item={item} />
          ))}
        </section>
      ) : (
        <p className="soft">
          No fit given yet. Choose a bore below, or select faces on the part, and type its fit as on the
          drawing: {system === 'us' ? US_EXAMPLES : METRIC_EXAMPLES}.
        </p>
      )}
      <SelectedFaces part={part} plan={plan} />
      <DisclosureSection
        title="Bores and bosses found"
        state={free.length === 0 ? 'none left without a fit' : `${free.length} without a fit`}
        open={plan.items.length === 0}
      >
        {free.length === 0 ? (
          <p className="soft">The part has no whole round bore or boss without a fit.</p>
        ) : (
          alike.map((rounds) => <RoundRow key={rounds[0]!.faceIds.join()} part={part} rounds={rounds} />)
        )}
      </DisclosureSection>
      <DisclosureSection title="Type a size" state="one that is no face of the model">
        <TypedFit part={part} />
      </DisclosureSection>
      <DisclosureSection
        title="Plugs, caps and tape"
        state={
          plan.masks.length === 0
            ? 'nothing masked'
            : `${plan.masks.length} ${plan.masks.length === 1 ? 'size' : 'sizes'} to lay out`
        }
        open={plan.masks.length > 0}
      >
        <MaskTable plan={plan} />
      </DisclosureSection>
      <DisclosureSection title="Film and build-up" state="how far a surface moves out">
        <CoatingGrowth />
      </DisclosureSection>
    </>
  );
}

/** Meshes give one diameter back to less than this; the finest fit typed for it spans twice as much. */
const ONE_SIZE_M = 2e-6;

/** Bores of one size and kind together: the drawing says "4×" and means all of them. */
function alikeRounds(rounds: readonly RoundFeature[]): RoundFeature[][] {
  const groups: RoundFeature[][] = [];
  for (const round of rounds) {
    const key = ({ shape, lengthM, reach, slit }: RoundFeature): string =>
      [shape, lengthM.toPrecision(4), reach, slit].join();
    const group = groups.find(
      ([one]) => key(one!) === key(round) && Math.abs(one!.diameterM - round.diameterM) < ONE_SIZE_M,
    );
    if (group) group.push(round);
    else groups.push([round]);
  }
  return groups;
}

const sideOf = ({ shape }: RoundFeature): FitSide => (shape === 'hole' ? 'internal' : 'external');

function itemOf(plan: PartFitPlan, round: RoundFeature): FitItem | undefined {
  return plan.items.find(({ rows }) => rows.some((row) => round.faceIds.includes(faceId(row))));
}

function FitCard({ part, item }: { part: Part; item: FitItem }) {
  const { store } = useServices();
  const { fit, rows, verdict, window } = item;
  const { word, look } = VERDICTS[verdict];
  const system = useApp((state) => state.unitSystem);
  const unit = system === 'us' ? 'in' : 'mm';
  // A hundredth of a thousandth of an inch is a quarter of a micrometre; a film's share of a fit is told in tenths of one.
  const size = (metres: number): string =>
    unit === 'in' ? (metres / 0.0254).toFixed(5) : (metres * 1000).toFixed(4);
  const range = (w: { lowM: number; highM: number }): string =>
    `${w.highM > w.lowM ? `${size(w.lowM)} – ${size(w.highM)}` : size(w.lowM)} ${unit}`;
  const [round] = item.rounds;
  const side = round && sideOf(round);
  const completed = (text: string): string => completeFit(text, round?.diameterM ?? null, system);
  const put = (change: Partial<typeof fit>, key: string): void =>
    editJob(
      store,
      `Fit ${fit.label}`,
      (job) => putFit(job, part.id, { ...fit, ...change }),
      `fit-${fit.id}-${key}`,
    );
  return (
    <article
      className={`record-card ${look === 'look' ? 'look' : ''}`}
      aria-label={[fit.label, ...rows.map(faceId)].join(' ')}
    >
      <div className="row">
        <h4 className="grow">{fit.label}</h4>
        <span className={`verdict ${look}`}>{word}</span>
      </div>
      {rows.length > 0 ? <div className="soft">{rows.map(faceId).join(', ')}</div> : null}
      {fit.need.as === 'code' ? (
        <TextEntry
          label="Fit or thread"
          value={fit.need.text}
          check={(text) => parseFit(completed(text), side)}
          onChange={(typed) => {
            const text = completed(typed);
            const label = fit.need.as === 'code' && fit.label === fit.need.text ? text : fit.label;
            const need = { as: 'code' as const, text };
            if (rows.length > 0) fitFaces(store, part.id, new Set(rows), label, need, fit);
            else put({ need, label }, 'text');
          }}
        />
      ) : null}
      <p>{item.text}</p>
      {window ? (
        <table className="plain tight">
          <tbody>
            <tr>
              <th scope="row">By the drawing</th>
              <td>{range(window.before)}</td>
            </tr>
            <tr>
              <th scope="row">After coating</th>
              <td>{item.masked ? 'masked: as it was' : range(window.after)}</td>
            </tr>
            {window.machineTo && !item.masked && verdict !== 'coat as it is' && verdict !== 'holds' ? (
              <tr>
                <th scope="row">Machine to</th>
                <td className="strong">{range(window.machineTo)}</td>
              </tr>
            ) : null}
          </tbody>
        </table>
      ) : null}
      {item.change && !item.masked ? <FigureView figure={item.change} size="small" /> : null}
      {verdict === 'machine first' || verdict === 'machined' ? (
        <CheckBox isOn={fit.machined} onChange={(machined) => put({ machined }, 'machined')}>
          I machine it to that size first
        </CheckBox>
      ) : null}
      <div className="choices">
        {rows.length > 0 ? (
          item.masked ? (
            <ActionButton look="small" onPress={() => paintRows(store, rows, 'coat')}>
              Coat it instead
            </ActionButton>
          ) : (
            <ActionButton
              look={look === 'look' ? 'main' : 'small'}
              onPress={() => paintRows(store, rows, 'mask')}
            >
              Mask it
            </ActionButton>
          )
        ) : null}
        {rows.length > 0 ? (
          <ActionButton look="small" onPress={() => store.setState({ selectedFaces: new Set(rows) })}>
            Show on the part
          </ActionButton>
        ) : null}
        <ActionButton
          look="small"
          aria-label={`Remove fit ${fit.label}`}
          onPress={() => dropFit(store, part.id, new Set(rows), fit)}
        >
          Remove
        </ActionButton>
      </div>
    </article>
  );
}

/** Without end zeros: "25 mm", "0.9843 in". */
function plainSize(metres: number, system: UnitSystem): string {
  return system === 'us'
    ? `${Number((metres / 0.0254).toFixed(4))} in`
    : `${Number((metres * 1000).toFixed(2))} mm`;
}

const REACH_WORDS = {
  through: ', through',
  blind: ', blind',
  shut: ', closed',
  unknown: ', through or blind not known (the surface has a gap)',
} as const;

function RoundRow({ part, rounds }: { part: Part; rounds: readonly RoundFeature[] }) {
  const { store } = useServices();
  const [text, setText] = useState('');
  const system = useApp((state) => state.unitSystem);
  const round = rounds[0]!;
  const many = rounds.length > 1;
  const words = round.shape === 'hole' ? (many ? 'bores' : 'Bore') : many ? 'bosses' : 'Boss';
  const name = `${many ? `${rounds.length} ` : ''}${words} ${plainSize(round.diameterM, system)}`;
  const rows = new Set(rounds.flatMap((one) => [...rowsOfRound(one)]));
  const threads = round.shape === 'hole' ? threadsForBore(round.diameterM, round.lengthM).slice(0, 3) : [];
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const marked = geometry ? markedThread(part, geometry, rows) : null;
  const full = completeFit(text, round.diameterM, system);
  const read = full === '' ? null : parseFit(full, sideOf(round));
  const give = (code: string): void => fitFaces(store, part.id, rows, code, { as: 'code', text: code });
  const entered = read?.ok ? full : null;
  const take = (): void => {
    if (entered !== null) give(entered);
  };
  const latest = useRef(take);
  useEffect(() => {
    latest.current = take;
  });
  useEffect(() => (entered === null ? undefined : holdEntry(() => latest.current())), [entered]);
  return (
    <article
      className="record-card"
      aria-label={name}
      onKeyDown={({ key, target }) => {
        if (key === 'Enter' && target instanceof HTMLInputElement) take();
      }}
      onBlur={({ currentTarget, relatedTarget }) => {
        // A button of this card says itself what becomes of it.
        if (!currentTarget.contains(relatedTarget)) take();
      }}
    >
      <div className="row">
        <h4 className="grow">{name}</h4>
        <span className="soft">
          {sayQuantity('length', round.lengthM, system)} long
          {round.reach ? REACH_WORDS[round.reach] : ''}
          {round.slit ? ', slit' : ''}
        </span>
      </div>
      <TextEntry
        label={`Fit or thread of ${rounds.flatMap(({ faceIds }) => faceIds).join(', ')}`}
        value={text}
        placeholder={round.shape === 'hole' ? 'H7' : 'g6'}
        complaint={read && !read.ok ? read.error : null}
        isDraft
        onChange={setText}
      />
      <div className="choices">
        <ActionButton isDisabled={!read?.ok} onPress={() => give(full)}>
          Give {many ? 'them' : 'it'} {read?.ok ? full : 'this fit'}
        </ActionButton>
        <ActionButton
          look="small"
          onPress={() => {
            fitFaces(store, part.id, rows, round.shape === 'hole' ? 'Bare bore' : 'Bare boss', {
              as: 'bare',
            });
            paintRows(store, [...rows], 'mask');
          }}
        >
          Keep {many ? 'them' : 'it'} bare and mask
        </ActionButton>
        <ActionButton look="small" onPress={() => store.setState({ selectedFaces: rows })}>
          Show
        </ActionButton>
      </div>
      {marked ? (
        <div className="choices">
          <span className="soft">Marked as threaded in Faces:</span>
          <ActionButton look="small" onPress={() => give(marked)}>
            Give {many ? 'them' : 'it'} {marked}
          </ActionButton>
        </div>
      ) : threads.length > 0 ? (
        <div className="choices" role="group" aria-label="Threads it may stand for">
          <span className="soft">May be tapped:</span>
          {threads.map(({ designation }) => (
            <ActionButton key={designation} look="small" onPress={() => give(designation)}>
              {designation}
            </ActionButton>
          ))}
        </div>
      ) : null}
    </article>
  );
}

/** Faces selected on the part that only have to stay bare: a seat, a ground, a weld. */
function SelectedFaces({ part, plan }: { part: Part; plan: PartFitPlan }) {
  const { store } = useServices();
  const selected = useApp((state) => state.selectedFaces);
  const faces = useApp((state) => state.meshes[part.id]?.geometry.faces);
  if (selected.size === 0 || !faces) return null;
  const rows = [...selected].sort((a, b) => a - b);
  if (plan.items.some((item) => item.rows.join() === rows.join())) return null;
  const names = rows.map(faceId);
  const flat = rows.every((row) => FACE_KINDS[faces.kind[row]!] === 'plane');
  const keep = (): void => {
    const fit = {
      id: crypto.randomUUID(),
      label: flat ? 'Bare flat' : 'Bare faces',
      need: { as: 'bare' as const },
      faces: runsOfRows(store, selected),
      count: 1,
      machined: false,
    };
    editJob(store, `Keep bare ${names.join(' ')}`, (job) => putFit(job, part.id, fit));
    paintRows(store, rows, 'mask');
  };
  return (
    <section className="stack" aria-label="Selected faces">
      <h3>Selected: {names.length > 6 ? `${names.length} faces` : names.join(', ')}</h3>
      <div className="choices">
        <ActionButton onPress={keep}>Keep bare and mask</ActionButton>
      </div>
    </section>
  );
}

function MaskTable({ plan }: { plan: PartFitPlan }) {
  const unit = useApp((state) => (state.unitSystem === 'us' ? 'in' : 'mm'));
  if (plan.masks.length === 0) {
    return <p className="soft">What you mask is listed here with the plugs, caps and tape it needs.</p>;
  }
  return (
    <table className="plain tight" aria-label="Plugs, caps and tape">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Size</th>
          <th scope="col">Pieces</th>
        </tr>
      </thead>
      <tbody>
        {plan.masks.map((line) => (
          <tr key={`${line.item}-${line.lowM}-${line.highM}`}>
            <th scope="row">
              {line.item}
              <div className="soft">{line.features.join('; ')}</div>
              <div className="soft">{line.note}</div>
            </th>
            <td>
              {line.highM > line.lowM
                ? `${formatIn('length', line.lowM, unit, 3).number}–${formatIn('length', line.highM, unit, 3).text}`
                : `${formatIn('length', line.lowM, unit, 3).text}${line.item === 'tape disc or strip' ? ' wide' : ''}`}
            </td>
            <td>{line.count}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

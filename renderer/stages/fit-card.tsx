import { faceId } from '../../core/faces/face-table.ts';
import { completeFit } from '../../core/finish/complete-fit.ts';
import { parseFit } from '../../core/finish/parse-fit.ts';
import { putFit } from '../../core/job/edit-wet.ts';
import type { FitItem } from '../../core/job/fit-plan.ts';
import type { FitVerdict } from '../../core/job/fit-verdict.ts';
import type { PartFit } from '../../core/job/job-fits.ts';
import type { Part } from '../../core/job/job.ts';
import { editJob } from '../state/app-store.ts';
import { dropFit, fitFaces, paintRows } from '../state/mark-fit.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';
import { VERDICTS } from './fit-verdicts.ts';
import { sideOf } from '../../core/finish/alike-rounds.ts';

/** One fit: what it is, how it comes out of the bath, and what to do. */
export function FitCard({ part, item }: { part: Part; item: FitItem }) {
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
      {item.text.split('\n').map((line) => (
        <p key={line}>{line}</p>
      ))}
      {window ? (
        <table className="plain tight">
          {item.sized ? <caption>{item.sized}</caption> : null}
          <tbody>
            <tr>
              <th scope="row">By the drawing</th>
              <td>{range(window.before)}</td>
            </tr>
            {item.machined ? (
              <tr>
                <th scope="row">You machine to</th>
                <td>{range(item.machined)}</td>
              </tr>
            ) : null}
            <tr>
              <th scope="row">After coating</th>
              <td>{item.ends ? range(item.ends) : 'masked: as it was'}</td>
            </tr>
            {window.within !== window.before && !item.masked ? (
              <tr>
                <th scope="row">Passes its gauge</th>
                <td>{range(window.within)}</td>
              </tr>
            ) : null}
            {window.machineTo && !item.masked && MACHINE_TO.has(verdict) ? (
              <tr>
                <th scope="row">Machine to</th>
                <td className="strong">{range(window.machineTo)}</td>
              </tr>
            ) : null}
          </tbody>
        </table>
      ) : null}
      {item.change && !item.masked ? <FigureView figure={item.change} size="small" /> : null}
      <MachinedFirst item={item} onSay={(machinedTo) => put({ machinedTo }, 'machined')} />
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

/** Verdicts that a size to machine to goes with. */
const MACHINE_TO: ReadonlySet<FitVerdict> = new Set(['machine first', 'mask', 'machined off', 'tick again']);

/** Whether it is machined first, and to what: the size is kept as it was when it was ticked. */
function MachinedFirst({
  item: { verdict, window, machined, masked, stripped },
  onSay,
}: {
  item: FitItem;
  onSay: (machinedTo: PartFit['machinedTo']) => void;
}) {
  if (!window) return null;
  const to = masked ? window.before : window.machineTo;
  if (verdict === 'tick again' || verdict === 'machined off') {
    return (
      <div className="choices">
        {to ? (
          <ActionButton look="main" onPress={() => onSay(masked ? null : to)}>
            {masked
              ? 'It is machined to its limits'
              : stripped
                ? 'It was machined to the size given'
                : 'It is machined to the size given now'}
          </ActionButton>
        ) : null}
        {masked ? null : (
          <ActionButton look="small" onPress={() => onSay(null)}>
            It is not machined first
          </ActionButton>
        )}
      </div>
    );
  }
  if (!machined && (verdict !== 'machine first' || !to)) return null;
  return (
    <CheckBox isOn={machined !== null} onChange={(isOn) => onSay(isOn ? to : null)}>
      {stripped ? 'It was machined to that size before its first coat' : 'I machine it to that size first'}
    </CheckBox>
  );
}

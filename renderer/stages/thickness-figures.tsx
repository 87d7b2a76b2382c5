import { faceId } from '../../core/faces/face-table.ts';
import { boreDoubt } from '../../core/job/bore-doubt.ts';
import type { FieldReading } from '../../core/job/field-reading.ts';
import type { Part } from '../../core/job/job.ts';
import { mapOfLoad } from '../../core/job/map-of-load.ts';
import { formatIn, formatNumber, formatQuantity } from '../../core/units/format-quantity.ts';
import { jobOf } from '../state/app-store.ts';
import { pickFace } from '../state/paint-faces.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

const MOST_ROWS = 200;

/** What the map says in numbers. */
export function ThicknessFigures({ part, reading }: { part: Part; reading: FieldReading }) {
  const system = useApp((state) => state.unitSystem);
  const known = useDerived((derived) => derived.field[part.id]);
  const { figures, map, gasM2 } = reading;
  const film = system === 'metric' ? 'µm' : 'mil';
  const share = (valueM2: number): string => `${formatNumber((100 * valueM2) / map.areaM2, 2)} %`;
  const result = known?.outcome?.field.result;
  const doubt = known?.bores.ok ? boreDoubt(known.bores.value.bores, reading.faces) : null;
  const inHole = doubt
    ? ` In the hole ${doubt.faceIds.join(' + ')} the film’s law counts most: what is not known of it may make its thinnest place, ${formatIn('length', doubt.leastM, film).text}, ${formatIn('length', doubt.lowM, film, 2).number} to ${formatIn('length', doubt.highM, film, 2).text}.`
    : '';
  return (
    <>
      <section className="stack" aria-label="Thickness">
        <OfWhatHangs partId={part.id} />
        <FigureView figure={figures.meanM} />
        <div className="figure-pair">
          <FigureView figure={figures.leastM} size="small" />
          <FigureView figure={figures.mostM} size="small" />
          <FigureView figure={figures.areaBelowM2} size="small" />
          <FigureView figure={figures.cellVoltageV} size="small" />
        </div>
        <p className="soft">
          The middle nine tenths of the surface get {formatIn('length', map.low5M, film).number} to{' '}
          {formatIn('length', map.high5M, film).text}. {share(figures.areaBelowM2.valueSi)} of it stays below{' '}
          {formatIn('length', reading.limitM, film).text}.
          {gasM2 > 0.001 * map.areaM2
            ? ` Gas keeps ${formatQuantity('area', gasM2, system).text} bare, hatched on the map.`
            : ''}
        </p>
        {result ? (
          <p className="soft">
            How sure: the ranges are the difference to a grid half as fine, about{' '}
            {formatNumber(100 * result.error.rmsShare, 2)} % of the mean over the surface, more at sharp
            edges. They do not hold what is not known of your bath and film.{inHole} The current that leaves
            the parts and the one that reaches the cathodes differ by{' '}
            {shareWords(figures.chargeImbalance.valueSi)}.
          </p>
        ) : null}
      </section>
      <DisclosureSection title="Face by face" state={`${reading.faces.length} coated faces`}>
        <FaceTable reading={reading} />
      </DisclosureSection>
      <DisclosureSection title="Where the current goes" state={currentsInShort(reading)}>
        <CurrentTable reading={reading} />
      </DisclosureSection>
    </>
  );
}

/** A map is of what hangs in the tank; where that is not all of the job, the rest comes out otherwise. */
function OfWhatHangs({ partId }: { partId: string }) {
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.plan);
  if (!plan?.ok) return null;
  const { missing } = mapOfLoad(job, partId, plan.value.loads);
  return missing ? <MessageCard level="note" {...missing} /> : null;
}

/** Of what should be alike: "less than a millionth", "0.02 %". */
const shareWords = (share: number): string =>
  Math.abs(share) < 1e-6 ? 'less than a millionth' : `${formatNumber(100 * Math.abs(share), 1)} %`;

function currentsInShort({ currents }: FieldReading): string {
  const anodes = currents.filter(({ role }) => role === 'anode');
  const first = anodes[0];
  return first ? `${(100 * first.share).toFixed(1)} % on ${first.name}` : '';
}

function FaceTable({ reading }: { reading: FieldReading }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const selected = useApp((state) => state.selectedFaces);
  const unit = system === 'metric' ? 'µm' : 'mil';
  const rows = [...reading.faces].sort((a, b) => a.leastM - b.leastM);
  const film = (valueM: number): string => formatIn('length', valueM, unit).number;
  return (
    <div className="wide-table">
      <table className="plain" aria-label="Thickness of each face, thinnest first">
        <thead>
          <tr>
            <th scope="col">Face</th>
            <th scope="col">Mean, {unit}</th>
            <th scope="col">Least</th>
            <th scope="col">Most</th>
            <th scope="col">Current</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, MOST_ROWS).map((row) => (
            <tr key={row.face} className={selected.has(row.face) ? 'selected' : ''}>
              <th scope="row">
                <ActionButton
                  look="small"
                  aria-pressed={selected.has(row.face)}
                  onPress={() => pickFace(store, row.face, selected.has(row.face) ? 'subtract' : 'add')}
                >
                  {faceId(row.face)}
                </ActionButton>
              </th>
              <td>{film(row.meanM)}</td>
              <td>{film(row.leastM)}</td>
              <td>{film(row.mostM)}</td>
              <td>{formatIn('current', row.currentA, 'A', 2).text}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > MOST_ROWS ? <p className="soft">and {rows.length - MOST_ROWS} thicker ones</p> : null}
    </div>
  );
}

function CurrentTable({ reading }: { reading: FieldReading }) {
  return (
    <table className="plain" aria-label="Where the current goes">
      <thead>
        <tr>
          <th scope="col">From or to</th>
          <th scope="col">Current</th>
          <th scope="col">Share</th>
        </tr>
      </thead>
      <tbody>
        {reading.currents.map(({ name, role, currentA, share }, i) => (
          <tr key={i}>
            <th scope="row">
              {name} <span className="soft">{role}</span>
            </th>
            <td>{formatIn('current', currentA, 'A').text}</td>
            <td>{(100 * share).toFixed(1)} %</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

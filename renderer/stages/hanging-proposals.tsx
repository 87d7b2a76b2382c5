import type { Part } from '../../core/job/job.ts';
import type { ContactAdvice } from '../../core/racking/judge-place.ts';
import { useHanging, useServices } from '../app/services.ts';
import { proposalLetter } from '../state/hanging-store.ts';
import { acceptProposals, pinThere } from '../state/place-pin.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

/** Where to clamp: places ranked with their reasons, and pairs that hang straight; one click sets the pin. */
export function ProposalSection({ part }: { part: Part }) {
  const known = useHanging((state) => state.parts[part.id]);
  const report = known?.contacts;
  if (known?.failure && !report) {
    return <MessageCard level="check" message={known.failure.message} remedy={known.failure.remedy} />;
  }
  if (!report) return <p className="soft">Places to clamp are being looked for…</p>;
  if (report.advice.length === 0) {
    const isMarked = part.coverage.mask.length + part.coverage.show.length > 0;
    return (
      <MessageCard
        level="check"
        message={
          isMarked
            ? 'No place to clamp was found that is neither masked nor to be seen.'
            : 'No place to clamp was found: no hole to hook, and no two faces near an edge that lie opposite each other.'
        }
        remedy={
          isMarked
            ? 'Take the mask or the show mark off a face that matters less, or place a pin yourself.'
            : 'Place a pin yourself where a clamp can grip, or weld or screw on a tab to hold it by.'
        }
      />
    );
  }
  const pairs = report.pairs.slice(0, 3);
  const together =
    pairs.length > 0 ? (
      <ul key="pairs" className="proposals" aria-label="Two hangers together">
        {pairs.map(({ first, second, score, reasons }) => {
          const names = `${proposalLetter(first)} and ${proposalLetter(second)}`;
          return (
            <li key={names}>
              <div className="row">
                <span className="proposal-score">{score.toFixed(0)}</span>
                <strong className="grow">{names} together</strong>
                <AcceptButton
                  part={part}
                  places={[report.advice[first]!, report.advice[second]!]}
                  names={names}
                />
              </div>
              <Reasons reasons={reasons} />
            </li>
          );
        })}
      </ul>
    ) : null;
  const singles = (
    <ol key="places" className="proposals" aria-label="Places to clamp">
      {report.advice.map((advice, index) => (
        <Proposal key={proposalLetter(index)} part={part} advice={advice} letter={proposalLetter(index)} />
      ))}
    </ol>
  );
  // The better number stands first.
  const singlesLead = (report.advice[0]?.score ?? 0) > (pairs[0]?.score ?? 0);
  return (
    <>
      <p className="soft">
        Marked with letters in the picture; never on a masked or show face. The number, of 100, says how well
        the part hangs by those two, or by that one alone: the best stands first. Two hold better as a rule:
        with one a loose contact ends the run.
      </p>
      {singlesLead ? [singles, together] : [together, singles]}
    </>
  );
}

function Proposal({ part, advice, letter }: { part: Part; advice: ContactAdvice; letter: string }) {
  return (
    <li>
      <div className="row">
        <span className="proposal-score">{advice.score.toFixed(0)}</span>
        <strong className="grow">
          {letter}: {advice.kind}
        </strong>
        <AcceptButton part={part} places={[advice]} names={`place ${letter}`} />
      </div>
      <Reasons reasons={advice.reasons} />
    </li>
  );
}

/** Sets the pins that are not there yet; where all are, says by which. */
function AcceptButton({
  part,
  places,
  names,
}: {
  part: Part;
  places: readonly ContactAdvice[];
  names: string;
}) {
  const { store } = useServices();
  const pins = places.map(({ at }) => pinThere(part, at));
  if (pins.every((pin) => pin !== undefined)) {
    const numbers = pins.map((pin) => part.contacts.indexOf(pin) + 1);
    return (
      <span className="confirmed">
        ✓ {numbers.length > 1 ? `pins ${numbers.join(' and ')}` : `pin ${numbers[0]}`}
      </span>
    );
  }
  return (
    <ActionButton look="small" onPress={() => acceptProposals(store, places)}>
      {places.length > 1 ? 'Accept both' : 'Accept'}
      <span className="visually-hidden"> {names}</span>
    </ActionButton>
  );
}

/** The first reasons in sight, the rest behind them. */
export function Reasons({ reasons }: { reasons: readonly string[] }) {
  return (
    <ul className="reasons">
      {reasons.map((reason) => (
        <li key={reason}>{reason}</li>
      ))}
    </ul>
  );
}

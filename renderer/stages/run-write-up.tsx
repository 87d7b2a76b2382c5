import type { RunOutcome, RunRecord } from '../../core/shop/run-record.ts';
import { useServices } from '../app/services.ts';
import { notify } from '../state/notices.ts';
import { storageFailure } from '../state/run-store.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { KeptText } from './kept-text.tsx';
import { MeasuredFilms } from './measured-films.tsx';
import { OUTCOME_WORDS } from './outcome-words.ts';
import { RunDip } from './run-dip.tsx';
import { RunPhotos } from './run-photos.tsx';

const JUDGED: readonly { readonly id: RunOutcome; readonly label: string }[] = (
  ['good', 'flawed', 'failed'] as const
).map((id) => ({ id, label: OUTCOME_WORDS[id] }));

/** What came of the run: outcome, measured film, colour, note, photos. Kept with every change. */
export function RunWriteUp({ record }: { readonly record: RunRecord }) {
  const { runs, store } = useServices();
  const keep = (edit: (now: RunRecord) => RunRecord): Promise<boolean> =>
    runs.store.change(record.id, edit).then(
      () => true,
      (fault: unknown) => {
        notify(store, storageFailure(fault));
        return false;
      },
    );
  return (
    <section className="stack write-up" aria-label="What came of it">
      <h3>What came of it</h3>
      <ChoiceRow
        label="Outcome"
        choices={JUDGED}
        chosen={record.outcome === 'unjudged' ? null : record.outcome}
        onChoose={(outcome) => void keep((now) => ({ ...now, outcome }))}
      />
      <MeasuredFilms record={record} onKeep={keep} />
      <div className="two">
        <KeptText
          label="Dye"
          place={`${record.id}-dye`}
          value={record.dye}
          onKeep={(dye) => keep((now) => ({ ...now, dye }))}
        />
        <KeptText
          label="Colour, in words"
          place={`${record.id}-colour`}
          value={record.colour}
          onKeep={(colour) => keep((now) => ({ ...now, colour }))}
        />
      </div>
      <KeptText
        label="Note"
        place={`${record.id}-note`}
        value={record.note}
        long
        onKeep={(note) => keep((now) => ({ ...now, note }))}
      />
      <RunPhotos
        record={record}
        onColour={(lab) => void keep((now) => ({ ...now, lab, labFrom: 'white paper' }))}
      />
      <RunDip record={record} />
    </section>
  );
}

import { useState } from 'react';
import { doubtDips } from '../../core/finish/doubt-dips.ts';
import type { Failure } from '../../core/result.ts';
import type { DipRecord } from '../../core/shop/dip-record.ts';
import { dipFromRun } from '../../core/shop/dip-from-run.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { useServices, useShelf } from '../app/services.ts';
import { notify } from '../state/notices.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { uncapital } from '../../core/units/first-letter.ts';

/** Puts the dye step of a finished run into the colour book, where it tells how long the next one takes. */
export function RunDip({ record }: { readonly record: RunRecord }) {
  const { runs, store, wetShop } = useServices();
  const dyes = useShelf(wetShop.dyes).records;
  const dips = useShelf(wetShop.dips).records;
  const [fault, setFault] = useState<Failure | null>(null);
  const dye = dyes.find(({ name }) => name.trim().toLowerCase() === record.dye.trim().toLowerCase());
  if (!dye) return null;
  const id = `run-${record.id}`;
  if (dips.some((dip) => dip.id === id)) {
    const mine = dips.filter(({ dyeId }) => dyeId === dye.id);
    const place = mine.findIndex((dip) => dip.id === id);
    const doubt = doubtDips(mine).find(({ places }) => places.includes(place));
    return (
      <>
        <p className="soft">This run is in the colour book.</p>
        {doubt ? (
          <MessageCard
            level="check"
            message={doubt.message}
            remedy={`At Dye and seal: ${uncapital(doubt.remedy)}`}
          />
        ) : null}
      </>
    );
  }
  const keep = async (): Promise<void> => {
    const job = await runs.store.job(record.id);
    const dip = job.ok ? dipFromRun(record, job.value.job) : job;
    setFault(dip.ok ? null : dip.error);
    if (!dip.ok) return;
    const kept: DipRecord = {
      ...dip.value,
      id,
      dyeId: dye.id,
      name: `${dye.name}, ${Math.round(dip.value.timeS / 6) / 10} min, ${record.name}`,
      photoId: null,
    };
    await wetShop.dips.put(kept, Date.now()).catch(() =>
      notify(store, {
        code: 'dip-not-kept',
        message: 'The dip could not be kept in the shop’s book.',
        remedy: 'Make room on the disk, or let this page keep data, and try again.',
      }),
    );
  };
  return (
    <>
      <ActionButton look="small" onPress={() => void keep()}>
        Put this dip into the colour book
      </ActionButton>
      {fault ? <MessageCard level="check" message={fault.message} remedy={fault.remedy} /> : null}
    </>
  );
}
